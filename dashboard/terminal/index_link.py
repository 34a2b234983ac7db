"""The command that joins two official series, or puts one on a new reference period."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, remark, the_book

if TYPE_CHECKING:
    from pricing.series.link import Linked

    pass


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


def linked_text(found: Linked) -> str:
    """Return what a link came to."""
    stored = (
        "The book had it already, exactly so."
        if found.load is None
        else f"Stored as load {found.load}; `undo {found.load}` takes it back."
    )
    months = found.first_month
    if found.last_month != found.first_month:
        months += f" to {found.last_month}"
    kind = "approximately " if found.approximate else ""
    how = (
        f"{found.older} re-referenced to {months}=100"
        if found.older == found.newer
        else f"{found.older} and {found.newer}, {kind}linked over {months}, "
        f"spread {found.spread_pct:.2f} %"
    )
    return f"{found.series}: {how}, factor {found.factor:.6g}.\n{stored}"
