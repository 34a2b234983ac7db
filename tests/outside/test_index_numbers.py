"""Index formulas against published tables."""

from __future__ import annotations

import numpy as np
import pytest

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
    assert np.cumprod([1, *links]) == pytest.approx(chained, abs=FOUR_DECIMALS)


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
    assert np.prod(links) == pytest.approx(chained, abs=6e-7)


def test_retail_prices_from_the_ratios_of_groups() -> None:
    # Open University, Prices, location and spread, exercise 10: ratios and weights of five groups,
    # January 2012 = 238.0. By hand Σ w·r ÷ Σ w = 1.00776, so 239.8 (the office, with more digits,
    # published 239.9).
    ratios, weights = [1.009, 1.005, 1.003, 1.040, 1.005], [161, 85, 412, 84, 258]
    index = 238.0 * formulas.lowe([1] * 5, ratios, weights)
    assert index == pytest.approx(239.847, abs=0.001)
