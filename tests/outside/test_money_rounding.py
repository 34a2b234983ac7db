"""Rounding of money: half up, once, to the currency's minor unit."""

from __future__ import annotations

import pytest

from pricing.money import apportion, minor_units, round_money, show_money

# Rule: hundredths digit 5 or more up (Price Marking Order (Northern Ireland) 2004, art. 13, for
# unit prices to 0.1p); here in the minor unit. Vectors by hand from that rule.
HALF_UP = [("0.125", "0.13"), ("2.675", "2.68"), ("1.005", "1.01"), ("0.124999", "0.12")]


@pytest.mark.parametrize(("amount", "rounded"), HALF_UP)
def test_half_up(amount: str, rounded: str) -> None:
    assert str(round_money(float(amount), "USD")) == rounded


def test_minor_units_of_iso_4217() -> None:
    # ISO 4217 list one: JPY has no minor unit, KWD has three decimals (from memory, well known)
    assert minor_units()["JPY"] == 0
    assert minor_units()["KWD"] == 3
    assert str(round_money(1234.5, "JPY")) == "1235"
    assert str(round_money(1.0005, "KWD")) == "1.001"


def test_apportioned_lines_add_up() -> None:
    # by hand: 0.105 + 0.105 + 0.105 = 0.315 → 0.32; floors 0.10 each, two cents left over
    assert [str(each) for each in apportion([0.105, 0.105, 0.105], "USD")] == [
        "0.11",
        "0.11",
        "0.10",
    ]


def test_amounts_carry_their_currency() -> None:
    assert show_money(1234.5, "USD") == "$1,234.50"
    assert show_money(-0.2, "GBP") == "−£0.20"
    assert show_money(3, "CHF") == "CHF 3.00"
