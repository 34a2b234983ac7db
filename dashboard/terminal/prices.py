"""The command that lists the prices of an ingredient, as they were seen."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.ingredients import ingredient_json
from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, read_day, the_book
from dashboard.terminal.text_table import text_table
from dashboard.words.evidence import evidence_words
from pricing.days import day_words
from pricing.measures.unit_price import unit_price_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.prices.history import PriceHistory


def prices(
    ingredient: str,
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    json: Json = False,
) -> None:
    """List the prices of an ingredient, the newest first, and its typical price on a date."""
    from pricing.contents.settings import book_settings
    from pricing.prices.history import price_history

    book = the_book()
    found = price_history(book, ingredient, on=read_day(on))
    measures = book_settings(book).measures
    answer(prices_json(found), lambda: prices_text(found, measures), as_json=json)


def prices_json(found: PriceHistory) -> dict[str, object]:
    """Return the ingredient, its price now, and what was seen."""
    told = found.as_json()
    return {
        **ingredient_json(found.facts),
        "on": told["on"],
        "currency": told["currency"],
        "unit_price": found.now.unit_price,
        "basis": found.now.basis,
        "reason": found.now.reason,
        "observations": [each.as_json() for each in found.observations],
    }


def prices_text(found: PriceHistory, measures: str) -> str:
    """Return the typical price with what it rests on, then every price seen."""
    facts, now = found.facts, found.now
    typical = unit_price_words(now.unit_price, facts.base, found.currency, measures)
    price = "" if now.unit_price is None else f"{typical}; "
    head = (
        f"{facts.ingredient} on {day_words(found.on)}: {price}{evidence_words(now, found.market)}"
    )
    if not found.observations:
        return f"{head}."
    rows = [
        [
            each.observed_on.isoformat(),
            show_money(float(each.price), each.currency),
            each.pack,
            unit_price_words(each.unit_price, facts.base, each.currency, measures),
            each.supplier or "",
            each.product or "",
            each.kind,
        ]
        for each in found.observations
    ]
    headings = ["Seen on", "Price", "Pack", "Unit price", "Supplier", "Product", "Kind"]
    return f"{head}\n\n{text_table(headings, rows, right=(1, 3))}"
