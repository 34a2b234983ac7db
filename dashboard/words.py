"""Sentences and figures as a reader sees them, on screen and in the terminal alike."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from pricing.costing import CostLine, SeenPrice
from pricing.words import month_words

CAUTION = (
    "A swap or a new product can change allergens, cooking times and core temperatures: check the "
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


def seen_words(seen: Sequence[SeenPrice], on: date) -> str:
    """Return when and where the prices behind a figure were seen.

    "seen today at A and B", "seen 4 days ago at A and 10 days ago at B", "seen 4 to 10 days ago at
    3 shops".
    """
    places: dict[date, list[str]] = {}
    for price in sorted(seen, key=lambda each: each.date, reverse=True):
        names = places.setdefault(price.date, [])
        name = price.supplier or "a place not stated"
        if name not in names:
            names.append(name)
    shops = {name for names in places.values() for name in names}
    if len(shops) <= 2 and len(places) <= 2:
        parts = [
            f"{age_words((on - day).days)} at {' and '.join(names)}"
            for day, names in places.items()
        ]
        return f"seen {' and '.join(parts)}"
    newest, oldest = ((on - day).days for day in (max(places), min(places)))
    when = age_words(oldest) if newest == oldest else f"{newest} to {age_words(oldest)}"
    return f"seen {when} at {counted(len(shops), 'shop')}"


def _month(text: str) -> str:
    return month_words(date.fromisoformat(f"{text}-01"))


def evidence_words(line: CostLine) -> str:
    """Return what a line's price rests on, in one sentence without a full stop."""
    if line.lines:
        inside = {
            "observed": "all from prices seen",
            "bridged": "partly moved by an official index",
            "missing": "a price is missing",
        }[line.basis]
        return f"{counted(len(list(line.ingredient_lines())), 'line')} inside, {inside}"
    if line.basis == "missing":
        return f"no price: {line.reason}".rstrip(".")
    if line.basis == "bridged":
        return _bridge_words(line)
    on = max(price.date for price in line.observed) + timedelta(days=line.age_days or 0)
    seen = seen_words(line.observed, on)
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
