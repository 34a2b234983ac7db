"""The command that says how good bridges are."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, remark, stop, the_book

if TYPE_CHECKING:
    from pricing.prices.bridge_check import BridgeCheck
    from pricing.prices.bridge_error import GapErrors


from collections.abc import Sequence

from dashboard.terminal.text_table import text_table
from dashboard.words.figures import counted, percent

_HEADINGS = ("Gap", "Held out", "Moved by an official series", "Price held", "Straight line")
_ENDS = {
    "two": "Between two prices, by the time between them",
    "one": "From an earlier price alone, by the time since it",
}
_FRESH = "fresh"


def bridge_text(found: BridgeCheck) -> str:
    """Return the typical errors of the book's own prices, then those of the bundled series."""
    of = f" moved by {found.series}" if found.series else ""
    own = [
        f"Typical error of a price{of}: half of the prices held out were nearer than this.",
        f"{counted(found.days_held_out, 'observed day')} of this book held out, one at a time.",
        "",
    ]
    own += _tables(found.own) if found.own else ["No price of this book could be held out yet.", ""]
    own += [each for row in found.own if row.ends == _FRESH for each in (*_spread_words(row), "")]
    if found.judged:
        own += [
            f"Is it half of them? Of {counted(found.judged, 'price')} held out, "
            f"{percent(found.inside / found.judged)} fell inside the band that the prices of other",
            "ingredients gave.",
            "",
        ]
    if found.series is None:
        own.append(
            f"Costings use a row of this book from {found.enough} cases on, else the table below."
            + ("" if found.kept else " (Not kept.)")
        )
    national = [
        "",
        "The same on US food indices since 2006, each item moved by the next wider series. An",
        "item's index is steadier than the price of one product in one shop: expect more.",
        "",
        *_tables(found.national),
    ]
    return "\n".join([*own, *national]).rstrip()


def _spread_words(row: GapErrors) -> tuple[str, str]:
    return (
        f"Counted as seen, at more than one shop: {row.cases:,} held out, typically off by "
        f"{row.bridge_pct:.1f} %.",
        f"So {row.spread_times:.2f} of the standard error of the shops' mean counts in a band.",
    )


def _tables(rows: Sequence[GapErrors]) -> list[str]:
    lines: list[str] = []
    for ends, heading in _ENDS.items():
        some = [row for row in rows if row.ends == ends]
        if not some:
            continue
        cells = [
            [
                _gap(row.up_to_months),
                f"{row.cases:,}",
                *(f"{pct:.1f} %" for pct in (row.bridge_pct, row.hold_pct, row.line_pct)),
            ]
            for row in some
        ]
        headings = list(_HEADINGS)
        if ends == "one":  # a line needs two points
            cells, headings = [row[:-1] for row in cells], headings[:-1]
        lines += [heading, text_table(headings, cells, right=range(1, len(headings))), ""]
    return lines


def _gap(months: int | None) -> str:
    if months is None:
        return "longer"
    if months >= 24:
        return f"up to {months // 12} years"
    return "up to 1 year" if months == 12 else f"up to {months} months"


def index_check(
    series: Annotated[str | None, typer.Argument(help="All unless stated.")] = None,
    json: Json = False,
) -> None:
    """Hold prices out and say how near bridging came to them."""
    from pricing.prices.bridge_check import check_bridges

    found = check_bridges(the_book(), series)
    for sentence in found.remarks:
        remark(sentence)
    answer(found, lambda: bridge_text(found), as_json=json)
    if not found.own:
        stop(1)
