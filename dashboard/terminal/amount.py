"""The command that plans a dish to a budget: how much of an ingredient, how many portions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json, Market, NotSupplier
from dashboard.terminal.output import answer, read_day, the_book
from dashboard.terminal.text_table import wrapped
from dashboard.words.amount import amount_heading, amount_sentence, portion_sentence

if TYPE_CHECKING:
    from pricing.dishes.amount import AmountAtTarget


def amount(
    dish: str,
    ingredient: str,
    target: Annotated[str, typer.Option("--target", help="What a portion may cost.")],
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    market: Market = None,
    not_supplier: NotSupplier = None,
    json: Json = False,
) -> None:
    """How much of an ingredient may go in at a target, and which portion meets it."""
    from pricing.dishes.amount import amount_at_target
    from pricing.measures.read import read_number

    found = amount_at_target(
        the_book(), dish, ingredient, target=float(read_number(target)), on=read_day(on),
        version=version, market=market, not_supplier=not_supplier or (),
    )  # fmt: skip
    answer(found, lambda: amount_text(found), as_json=json)


def amount_text(found: AmountAtTarget) -> str:
    """Return the amount at the target, then the portions."""
    told = (amount_heading(found), amount_sentence(found), portion_sentence(found))
    return "\n".join(map(wrapped, told))
