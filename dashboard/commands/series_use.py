"""Commands that put official series to use: suggest, link, and how good the bridge is."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.commands.app import index
from dashboard.commands.options import Json
from dashboard.terminal import answer, remark, stop, the_book

if TYPE_CHECKING:
    from ingest.offices.suggest import Suggested


@index.command("suggest")
def index_suggest(
    ingredient: Annotated[
        str | None, typer.Argument(help="All without a series unless stated.")
    ] = None,
    office: Annotated[str | None, typer.Option("--office", help="Only series of this one.")] = None,
    write: Annotated[
        Path | None, typer.Option("--write", help="Write a file to look through and load.")
    ] = None,
    json: Json = False,
) -> None:
    """Suggest official series for ingredients; nothing is changed until you load them."""
    from dashboard.series_words import suggested_text
    from ingest.offices.suggest import suggest

    found = suggest(the_book(), ingredient, office=office)
    if write is not None:
        _write(found, write)
        remark(
            f"Wrote {write}: look through it, then "
            f"`portiondrift load ingredients {write} --replace`."
        )
    answer(
        {"ingredients": [each.as_json() for each in found]},
        lambda: suggested_text(found),
        as_json=json,
    )


def _write(found: list[Suggested], path: Path) -> None:
    """Write the best suggestion of each ingredient, in the form of an ingredients file."""
    from pricing.errors import InputRefused

    try:
        with path.open("x", encoding="utf-8", newline="") as file:
            out = csv.writer(file, lineterminator="\n")
            out.writerow(["ingredient", "base", "series", "title of the series", "score"])
            for each in found:
                for best in each.suggestions[:1]:
                    out.writerow([each.ingredient, each.base, best.series, best.title, best.score])
    except OSError as error:
        raise InputRefused(
            f"Cannot write {path}: {error.strerror or error}. Name a new file in a folder of yours."
        ) from error


@index.command("link")
def index_link(
    older: str,
    newer: Annotated[
        str | None, typer.Argument(help="Left out: give OLDER a new reference period.")
    ] = None,
    over: Annotated[
        str, typer.Option("--over", help="2025-12, a year such as 2025, or 2025-01..2025-12.")
    ] = "",
    name: Annotated[str | None, typer.Option("--as", help="Id of the joined series.")] = None,
    approximate: Annotated[
        bool, typer.Option("--approximate", help="They do not cover the same goods.")
    ] = False,
    reason: Annotated[str | None, typer.Option("--reason", help="Why they may be joined.")] = None,
    json: Json = False,
) -> None:
    """Join two series over months both have; or put one on a new reference period."""
    from dashboard.series_words import linked_text
    from ingest.offices.facts.crosswalk import judge
    from pricing.contents.series import show_series
    from pricing.series.link import link_series, re_reference_series

    book = the_book()
    months = _months(over)
    if newer is None:
        found = re_reference_series(book, older, months=months, series=name)
    else:
        facts = [show_series(book, each).facts for each in (older, newer)]
        judged = judge(
            (older, facts[0].classification), (newer, facts[1].classification),
            approximate=approximate, reason=reason,
        )  # fmt: skip
        found = link_series(book, older, newer, months=months, series=name, judged=judged)
    for sentence in found.remarks:
        remark(sentence)
    answer(found, lambda: linked_text(found), as_json=json)


def _months(text: str) -> list[date]:
    """Return the months of an overlap. Raises DateRefused."""
    from pricing.days import month_range, read_month
    from pricing.errors import DateRefused

    first, dots, last = text.partition("..")
    if dots:
        return month_range(read_month(first), read_month(last))
    if len(text) == 4 and text.isdigit():
        return month_range(read_month(f"{text}-01"), read_month(f"{text}-12"))
    if not text:
        raise DateRefused(
            "Found no months to join over; expected --over with months that both series have, "
            "such as --over 2025-12 or, steadier, a whole year: --over 2025. Name them."
        )
    return [read_month(text)]


@index.command("check")
def index_check(
    series: Annotated[str | None, typer.Argument(help="All unless stated.")] = None,
    json: Json = False,
) -> None:
    """Hold prices out and say how near bridging came to them."""
    from dashboard.bridge_words import bridge_text
    from pricing.prices.bridge_check import check_bridges

    found = check_bridges(the_book(), series)
    for sentence in found.remarks:
        remark(sentence)
    answer(found, lambda: bridge_text(found), as_json=json)
    if not found.own:
        stop(1)
