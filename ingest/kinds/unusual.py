"""Refuses a price under a third or over three times what the book expects, with the comparison."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from ingest.kinds.checked import Checked, Options
from ingest.kinds.price_rows import PriceRow
from ingest.problem_codes import Code
from ingest.text.sentences import plural
from pricing.book.connect import Connection
from pricing.book.read import read_settings
from pricing.days import day_words
from pricing.errors import Problem
from pricing.measures.unit_price import unit_price_words
from pricing.money import exact_money
from pricing.prices.evidence import market_prices

MOST_TIMES = 3.0
TRADE_KINDS = ("invoice", "quote")
_SLACK = 1e-9  # a price of exactly three times, or a third, is taken

# (ingredient, date, currency, market) → per base unit
Expected = dict[tuple[int, date, str, str], float]


def refuse_unusual(
    con: Connection, prices: Sequence[PriceRow], options: Options, checked: Checked
) -> list[PriceRow]:
    """Return the prices to take; each of the others gets a problem.

    With accept_unusual all are taken, and a remark counts them.
    """
    expected = expected_prices(con, prices)
    measures = read_settings(con).measures
    usual: list[PriceRow] = []
    unusual: list[PriceRow] = []
    for price in prices:
        there = expected.get(asked(price))
        (usual if there is None or is_usual(price.unit_price, there) else unusual).append(price)
    if options.accept_unusual:
        if unusual:
            checked.remarks.append(
                f"{len(unusual)} {plural(len(unusual), 'price')} under a third or over "
                "three times what the book expects, taken as asked."
            )
        return list(prices)
    checked.problems += [_problem(price, expected[asked(price)], measures) for price in unusual]
    return usual


def expected_prices(con: Connection, prices: Sequence[PriceRow]) -> Expected:
    """Return what the book expects, where it has a price in the same market; before the load."""
    wanted: dict[tuple[str, str], set[tuple[int, date]]] = {}
    for price in prices:
        ingredient_id, day, currency, market = asked(price)
        wanted.setdefault((currency, market), set()).add((ingredient_id, day))
    return {
        (ingredient_id, day, currency, market): unit_price
        for (currency, market), pairs in wanted.items()
        for (ingredient_id, day), unit_price in market_prices(
            con, currency, market, list(pairs)
        ).items()
    }


def market_of(kind: str | None) -> str:
    """Return the market that a price of this kind belongs to: trade or shop."""
    return "trade" if kind in TRADE_KINDS else "shop"


def asked(price: PriceRow) -> tuple[int, date, str, str]:
    """Return what the price is compared by: ingredient, day, currency and market."""
    value = price.row.value
    pack, market = price.pack, market_of(value["kind"])
    return pack.ingredient.ingredient_id, value["date"], value["currency"], market


def is_usual(unit_price: float, expected: float) -> bool:
    """Tell whether a unit price is from a third to three times the expected one."""
    ratio = unit_price / expected
    return 1 / MOST_TIMES - _SLACK <= ratio <= MOST_TIMES + _SLACK


def _problem(price: PriceRow, expected: float, measures: str) -> Problem:
    value, base = price.row.value, price.pack.ingredient.base
    return price.row.problem(
        "price",
        f"{exact_money(value['price'], value['currency'])} for {value['pack']}{price.tax_words} = "
        f"{unit_price_words(price.unit_price, base, value['currency'], measures)}",
        f"from a third to three times what the book expects on {day_words(value['date'])}, "
        f"about {unit_price_words(expected, base, value['currency'], measures)}",
        "Correct the price or the pack, or take it as it is with --accept-unusual.",
        Code.UNUSUAL_PRICE,
    )
