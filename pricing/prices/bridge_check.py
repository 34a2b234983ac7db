"""Holds the book's own prices out one at a time and says how near bridging came to them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pricing.answer import Answer
from pricing.book.connect import Book, reading, writing
from pricing.book.read import read_settings
from pricing.clock import now
from pricing.contents.series import find_series
from pricing.errors import BookUnreadable
from pricing.prices.bridge_error import ENOUGH, GapErrors, national_table
from pricing.prices.half_inside import gap_errors, inside
from pricing.prices.held_out import MOST_CASES, held_out, own_cases
from pricing.prices.rule import Rule

_KEPT = (
    "ends", "up_to_months", "cases", "bridge_pct", "hold_pct", "line_pct", "moved_pct",
    "spread_times",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class BridgeCheck(Answer):
    """What came of holding prices out."""

    series: str | None  # only bridges by this series; None: all
    days_held_out: int
    own: tuple[GapErrors, ...]
    national: tuple[GapErrors, ...]  # of the bundled US series
    enough: int  # cases from which on the book's own row is used for costings
    judged: int  # prices held out whose band came from other ingredients' prices
    inside: int  # of them, how many lay inside; half of them, if the bands are what they say
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
        held = held_out(con, rule, series) if own_cases(con, rule) else None
        found = [] if held is None else gap_errors(held)
        hits, judged = (0, 0) if held is None else inside(held)
        days = con.execute("SELECT count(DISTINCT (ingredient_id, on_date)) FROM held_out")
        days_out = int((days.fetchone() or (0,))[0])
        kept_now = con.execute(f"SELECT {', '.join(_KEPT)} FROM bridge_check_now").fetchall()
        same = set(kept_now) == set(_rows(found))
    remarks = []
    if days_out >= MOST_CASES:
        remarks.append(f"Of either sort only the latest {MOST_CASES:,} days were held out.")
    kept = series is None and bool(found)
    if kept and not same:
        try:
            _keep(book, found)
        except BookUnreadable as error:
            kept = False
            remarks.append(f"The outcome was not kept: {error}")
    return BridgeCheck(
        series=series,
        days_held_out=days_out,
        own=tuple(found),
        national=national_table(),
        enough=ENOUGH,
        judged=judged,
        inside=hits,
        kept=kept,
        remarks=tuple(remarks),
    )


def _rows(found: Sequence[GapErrors]) -> list[tuple[Any, ...]]:
    return [tuple(getattr(row, name) for name in _KEPT) for row in found]


def _keep(book: Book, found: Sequence[GapErrors]) -> None:
    with writing(book) as con:
        row = con.execute("SELECT coalesce(max(run), 0) + 1 FROM bridge_check").fetchone()
        con.executemany(
            f"INSERT INTO bridge_check (run, checked_at, {', '.join(_KEPT)}) "
            f"VALUES (?, ?, {', '.join('?' * len(_KEPT))})",
            [((row or (1,))[0], now(), *each) for each in _rows(found)],
        )
