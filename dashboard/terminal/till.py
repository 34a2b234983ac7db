"""The command that shops for dishes: whole packs, at the till."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json, Market, NotSupplier
from dashboard.terminal.output import answer, read_day, remark, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.till import (
    HEADINGS,
    dish_words,
    not_counted_words,
    shop_rows,
    title_words,
    total_words,
)

if TYPE_CHECKING:
    from pricing.till.records import Till

# Anything after the last = that could be meant as a number, so that a wrong one gets a sentence.
_BATCHES = re.compile(r"(?P<dish>.*\S)\s*=\s*(?P<batches>[-−+.\d¼½¾⅓⅔⅛⅜⅝⅞].*)", re.S)


def till(
    dishes: Annotated[list[str], typer.Argument(help='DISH, or "DISH=2" for two batches of it.')],
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    supplier: Annotated[str | None, typer.Option("--supplier", help="Keep to one shop.")] = None,
    pantry: Annotated[
        bool, typer.Option("--pantry/--no-pantry", help="Buy for store-cupboard lines, too.")
    ] = True,
    version: Annotated[str | None, typer.Option("--version", help="Of the only dish.")] = None,
    offers: Annotated[bool, typer.Option("--offers", help="Let offers count.")] = False,
    market: Market = None,
    not_supplier: NotSupplier = None,
    json: Json = False,
) -> None:
    """What it costs to shop for dishes, in whole packs, and what is left over."""
    from dashboard.words.till import SHELF
    from pricing.till.shop import shop_for

    found = shop_for(
        the_book(), [_asked(text) for text in dishes], on=read_day(on),
        supplier=supplier, pantry=pantry, version=version, offers=offers, market=market,
        not_supplier=not_supplier or (),
    )  # fmt: skip
    answer(found, lambda: till_text(found), as_json=json)
    remark(SHELF)
    if not found.complete:
        stop(1)


def _asked(text: str) -> tuple[str, float]:
    from pricing.measures.read import read_number

    found = _BATCHES.fullmatch(text)
    return (found["dish"], float(read_number(found["batches"]))) if found else (text, 1.0)


def till_text(found: Till) -> str:
    """Return a shop: the figures first, then what to buy, then what to know about it."""
    rows = [row.cells() for row in shop_rows(found)]
    return "\n".join(
        [
            title_words(found),
            "",
            *total_words(found),
            "",
            *([text_table(HEADINGS, rows, right=(1, 3, 4, 5)), ""] if rows else []),
            *(f"  {dish_words(dish, found.currency)}" for dish in found.dishes),
            *(["", wrapped(words)] if (words := not_counted_words(found)) else []),
            *_gaps(found),
        ]
    )


def _gaps(found: Till) -> list[str]:
    if found.complete:
        return []
    why = {item.ingredient: item.reason for item in found.ingredients}
    return [
        "",
        "At least, because these have no pack:",
        *(f"  {name}: {why[name]}" for name in found.without_pack),
    ]
