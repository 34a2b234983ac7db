"""A unit price as people compare it: per kg or litre, in a US book per lb or quart, or each."""

from __future__ import annotations

from pricing.money import currency_sign, round_money, show_fine, show_money

TENTH = 0.001  # of the major unit: 0.1p
_TENTHS = ("GBP",)  # shown to a tenth of the minor unit under 1
GRAMS_PER_POUND = 453.59237  # exact: 0.45359237 kg
ML_PER_US_QUART = 946.352946  # exact: a quarter of 231 cubic inches

_SHOWN: dict[tuple[str, bool], tuple[str, float]] = {  # (base, in a US book) → name, base units
    ("g", False): ("per kg", 1000.0),
    ("ml", False): ("per litre", 1000.0),
    ("each", False): ("each", 1.0),
    ("g", True): ("per lb", GRAMS_PER_POUND),
    ("ml", True): ("per quart", ML_PER_US_QUART),
    ("each", True): ("each", 1.0),
}


def shown_unit(base: str, measures: str) -> tuple[str, float]:
    """Return the unit a price is compared by and its size in `base`, e.g. ("per kg", 1000.0)."""
    return _SHOWN[base, measures == "us"]


def unit_price_words(
    unit_price: float | None, base: str | None, currency: str, measures: str
) -> str:
    """Return e.g. "$4.10 per lb", "£0.25 each"; a dash when there is none.

    `unit_price` is currency per g, ml or each. Sterling follows the Price Marking Order: under £1
    to the nearest 0.1p, 0.05p up (UK SI 2004/102; read in its twin, Northern Ireland SR 2004/368,
    article 13), from £1 to the penny (from memory). Others are shown to the minor unit, one of the
    two ways of NIST Handbook 130 (from memory). Under ten cents, and 0.1p, two digits are kept,
    where rounding would hide the difference between two prices.

    >>> [unit_price_words(each, "g", "GBP", "uk") for each in (0.0012345, 0.00012345)]
    ['£1.23 per kg', '£0.123 per kg']
    """
    if unit_price is None or base is None:
        return "—"
    per, size = shown_unit(base, measures)
    amount = unit_price * size
    shown = show_money(amount, currency)
    if currency in _TENTHS and TENTH <= amount < 1:
        major = round_money(amount * 10, currency) / 10  # to a tenth of the minor unit, half up
        shown = show_money(1, currency) if major >= 1 else f"{currency_sign(currency)}{major:.3f}"
    elif 0 < amount < (TENTH if currency in _TENTHS else 0.1):
        shown = show_fine(amount, currency)
    return f"{shown} {per}"
