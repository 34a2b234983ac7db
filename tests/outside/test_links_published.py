"""Re-referencing, linking and rates against what statistics offices have printed themselves."""

from __future__ import annotations

import itertools
import random
from datetime import date

import pytest

from pricing.series.link_arithmetic import link_factor, reference_factor


def quarters(year: int, *values: float) -> dict[date, float]:
    """Return quarterly values by their first months, from the third quarter of `year` on."""
    return {
        date(year + (6 + 3 * step) // 12, (6 + 3 * step) % 12 + 1, 1): value
        for step, value in enumerate(values)
    }


def test_abs_all_groups_onto_2011_12() -> None:
    """ABS 6401.0, September 2012, Appendix 1: All groups, 1989-90=100, the four quarters of 2011-12
    are 179.4 179.4 179.5 180.4; factor 0.5565; June 2012 becomes 100.4; 176.7 → 98.3, 178.3 → 99.2.
    """
    year = quarters(2011, 179.4, 179.4, 179.5, 180.4)
    factor = reference_factor(year, list(year))
    # the office rounds the year's mean to 179.7 before it divides; we keep 179.675
    assert round(100 / factor, 1) == 179.7
    assert round(100 / round(100 / factor, 1), 4) == 0.5565
    assert round(180.4 * factor, 1) == 100.4
    assert round(176.7 * factor, 1) == 98.3
    assert round(178.3 * factor, 1) == 99.2
    # the year's mean is printed as 179.7, so back again: 1.7970, and 100.4 is 180.4 once more
    assert 1 / factor == pytest.approx(1.7970, abs=5e-4)
    assert round(100.4 * 1.7970, 1) == 180.4


def test_abs_perth_clothing_onto_1989_90() -> None:
    """ABS 6461.0, Concepts, Sources and Methods 2011, §12.3: 1980-81=100, quarters of 1989-90
    181.5 186.4 185.8 188.6; factor 0.5388; March 1989, 177.0, becomes 95.4.
    """
    year = quarters(1989, 181.5, 186.4, 185.8, 188.6)
    factor = reference_factor(year, list(year))
    assert round(100 / factor, 1) == 185.6
    assert round(100 / round(100 / factor, 1), 4) == 0.5388
    assert round(177.0 * factor, 1) == 95.4


def test_a_percentage_is_of_the_index_and_not_its_points() -> None:
    """ONS, Consumer Prices Indices Technical Manual 2019, table 7: 129.9 to 136.0 is 4.7 %.
    BLS, Math calculations to better utilize CPI data: 239.261 to 240.236 is 0.975 points, 0.4 %.
    ABS 6401.0, September 1998: fresh vegetables 103.3 to 110.2, 6.7 %; all groups 121.0 to 121.3.
    """
    for before, after, printed in (
        (129.9, 136.0, 4.7),
        (239.261, 240.236, 0.4),
        (201.427, 205.916, 2.2),  # Alaska Department of Labor, by the BLS method
        (103.3, 110.2, 6.7),
        (121.0, 121.3, 0.2),
    ):
        assert round((after / before - 1) * 100, 1) == printed
        factor = reference_factor({date(2020, 1, 1): before}, [date(2020, 1, 1)])
        rate = (after * factor) / (before * factor) - 1
        assert round(rate * 100, 1) == printed  # whatever the reference period


def test_rates_recomputed_from_published_uk_indices_differ_by_a_tenth_at_most() -> None:
    """ONS, consumer price inflation bulletin, March 2012: CPI from March 2011 to March 2012, and
    the one-month rates as published, which come from unrounded indices.
    """
    index = (118.1, 119.3, 119.5, 119.4, 119.4, 120.1, 120.9, 121.0, 121.2, 121.7, 121.1, 121.8,
             122.2)  # fmt: skip
    published = (1.0, 0.2, -0.1, 0.0, 0.6, 0.6, 0.1, 0.2, 0.4, -0.5, 0.6, 0.3)
    recomputed = [
        round((after / before - 1) * 100, 1) for before, after in itertools.pairwise(index)
    ]
    differing = [
        (ours, theirs) for ours, theirs in zip(recomputed, published, strict=True) if ours != theirs
    ]
    assert differing == [(0.7, 0.6)]  # September 2011: 120.9 ÷ 120.1 is 0.666 %


def test_linking_over_one_month_makes_the_two_agree_in_it() -> None:
    """CPI Manual (ILO, IMF, OECD, Eurostat, UNECE, World Bank 2004), "linking". By pencil: an old
    pack 2.00 → 2.10 in the overlap, a new one 1.90 → 2.00, so 105.00 and then 110.53.
    """
    before, overlap, after = date(2025, 1, 1), date(2025, 2, 1), date(2025, 3, 1)
    old = {before: 100.0, overlap: 105.0}
    new = {overlap: 1.90, after: 2.00}
    found = link_factor(old, new, [overlap])
    first = old[before] * found.factor  # the older series, brought onto the newer one
    assert new[overlap] / first == pytest.approx(1.05)
    assert 100 * new[after] / first == pytest.approx(110.53, abs=0.005)
    assert found.spread_pct == 0


def test_a_link_over_a_year_and_its_spread() -> None:
    """Pencil: the older is 200 in each month of 2025, the newer 100 but for December, 102. The
    means are 200 and 1202/12, so the factor is 1202/2400; ratios run from 0.5 to 0.51, 2 % apart.
    """
    year = [date(2025, month, 1) for month in range(1, 13)]
    old = dict.fromkeys(year, 200.0)
    new = dict.fromkeys(year, 100.0) | {year[-1]: 102.0}
    found = link_factor(old, new, year)
    assert found.factor == pytest.approx(1202 / 2400)
    assert found.spread_pct == pytest.approx(2.0)
    assert found.loud


def test_no_ratio_changes_on_a_new_reference_period() -> None:
    """The same from any base: growth is unchanged, says every office that re-references."""
    draw = random.Random(7)
    months = [date(2015 + step // 12, step % 12 + 1, 1) for step in range(60)]
    series = {month: draw.uniform(80, 160) for month in months}
    factor = reference_factor(series, months[24:36])
    anew = {month: value * factor for month, value in series.items()}
    assert sum(anew[month] for month in months[24:36]) / 12 == pytest.approx(100)
    for _ in range(100):
        a, b = draw.sample(months, 2)
        assert anew[a] / anew[b] == pytest.approx(series[a] / series[b], rel=1e-12)
