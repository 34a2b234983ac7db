"""The command that lays recipes side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json, Market, NotSupplier
from dashboard.terminal.output import answer, read_day, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.bench import (
    allergens_words,
    bench_rows,
    buys_words,
    column_name,
    missing_words,
    note_words,
    title_words,
    unstated_words,
)
from pricing.errors import InputRefused

if TYPE_CHECKING:
    from pricing.bench.records import SideBySide

Exchanges = Annotated[
    list[str] | None,
    typer.Option("--exchange", help='"A=B": the first with dish B in place of A inside it.'),
]
Additions = Annotated[
    list[str] | None,
    typer.Option("--add", help='"B", "B=1/2 portion" or "B=80 g": dish B with every portion.'),
]


def bench(
    dishes: Annotated[list[str], typer.Argument(help="DISH or DISH@VERSION, two to four.")],
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    exchange: Exchanges = None,
    add: Additions = None,
    market: Market = None,
    not_supplier: NotSupplier = None,
    json: Json = False,
) -> None:
    """Versions or dishes side by side: cost, minutes, energy, washing-up, marks, allergens."""
    from pricing.bench.side_by_side import side_by_side

    found = side_by_side(
        the_book(), dishes, on=read_day(on), exchange=[_exchanged(each) for each in exchange or ()],
        add=[_added(each) for each in add or ()], market=market, not_supplier=not_supplier or (),
    )  # fmt: skip
    answer(found, lambda: bench_text(found), as_json=json)
    if not found.complete:
        stop(1)


def _exchanged(text: str) -> tuple[str, str]:
    gone, equals, put = (each.strip() for each in text.partition("="))
    if not (gone and equals and put):
        raise InputRefused(
            f"Found the exchange '{text}'; expected \"A=B\", dish B in place of dish A. Correct it."
        )
    return gone, put


def _added(text: str) -> str | tuple[str, str]:
    dish, equals, amount = text.rpartition("=")
    return (dish.strip(), amount.strip()) if equals else text


def bench_text(found: SideBySide) -> str:
    """Return the figures as a table, then what the differences buy, then what to know."""
    letters = "ABCD"[: len(found.columns)]
    named = zip(letters, found.columns, strict=True)
    said = [title_words(found), *(f"  {letter}  {column_name(each)}" for letter, each in named)]
    said += ["", text_table(["", *letters], bench_rows(found), right=range(1, len(letters) + 1))]
    said += ["", *map(wrapped, buys_words(found))]
    for letter, column in zip(letters, found.columns, strict=True):
        told = [allergens_words(column), note_words(column)]
        said += ["", *(wrapped(f"{letter}: {each}") for each in told if each)]
    rest = [*missing_words(found), *unstated_words(found), found.caution]
    return "\n".join([*said, "", *map(wrapped, rest)])
