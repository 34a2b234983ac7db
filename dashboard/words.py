"""Sentences and figures as a reader sees them, on screen and in the terminal alike."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from pricing.costing import CostLine, SeenPrice
from pricing.money import show_money
from pricing.words import month_words

GRAMS_PER_POUND = 453.59237  # exact: 0.45359237 kg
ML_PER_US_QUART = 946.352946  # exact: a quarter of 231 cubic inches

CAUTION = (
    "A swap or a new product can change allergens, cooking times and safe temperatures: check the "
    "labels and test the dish. Published prices fall under local law; ask your local authority."
)


def counted(number: int, one: str, many: str | None = None) -> str:
    """Return "1 day", "2 days"."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def plain_number(value: float, most_decimals: int = 3) -> str:
    """Return a number without trailing zeros, e.g. 1.5, 12, 0.333."""
    text = f"{value:,.{most_decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def amount_words(quantity: float | None, base: str | None) -> str:
    """Return an as-purchased amount with its unit: 450 g, 1.25 kg, 330 ml, 2 each."""
    if quantity is None or base is None:
        return ""
    if base in ("g", "ml") and quantity >= 1000:
        return f"{plain_number(quantity / 1000, 2)} {'kg' if base == 'g' else 'l'}"
    decimals = 2 if base == "each" or quantity < 1 else (0 if quantity >= 100 else 1)
    return f"{plain_number(quantity, decimals)} {base}"


def shown_unit(base: str, measures: str) -> tuple[str, float]:
    """Return the unit a price is compared by and its size in `base`: ("per kg", 1000.0)."""
    us = measures == "us"
    return {
        "g": ("per lb", GRAMS_PER_POUND) if us else ("per kg", 1000.0),
        "ml": ("per quart", ML_PER_US_QUART) if us else ("per litre", 1000.0),
        "each": ("each", 1.0),
    }[base]


def unit_price_words(
    unit_price: float | None, base: str | None, currency: str, measures: str
) -> str:
    """Return a unit price as people compare it: per kg or litre, in a US book per lb or quart."""
    if unit_price is None or base is None:
        return "—"
    per, size = shown_unit(base, measures)
    return f"{show_money(unit_price * size, currency)} {per}"


def age_words(days: int) -> str:
    """Return how long ago: today, 12 days ago, 3 years 4 months ago."""
    if days == 0:
        return "today"
    if days < 60:
        return f"{counted(days, 'day')} ago"
    years, months = divmod(round(days / 30.4375), 12)
    parts = [counted(years, "year")] if years else []
    parts += [counted(months, "month")] if months else []
    return f"{' '.join(parts)} ago"


def suppliers_words(seen: Sequence[SeenPrice]) -> str:
    """Return where the prices were seen: "at A", "at A and B", "at 3 shops"; "" when not said."""
    names = list(dict.fromkeys(price.supplier for price in seen if price.supplier))
    if not names:
        return ""
    return f" at {' and '.join(names)}" if len(names) <= 2 else f" at {len(names)} shops"


def _month(text: str) -> str:
    return month_words(date.fromisoformat(f"{text}-01"))


def evidence_words(line: CostLine) -> str:
    """Return what a line's price rests on, in one sentence without a full stop."""
    if line.lines:
        return f"{line.basis} inside: {counted(len(list(line.ingredient_lines())), 'line')}"
    if line.basis == "missing":
        return f"no price: {line.reason}".rstrip(".")
    if line.basis == "bridged":
        return _bridge_words(line)
    seen = f"seen {age_words(line.age_days or 0)}{suppliers_words(line.observed)}"
    if line.reason:
        held = line.reason.split(": ", 1)[-1].rstrip(".")
        return f"{seen}; held as it was: {held}"
    return seen


def _bridge_words(line: CostLine) -> str:
    path = " and ".join(month_words(day) for day in line.anchors)
    title = line.series_title or line.series
    between = len(line.anchors) == 2
    words = f"moved {'between' if between else 'from'} {path} by {title}, ×{line.factor:.2f}"
    if line.held_at:
        words += f", held at its last month, {_month(line.held_at)}"
    if line.filled:
        gaps = " and ".join(_month(month) for month in line.filled)
        words += f"; {gaps} was not published, the month before stands in"
    return words
