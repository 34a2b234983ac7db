"""The command that says what a portion may cost on a later day, and how such words held."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json, Market, NotSupplier
from dashboard.terminal.output import answer, read_date, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.outlook import (
    CHECK_COLUMNS,
    CHECK_MEANS,
    LEVELS,
    check_cells,
    check_heading,
    outlook_heading,
    outlook_sentences,
)
from pricing.errors import InputRefused

if TYPE_CHECKING:
    from pricing.ahead.back_test import BackTest
    from pricing.ahead.records import Outlook


def outlook(
    dish: Annotated[
        str | None, typer.Argument(help="The mean of all that count unless stated.")
    ] = None,
    months: Annotated[int | None, typer.Option("--months", help="So many months ahead.")] = None,
    on: Annotated[str, typer.Option("--on", help="Date still to come, YYYY-MM-DD.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    target: Annotated[
        float | None, typer.Option("--target", help="How likely a portion costs so much or less.")
    ] = None,
    market: Market = None,
    not_supplier: NotSupplier = None,
    check: Annotated[
        bool, typer.Option("--check", help="How such ranges held in the past, on official series.")
    ] = False,
    json: Json = False,
) -> None:
    """Ranges in which a portion may cost on a later day, from official history."""
    if check:
        others = (dish, months, version, target, market)
        if on or not_supplier or any(each is not None for each in others):
            raise InputRefused(
                "Found --check beside other words; expected it alone: it looks at the official "
                "series. Leave the others out."
            )
        tested = checked()
        answer(tested, lambda: check_text(tested), as_json=json)
        return
    import pricing

    found = pricing.outlook(
        the_book(), dish, months=months, on=read_date(on) if on else None, version=version,
        target=target, market=market, not_supplier=not_supplier or (),
    )  # fmt: skip
    answer(found, lambda: outlook_text(found), as_json=json)
    if not found.complete:
        stop(1)


def outlook_text(found: Outlook) -> str:
    """Return the day, then the ranges, then what they rest on."""
    told = [wrapped(sentence) for sentence in outlook_sentences(found)]
    return "\n".join([wrapped(outlook_heading(found)), "", *told])


def checked() -> BackTest:
    """Run the back-test on the bundled food items."""
    from ingest.official.bundled import bundled_values
    from ingest.official.food_items import food_items, indices, wider_series
    from pricing.ahead.back_test import back_test
    from pricing.ahead.history import history_of

    wider = wider_series()
    return back_test(
        history_of(*bundled_values()), [(each, *wider[each]) for each in food_items(indices())]
    )


def check_text(found: BackTest) -> str:
    """Return a table for each level."""
    parts = [wrapped(check_heading(found))]
    for level, words in LEVELS.items():
        rows = [check_cells(row) for row in found.horizons if row.level == level]
        parts += ["", words, text_table(CHECK_COLUMNS, rows, right=range(1, len(CHECK_COLUMNS)))]
    return "\n".join([*parts, "", wrapped(CHECK_MEANS)])
