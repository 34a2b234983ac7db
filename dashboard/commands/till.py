"""The command that shops for dishes: whole packs, at the till."""

from __future__ import annotations

import re
from typing import Annotated

import typer

from dashboard.commands.app import app
from dashboard.commands.options import Json
from dashboard.terminal import answer, read_date, remark, stop, the_book

# Anything after the last = that could be meant as a number, so that a wrong one gets a sentence.
_BATCHES = re.compile(r"(?P<dish>.*\S)\s*=\s*(?P<batches>[-−+.\d¼½¾⅓⅔⅛⅜⅝⅞].*)", re.S)


@app.command()
def till(
    dishes: Annotated[list[str], typer.Argument(help='DISH, or "DISH=2" for two batches of it.')],
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    supplier: Annotated[str | None, typer.Option("--supplier", help="Keep to one shop.")] = None,
    pantry: Annotated[
        bool, typer.Option("--pantry/--no-pantry", help="Buy for store-cupboard lines, too.")
    ] = True,
    version: Annotated[str | None, typer.Option("--version", help="Of the only dish.")] = None,
    offers: Annotated[bool, typer.Option("--offers", help="Let offers count.")] = False,
    json: Json = False,
) -> None:
    """What it costs to shop for dishes, in whole packs, and what is left over."""
    from dashboard.till_text import SHELF, till_text
    from pricing.clock import today
    from pricing.till.shop import shop_for

    found = shop_for(
        the_book(), [_asked(text) for text in dishes], on=read_date(on) if on else today(),
        supplier=supplier, pantry=pantry, version=version, offers=offers,
    )  # fmt: skip
    answer(found, lambda: till_text(found), as_json=json)
    remark(SHELF)
    if not found.complete:
        stop(1)


def _asked(text: str) -> tuple[str, float]:
    from pricing.measures.read import read_number

    found = _BATCHES.fullmatch(text)
    return (found["dish"], float(read_number(found["batches"]))) if found else (text, 1.0)
