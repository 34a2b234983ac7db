"""How far a bridged price is typically off, by the book or else a national table."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache

from pricing.answer import Answer
from pricing.book.connect import Connection
from pricing.reference.table import read_table

EDGES = (3, 6, 12, 24, 48, 96)  # gap lengths in months at which a class ends
ENOUGH = 20  # cases of the book's own that outweigh the national table
NATIONAL = "bridge_errors.csv"  # made by ingest.make_bridge_errors
DAYS_A_MONTH = 30.4375

Key = tuple[str, int | None]  # "two" or "one" ends; class by its end in months, None = longer


@dataclass(frozen=True, kw_only=True)
class TypicalError(Answer):
    """Half of the prices held out were nearer to the bridge than this."""

    pct: float  # of the price
    source: str  # "book" or "national"
    cases: int


@dataclass(frozen=True, kw_only=True)
class GapErrors(Answer):
    """Typical errors over gaps of one length: median absolute error in % of the price held out."""

    ends: str  # "two": between two observations; "one": from the earlier alone
    up_to_months: int | None  # length of the gap; None: longer than all the others
    cases: int
    bridge_pct: float
    hold_pct: float  # the last price, held
    line_pct: float  # a straight line; from one observation the same as holding
    bridge_best: int | None = None  # cases in which the bridge was as near as the better of these


@dataclass(frozen=True, kw_only=True)
class CostBand(Answer):
    """What bridging leaves open in a cost per portion. Money in the costing's currency."""

    typical_error: float  # half of such costs are nearer than this to the cost from seen prices
    typical_error_pct: float  # of the cost
    low: float
    high: float
    share_bridged: float  # of the cost that rests on bridged prices, 0 to 1
    from_book: bool  # every line's error comes from the book's own prices


def gap_class(months: float) -> int | None:
    """Return the class of a gap: the first edge that is not under it, None beyond the last.

    >>> gap_class(5.9), gap_class(6.04), gap_class(6.2), gap_class(200)
    (6, 6, 12, None)
    """
    return next((edge for edge in EDGES if edge >= months - 0.05), None)


def national_table() -> tuple[GapErrors, ...]:
    """Return the table of the bundled US series, as made by ingest.make_bridge_errors."""
    return tuple(
        GapErrors(
            ends=row["ends"],
            up_to_months=int(row["up_to_months"]) if row["up_to_months"] else None,
            cases=int(row["cases"]),
            bridge_pct=float(row["bridge_pct"]),
            hold_pct=float(row["hold_pct"]),
            line_pct=float(row["line_pct"]),
        )
        for row in read_table(NATIONAL)
    )


@cache
def national_errors() -> Mapping[Key, TypicalError]:
    """Return the national table. Source: the comments of `reference/bridge_errors.csv`."""
    return {
        (row.ends, row.up_to_months): TypicalError(
            pct=row.bridge_pct, source="national", cases=row.cases
        )
        for row in national_table()
    }


def typical_errors(con: Connection) -> dict[Key, TypicalError]:
    """Return the table to use: the book's last check where it had enough cases, else national."""
    own = con.execute(
        "SELECT ends, up_to_months, bridge_pct, cases FROM bridge_check_now WHERE cases >= $n",
        {"n": ENOUGH},
    ).fetchall()
    return {
        **national_errors(),
        **{
            (ends, up_to): TypicalError(pct=pct, source="book", cases=cases)
            for ends, up_to, pct, cases in own
        },
    }


def typical_error(
    table: Mapping[Key, TypicalError], anchors: tuple[date, ...], on: date
) -> TypicalError | None:
    """Return the typical error of a price bridged from `anchors` (one day or two) to `on`."""
    if not anchors:
        return None
    ends = "two" if len(anchors) == 2 else "one"
    gap = anchors[1] - anchors[0] if ends == "two" else abs(on - anchors[0])
    return table.get((ends, gap_class(gap.days / DAYS_A_MONTH)))


def cost_band(cost: float, bridged: Iterable[tuple[str, float, float, bool]]) -> CostBand | None:
    """Return the band around a cost of which some is bridged; None when nothing is.

    `bridged`: ingredient, what it costs, typical error in %, whether the book itself says so.
    Lines of one ingredient share one price, so their errors add up; those of different ingredients
    are taken as unrelated, so their squares do.

    >>> cost_band(10.0, [("leek", 3.0, 10.0, False), ("barley", 4.0, 10.0, False)]).typical_error
    0.5
    """
    by_ingredient: dict[str, float] = {}
    total, own = 0.0, True
    for ingredient, part, pct, from_book in bridged:
        total += part
        own = own and from_book
        by_ingredient[ingredient] = by_ingredient.get(ingredient, 0.0) + part * pct / 100
    if not by_ingredient or cost <= 0:
        return None
    off = math.hypot(*by_ingredient.values())
    return CostBand(
        typical_error=off,
        typical_error_pct=100 * off / cost,
        low=max(0.0, cost - off),
        high=cost + off,
        share_bridged=total / cost,
        from_book=own,
    )
