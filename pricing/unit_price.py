"""A unit price as people compare it: per kg or litre, in a US book per lb or quart, or each."""

from __future__ import annotations

from pricing.money import show_money

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

    `unit_price` is currency per g, ml or each. Under ten cents two digits are kept, where rounding
    to the minor unit would hide the difference between two prices.
    """
    if unit_price is None or base is None:
        return "—"
    per, size = shown_unit(base, measures)
    amount = unit_price * size
    shown = show_money(amount, currency)
    if 0 < amount < 0.1:
        zero = show_money(0, currency)
        shown = zero.rstrip("0").rstrip(".").rstrip("0") + f"{amount:.2g}"
    return f"{shown} {per}"
