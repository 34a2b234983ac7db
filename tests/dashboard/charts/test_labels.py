"""Labels beside each other on an axis."""

from __future__ import annotations

import pytest

from dashboard.charts.labels import spread


def test_spread_keeps_places_that_are_far_apart_and_the_order_of_the_others() -> None:
    assert spread([1.0, 3.0], top=4.0, height=100, least=25) == [1.0, 3.0]
    low, high, far = spread([2.1, 2.2, 0.0], top=4.0, height=100, least=25)
    assert high - low == pytest.approx(1.0)
    assert far == pytest.approx(0.0)
    assert max(spread([4.0, 4.0], top=4.0, height=100, least=25)) <= 4.0
