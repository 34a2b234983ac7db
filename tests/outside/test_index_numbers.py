"""Index formulas and their contributions against published tables."""

from __future__ import annotations

import numpy as np
import pytest

from pricing import index_contributions as parts
from pricing.inflation import formulas
from tests.outside.six_items import PRICES, PUBLISHED, QUANTITIES

FOUR_DECIMALS = 5.1e-5  # half of the fourth, and room for a tie


def period(number: int) -> tuple[np.ndarray, np.ndarray]:
    return PRICES[:, number - 1], QUANTITIES[:, number - 1]


@pytest.mark.parametrize("name", sorted(PUBLISHED))
def test_six_items_fixed_base(name: str) -> None:
    formula = formulas.BY_TWO_BASKETS[name]
    found = [formula(*period(1), *period(t)) for t in range(1, 6)]
    assert found == pytest.approx(PUBLISHED[name], abs=FOUR_DECIMALS)


def test_every_formula_has_its_published_row() -> None:
    assert set(PUBLISHED) == set(formulas.BY_TWO_BASKETS)


# Worked out from the same tables by chaining the links by hand (a spreadsheet, not this program).
@pytest.mark.parametrize(
    ("name", "chained"),
    [
        ("laspeyres", [1, 1.4200, 1.3646, 1.3351, 1.3306]),
        ("paasche", [1, 1.3824, 1.2740, 1.2060, 1.1234]),
        ("fisher", [1, 1.4011, 1.3185, 1.2689, 1.2226]),
        ("walsh", [1, 1.4017, 1.3207, 1.2731, 1.2304]),
        ("tornqvist", [1, 1.4052, 1.3112, 1.2624, 1.2224]),
    ],
)
def test_six_items_chained(name: str, chained: list[float]) -> None:
    formula = formulas.BY_TWO_BASKETS[name]
    links = [formula(*period(t), *period(t + 1)) for t in range(1, 5)]
    assert formulas.chained(links) == pytest.approx(chained, abs=FOUR_DECIMALS)


# The same prices without weights; base prices are all 1, so Dutot is Carli.
@pytest.mark.parametrize(
    ("formula", "expected"),
    [
        (formulas.carli, [1, 1.4000, 1.0500, 0.9167, 0.9833]),
        (formulas.dutot, [1, 1.4000, 1.0500, 0.9167, 0.9833]),
        (formulas.jevons, [1, 1.2419, 0.9563, 0.7256, 0.6325]),
        (formulas.harmonic, [1, 1.1260, 0.8669, 0.5862, 0.3310]),
        (formulas.cswd, [1, 1.2555, 0.9540, 0.7331, 0.5705]),
    ],
)
def test_six_items_unweighted(formula: object, expected: list[float]) -> None:
    assert callable(formula)
    found = [formula(PRICES[:, 0], PRICES[:, t]) for t in range(5)]
    assert found == pytest.approx(expected, abs=FOUR_DECIMALS)


# Parts of the indices from period 1 to 2, eight decimals: output of the examples of gpindex 0.6.3,
# after Reinsdorf, Diewert and Ehemann, J. Econ. Soc. Meas. 28 (2002) 51–61, and Balk (2008) 4.2.2.
JEVONS = [0.03330510, 0.20397490, 0.04799594, -0.06452574, 0.06163523, -0.04046534]
REINSDORF = [0.01782904, 0.18814917, 0.05792820, -0.03414299, 0.18217457, -0.01088796]
VAN_IJZEREN = [0.01782865, 0.18815627, 0.05792735, -0.03414531, 0.18217135, -0.01088828]
DIEWERT = [0.01760668, 0.18766299, 0.05803833, -0.03510719, 0.18397180, -0.01112258]
# Laspeyres by hand: share then × (relative − 1), shares 1/10, 1/10, 2/10, 1/10, 4.5/10, 0.5/10
LASPEYRES = [0.02, 0.20, 0.06, -0.03, 0.18, -0.01]


def test_published_parts() -> None:
    (p0, q0), (p1, q1) = period(1), period(2)
    assert parts.of_jevons(p0, p1) == pytest.approx(JEVONS, abs=6e-9)
    assert parts.of_fisher_by_reinsdorf(p0, q0, p1, q1) == pytest.approx(REINSDORF, abs=6e-9)
    assert parts.of_fisher(p0, q0, p1, q1) == pytest.approx(VAN_IJZEREN, abs=6e-9)
    assert parts.of_fisher_by_diewert(p0, q0, p1, q1) == pytest.approx(DIEWERT, abs=6e-9)
    assert parts.fixed_basket(p0, p1, q0) == pytest.approx(LASPEYRES, abs=1e-12)
    # each published column's own sum: Fisher 0.4010500, Jevons 0.2419201
    assert sum(parts.of_fisher(p0, q0, p1, q1)) == pytest.approx(0.4010500, abs=6e-8)
    assert sum(parts.of_jevons(p0, p1)) == pytest.approx(0.2419201, abs=6e-8)


# A table in the style of CPI Manual (2004) table 9.1, from memory; its price means 5.00 5.33 5.67
# 6.00 5.00 5.40 5.50 agree with these prices. Month 5 returns to the prices of month 1, month 7 is
# month 1 plus a tenth.
ELEMENTARY = np.array(
    [
        [6, 6, 7, 6, 6, 6, 6.6],
        [7, 7, 6, 7, 7, 7.2, 7.7],
        [2, 3, 4, 5, 2, 3, 2.2],
    ]
)


@pytest.mark.parametrize(
    ("formula", "expected"),
    [
        (formulas.carli, [100, 116.67, 134.13, 150.00, 100, 117.62, 110.00]),
        (formulas.dutot, [100, 106.67, 113.33, 120.00, 100, 108.00, 110.00]),
        (formulas.jevons, [100, 114.47, 125.99, 135.72, 100, 115.55, 110.00]),
        (formulas.harmonic, [100, 112.50, 118.87, 125.00, 100, 113.68, 110.00]),
    ],
)
def test_elementary_table_direct(formula: object, expected: list[float]) -> None:
    assert callable(formula)
    found = [100 * formula(ELEMENTARY[:, 0], ELEMENTARY[:, t]) for t in range(7)]
    assert found == pytest.approx(expected, abs=5.1e-3)


def test_a_chained_carli_drifts_where_a_chained_jevons_does_not() -> None:
    def chain(formula: object) -> list[float]:
        assert callable(formula)
        links = [formula(ELEMENTARY[:, t], ELEMENTARY[:, t + 1]) for t in range(6)]
        return [100 * each for each in formulas.chained(links)]

    # worked out link by link on paper: prices are back in month 5, the chained Carli is at 113.98
    carli = [100, 116.67, 130.56, 142.47, 113.98, 134.06, 129.71]
    assert chain(formulas.carli) == pytest.approx(carli, abs=5.1e-3)
    jevons = chain(formulas.jevons)
    assert (jevons[4], jevons[6]) == (pytest.approx(100), pytest.approx(110))


# Four products over four months: worked out by hand, and equal to pyindexnum 0.4.0 to 1e-8.
PANEL_PRICES = np.array(
    [[1.0, 1.1, 1.25, 1.2], [2.0, 2.2, 2.1, 2.6], [0.2, 0.3, 0.25, 0.22], [0.9, 0.88, 0.95, 1.05]]
)
PANEL_QUANTITIES = np.array([[10, 9, 8, 9], [4, 3, 4, 2], [30, 20, 26, 31], [5, 6, 5, 4]])


@pytest.mark.parametrize(
    ("name", "fixed", "chained"),
    [
        ("laspeyres", [1, 1.164912, 1.163158, 1.201754], 1.237360),
        ("paasche", [1, 1.138525, 1.153696, 1.185088], 1.133633),
        ("fisher", [1, 1.151643, 1.158418, 1.193392], 1.184361),
        ("tornqvist", [1, 1.151379, 1.158451, 1.193278], 1.183319),
    ],
)
def test_four_product_panel(name: str, fixed: list[float], chained: float) -> None:
    formula = formulas.BY_TWO_BASKETS[name]
    months = [(PANEL_PRICES[:, t], PANEL_QUANTITIES[:, t]) for t in range(4)]
    found = [formula(*months[0], *month) for month in months]
    assert found == pytest.approx(fixed, abs=6e-7)
    links = [formula(*months[t], *months[t + 1]) for t in range(3)]
    assert formulas.chained(links)[-1] == pytest.approx(chained, abs=6e-7)


def test_four_product_panel_unweighted() -> None:
    found = [formulas.jevons(PANEL_PRICES[:, 0], PANEL_PRICES[:, t]) for t in range(4)]
    assert found == pytest.approx([1, 1.154195, 1.147156, 1.189504], abs=6e-7)


def test_points_contribution_of_a_statistics_office() -> None:
    # ABS, September quarter 1998: all groups 121.0; fresh vegetables 103.3 → 110.2, their points
    # contribution 1.50 → 1.60, change 0.10 points (of 0.3 in all)
    share = 1.50 / 121.0
    (vegetables, _) = parts.fixed_basket([1, 1], [110.2 / 103.3, 1], [share, 1 - share])
    assert 121.0 * vegetables == pytest.approx(0.10, abs=0.005)
    assert 1.50 + 121.0 * vegetables == pytest.approx(1.60, abs=0.005)


def test_retail_prices_from_the_ratios_of_groups() -> None:
    # Open University, Prices, location and spread, exercise 10: ratios and weights of five groups,
    # January 2012 = 238.0. By hand Σ w·r ÷ Σ w = 1.00776, so 239.8 (the office, with more digits,
    # published 239.9).
    ratios, weights = [1.009, 1.005, 1.003, 1.040, 1.005], [161, 85, 412, 84, 258]
    index = 238.0 * formulas.lowe([1] * 5, ratios, weights)
    assert index == pytest.approx(239.847, abs=0.001)
