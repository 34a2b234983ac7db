"""The command that plans a dish to a budget: how much of an ingredient, how many portions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, read_day, the_book
from dashboard.terminal.text_table import wrapped
from dashboard.words.figures import amount_words, counted, percent
from pricing.days import day_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.dishes.amount import AmountAtTarget


def amount(
    dish: str,
    ingredient: str,
    target: Annotated[str, typer.Option("--target", help="What a portion may cost.")],
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    json: Json = False,
) -> None:
    """How much of an ingredient may go in at a target, and which portion meets it."""
    from pricing.dishes.amount import amount_at_target
    from pricing.measures.read import read_number

    found = amount_at_target(
        the_book(), dish, ingredient, target=float(read_number(target)), on=read_day(on),
        version=version,
    )  # fmt: skip
    answer(found, lambda: amount_text(found), as_json=json)


def amount_text(found: AmountAtTarget) -> str:
    """Return the amount at the target, then the portions."""
    money, target = found.currency, show_money(found.target, found.currency)
    head = (
        f"{found.dish}, version {found.version}, at prices of {day_words(found.on)}: "
        f"{show_money(found.cost_per_portion, money)} a portion, "
        f"{'within' if found.reached else 'over'} the target of {target}."
    )
    batch = f"a batch of {counted(found.portions, 'portion')}"
    now = amount_words(found.amount_now, found.base)
    if found.amount is None:
        said = (
            f"Without any {found.ingredient} a portion costs "
            f"{show_money(found.rest_per_portion, money)}: no amount of it meets {target}."
        )
    else:
        said = (
            f"At {target} a portion, {batch} may take "
            f"{amount_words(found.amount, found.base)} of {found.ingredient} as purchased, and all "
            f"else as it is; it takes {now} now."
        )
    cut = (
        f"Or the batch as it is makes {counted(found.portions_at_target, 'portion')} of "
        f"{percent(found.portion_share)} of a portion now, at "
        f"{show_money(found.cost_per_portion * found.portion_share, money)} each."
    )
    return "\n".join(wrapped(each) for each in (head, said, cut))
