"""Sentences and figures as a reader sees them, on screen and in the terminal alike."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from functools import cache

from pricing.days import month_words
from pricing.dishes.cost import DishCost
from pricing.measures.units import SYSTEMS, all_units
from pricing.money import show_money
from pricing.prices.price_line import CostLine, SeenPrice

_WORDS = (
    "cup",
    "pint",
    "quart",
    "gallon",
    "pair",
    "therm",
    "portion",
)  # units that are words, not signs

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


def quantity_words(quantity: float, unit: str, most_decimals: int = 3) -> str:
    """Return what a recipe line asks for, with its unit in the right number.

    A unit in letters takes an s; an own measure of the kitchen is counted, since its plural is not
    known.

    >>> quantity_words(2, "cup"), quantity_words(0.5, "us cup"), quantity_words(20, "oz")
    ('2 cups', '0.5 us cup', '20 oz')
    >>> quantity_words(2, "batch"), quantity_words(2, "fillet"), quantity_words(1.2, "kWh")
    ('2 batches', '2 × fillet', '1.2 kWh')
    """
    number = plain_number(quantity, most_decimals)
    if quantity == 1:
        return f"{number} {unit}"
    name = unit.casefold()  # kWh is kwh in the table of units
    many = _many().get(name.rpartition(" ")[2] if name.split(" ")[0] in SYSTEMS else name)
    if many is None:
        return f"{number} × {unit}"
    return f"{number} {unit}{many}" if quantity > 1 else f"{number} {unit}"


@cache
def _many() -> dict[str, str]:
    """Return what each unit, however it is spelled, takes when there are more than one."""
    spelled = {name: "" for unit in all_units() for name in (unit.name, *unit.aliases)}
    return spelled | dict.fromkeys(_WORDS, "s") | {"batch": "es"}


def figure(amount: float, complete: bool, currency: str) -> str:
    """Return an amount, or "at least" and the amount when a line of it has no price."""
    return f"{'' if complete else 'at least '}{show_money(amount, currency)}"


def work_words(cost: DishCost) -> str:
    """Return the minutes of work that a dish states, and what they cost where the book prices work.

    "" without minutes.
    """
    if cost.minutes is None:
        return ""
    each = plain_number(cost.minutes / cost.portions, 1)
    words = f"{plain_number(cost.minutes, 1)} minutes of work a batch, {each} a portion"
    if any(line.ingredient.startswith("dish:") for line in cost.lines):
        words += ", without that of the dishes it takes"
    if cost.work_per_portion is not None:
        money = show_money(cost.work_per_portion, cost.currency)
        words += f": {money} a portion at this kitchen's rate, which is not part of the cost"
    return f"{words}."


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
        words += f", held at its last month, {month_words(line.held_at)}"
    if line.filled:
        gaps = " and ".join(month_words(month) for month in line.filled)
        words += f"; {gaps} was not published, the month before stands in"
    return words
