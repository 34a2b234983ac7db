"""Amounts of money: what rounds to nothing in each currency."""

from __future__ import annotations

import pytest

from pricing.money import least_shown, round_money


@pytest.mark.parametrize(
    ("currency", "least"),
    [("USD", 0.005), ("JPY", 0.5), ("KWD", 0.0005)],  # ISO 4217: 2, 0 and 3 decimals, halved
)
def test_half_of_the_smallest_unit_is_the_least_that_is_shown(currency: str, least: float) -> None:
    assert least_shown(currency) == least
    assert round_money(least, currency) != 0
    assert round_money(0.99 * least, currency) == 0
