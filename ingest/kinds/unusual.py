"""Refuses a price under a third or over three times what the book expects, with the comparison."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from ingest.kinds.checked import Checked, Options
from ingest.kinds.price_rows import PriceRow
from pricing.book.connect import Connection
from pricing.errors import Problem
from pricing.money import show_money

MOST_TIMES = 3.0
_SLACK = 1e-9  # a price of exactly three times, or a third, is taken
_SHOWN_PER = {"g": (1000, "kg"), "ml": (1000, "litre"), "each": (1, "each")}

Expected = dict[tuple[int, date, str], float]  # (ingredient, date, currency) → per base unit


def refuse_unusual(
    con: Connection, prices: Sequence[PriceRow], options: Options, checked: Checked
) -> list[PriceRow]:
    """Return the prices to take; each of the others gets a problem.

    With accept_unusual all are taken, and a remark counts them.
    """
    expected = expected_prices(con, prices)
    usual: list[PriceRow] = []
    unusual: list[PriceRow] = []
    for price in prices:
        there = expected.get(asked(price))
        (usual if there is None or is_usual(price.unit_price, there) else unusual).append(price)
    if options.accept_unusual:
        if unusual:
            checked.remarks.append(
                f"{len(unusual)} price{'s' if len(unusual) != 1 else ''} under a third or over "
                "three times what the book expects, taken as asked."
            )
        return list(prices)
    checked.problems += [_problem(price, expected[asked(price)]) for price in unusual]
    return usual


def expected_prices(con: Connection, prices: Sequence[PriceRow]) -> Expected:
    """Return what the book expects, where it has a price; before the load."""
    from pricing.price_grid import typical_prices

    wanted: dict[str, set[tuple[int, date]]] = {}
    for price in prices:
        ingredient_id, day, currency = asked(price)
        wanted.setdefault(currency, set()).add((ingredient_id, day))
    return {
        (ingredient_id, day, currency): unit_price
        for currency, pairs in wanted.items()
        for (ingredient_id, day), unit_price in typical_prices(con, currency, list(pairs)).items()
    }


def asked(price: PriceRow) -> tuple[int, date, str]:
    """Return what the price is compared by: ingredient, day and currency."""
    value = price.row.value
    return price.pack.ingredient.ingredient_id, value["date"], value["currency"]


def is_usual(unit_price: float, expected: float) -> bool:
    """Tell whether a unit price is from a third to three times the expected one."""
    ratio = unit_price / expected
    return 1 / MOST_TIMES - _SLACK <= ratio <= MOST_TIMES + _SLACK


def per_shown(unit_price: float, base: str, currency: str) -> str:
    """Return a unit price as people say it: "$4.10 per kg", "£0.25 each"."""
    times, name = _SHOWN_PER[base]
    amount = unit_price * times
    # under ten cents a rounded amount would hide the very difference that is to be shown
    shown = show_money(amount, currency) if amount >= 0.1 else f"{currency} {amount:.2g}"
    return f"{shown} {'' if name == 'each' else 'per '}{name}"


def day_in_words(day: date) -> str:
    """Return a date as people say it.

    >>> day_in_words(date(2024, 5, 12))
    '12 May 2024'
    """
    return f"{day.day} {day:%B %Y}"


def _problem(price: PriceRow, expected: float) -> Problem:
    value, base = price.row.value, price.pack.ingredient.base
    tax = f" with {value['tax_pct']:f} % tax" if value["tax_pct"] else ""
    return price.row.problem(
        "price",
        f"{value['price']:f} {value['currency']} for {value['pack']}{tax} = "
        f"{per_shown(price.unit_price, base, value['currency'])}",
        f"from a third to three times what the book expects on {day_in_words(value['date'])}, "
        f"about {per_shown(expected, base, value['currency'])}",
        "Correct the price or the pack, or take it as it is with --accept-unusual.",
    )
