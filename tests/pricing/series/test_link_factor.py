"""Two series are joined by the means of both over the months they share."""

from __future__ import annotations

from datetime import date

import pytest

from pricing.series.link_arithmetic import link_factor


def test_the_factor_is_the_ratio_of_the_means_not_the_mean_of_the_ratios() -> None:
    january, february = date(2025, 1, 1), date(2025, 2, 1)
    older, newer = {january: 100.0, february: 200.0}, {january: 50.0, february: 120.0}
    found = link_factor(older, newer, [january, february])
    # means 150 and 85: 0.566…; the months' own ratios are 0.5 and 0.6, a fifth apart
    assert found.factor == pytest.approx(85 / 150)
    assert found.spread_pct == pytest.approx(20)
