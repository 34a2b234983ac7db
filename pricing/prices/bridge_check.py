"""Holds the book's own prices out one at a time and says how near bridging came to them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading, writing
from pricing.book.read import read_settings
from pricing.clock import now
from pricing.contents.series import find_series
from pricing.errors import BookUnreadable
from pricing.prices.bridge_error import EDGES, ENOUGH, GapErrors, national_table
from pricing.prices.held_out import MOST_CASES, errors, own_cases
from pricing.prices.rule import Rule

_KEPT = ("ends", "up_to_months", "cases", "bridge_pct", "hold_pct", "line_pct")


@dataclass(frozen=True, kw_only=True)
class BridgeCheck(Answer):
    """What came of holding prices out."""

    series: str | None  # only bridges by this series; None: all
    days_held_out: int
    own: tuple[GapErrors, ...]
    national: tuple[GapErrors, ...]  # of the bundled US series
    enough: int  # cases from which on the book's own row is used for costings
    kept: bool  # is this what costings use from now on
    remarks: tuple[str, ...] = ()

    def as_json(self) -> dict[str, object]:
        answer = super().as_json()
        del answer["remarks"]  # they go to stderr
        return answer


def check_bridges(book: Book, series: str | None = None) -> BridgeCheck:
    """Hold out each observed day that would have been bridged, and bridge it from the rest.

    Over the whole book the outcome is kept, and costings take their typical errors from it where
    it has enough cases. With `series` only bridges by that series count, and nothing is kept.
    Raises UnknownName, BookUnreadable.
    """
    with reading(book) as con:
        if series is not None:
            find_series(con, series)
        rule = Rule.of(read_settings(con))
        found = errors(con, rule, EDGES, series) if own_cases(con, rule) else []
        days = con.execute("SELECT count(DISTINCT (ingredient_id, on_date)) FROM held_out")
        held_out = int((days.fetchone() or (0,))[0])
        same = _kept(con) == [tuple(row[name] for name in _KEPT) for row in found]
    remarks = []
    if held_out >= MOST_CASES:
        remarks.append(f"Only the latest {MOST_CASES:,} days were held out.")
    kept = series is None and bool(found)
    if kept and not same:
        try:
            _keep(book, found)
        except BookUnreadable as error:
            kept = False
            remarks.append(f"The outcome was not kept: {error}")
    return BridgeCheck(
        series=series,
        days_held_out=held_out,
        own=tuple(GapErrors(**row) for row in found),
        national=national_table(),
        enough=ENOUGH,
        kept=kept,
        remarks=tuple(remarks),
    )


def _kept(con: Connection) -> list[tuple[Any, ...]]:
    return con.execute(
        f"SELECT {', '.join(_KEPT)} FROM bridge_check_now ORDER BY ends, up_to_months NULLS LAST"
    ).fetchall()


def _keep(book: Book, found: Sequence[dict[str, Any]]) -> None:
    with writing(book) as con:
        row = con.execute("SELECT coalesce(max(run), 0) + 1 FROM bridge_check").fetchone()
        for each in found:
            con.execute(
                "INSERT INTO bridge_check (run, checked_at, ends, up_to_months, cases, bridge_pct, "
                "hold_pct, line_pct) VALUES ($run, $at, $ends, $up_to_months, $cases, $bridge_pct, "
                "$hold_pct, $line_pct)",
                {"run": (row or (1,))[0], "at": now(), **{name: each[name] for name in _KEPT}},
            )
