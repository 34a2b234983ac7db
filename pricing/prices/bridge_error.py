"""How far a price is typically off: by its move, and by how far its sources lie apart."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from pricing.answer import Answer
from pricing.book.connect import Connection
from pricing.prices.evidence import GridPrice
from pricing.reference.table import read_table

EDGES = (3, 6, 12, 24, 48, 96)  # gap lengths in months at which a class ends
ENOUGH = 20  # cases of the book's own that outweigh the national table
NATIONAL = "bridge_errors.csv"  # made by ingest.make_bridge_errors
DAYS_A_MONTH = 30.4375
# Half of a normal distribution lies within so many standard deviations of its mean (any table).
NORMAL_HALF = 0.6744897501960817

Key = tuple[str, int | None]  # "fresh", "two" or "one"; class by its end in months, None = longer


@dataclass(frozen=True, kw_only=True)
class TypicalError(Answer):
    """Half of the prices held out were nearer than this."""

    pct: float  # of the price
    source: str  # "book" (its own prices held out) or "national"


@dataclass(frozen=True, kw_only=True)
class GapErrors(Answer):
    """Typical errors over gaps of one length: median absolute error in % of the price held out."""

    ends: str  # "fresh": as seen; "two": between two observations; "one": from the earlier alone
    up_to_months: int | None  # length of the gap; None: longer than all the others, or fresh
    cases: int
    bridge_pct: float
    hold_pct: float  # the last price, held
    line_pct: float  # a straight line; from one observation the same as holding
    moved_pct: float  # of the price: what the move alone leaves open, beside the sources' spread
    spread_times: float = NORMAL_HALF  # standard errors of their mean that are added to it
    bridge_best: int | None = None  # cases in which the bridge was as near as the better of these


@dataclass(frozen=True, kw_only=True)
class CostBand(Answer):
    """What its prices leave open in a cost per portion. Money in the costing's currency."""

    typical_error: float  # half of the prices held out were nearer than what this is made of
    typical_error_pct: float  # of the cost
    low: float
    high: float
    share_bridged: float  # of the cost that rests on bridged prices, 0 to 1
    share_spread: float  # of the cost whose prices came from several sources, 0 to 1
    from_book: bool  # every line's error comes from the book's own prices


@dataclass(frozen=True, kw_only=True)
class ErrorTable:
    """How far moves are typically off, and how much of the sources' spread counts."""

    moved: Mapping[Key, TypicalError]  # by the length of the gap
    spread: TypicalError  # standard errors of the mean of the sources, in percent of one


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
            moved_pct=float(row["bridge_pct"]),  # an index is one source
            bridge_pct=float(row["bridge_pct"]),
            hold_pct=float(row["hold_pct"]),
            line_pct=float(row["line_pct"]),
        )
        for row in read_table(NATIONAL)
    )


@cache
def national_errors() -> ErrorTable:
    """Return the national table. Source: the comments of `reference/bridge_errors.csv`."""
    return ErrorTable(
        moved={
            (row.ends, row.up_to_months): TypicalError(pct=row.moved_pct, source="national")
            for row in national_table()
        },
        spread=TypicalError(pct=100 * NORMAL_HALF, source="national"),
    )


def typical_errors(con: Connection) -> ErrorTable:
    """Return the table to use: the book's last check where it had enough cases, else national."""
    own = con.execute(
        "SELECT ends, up_to_months, moved_pct, spread_times FROM bridge_check_now "
        "WHERE cases >= $n",
        {"n": ENOUGH},
    ).fetchall()
    national = national_errors()
    moved = {
        (ends, up_to): TypicalError(pct=pct, source="book")
        for ends, up_to, pct, _ in own
        if ends != "fresh"
    }
    spread = [
        TypicalError(pct=100 * times, source="book") for ends, _, _, times in own if ends == "fresh"
    ]
    return ErrorTable(
        moved={**national.moved, **moved}, spread=spread[0] if spread else national.spread
    )


def typical_error(table: ErrorTable | None, price: GridPrice) -> TypicalError | None:
    """Return how far a price is typically off; None: one source alone asked it, as it was seen.

    What the move leaves open and how far the sources lie apart are taken as unrelated, so their
    squares add up. Without a table (basis `observed`) nothing is said.
    """
    parts = []
    if table is not None and price.anchors:
        ends = "two" if len(price.anchors) == 2 else "one"
        start, *later = price.anchors
        gap = later[0] - start if later else abs(price.on_date - start)
        if known := table.moved.get((ends, gap_class(gap.days / DAYS_A_MONTH))):
            parts.append(known)
    if table is not None and price.spread is not None:
        pct = table.spread.pct * price.spread
        parts.append(TypicalError(pct=pct, source=table.spread.source))
    if not parts:
        return None
    return TypicalError(
        pct=math.hypot(*(part.pct for part in parts)),
        source="book" if all(part.source == "book" for part in parts) else "national",
    )


@dataclass(frozen=True, kw_only=True)
class OpenPart:
    """What one price adds to the band of a cost."""

    ingredient: str
    cost: float  # what is paid at that price
    error: TypicalError
    bridged: bool
    spread: bool  # several sources asked it


def cost_band(cost: float, parts: Iterable[OpenPart]) -> CostBand | None:
    """Return the band around a cost some of whose prices are open; None when none is.

    Lines of one ingredient share one price, so their errors add up; those of different ingredients
    are taken as unrelated, so their squares do.

    >>> ten_pct = TypicalError(pct=10.0, source="national")
    >>> leek = OpenPart(ingredient="leek", cost=3.0, error=ten_pct, bridged=True, spread=False)
    >>> rye = OpenPart(ingredient="rye", cost=4.0, error=ten_pct, bridged=True, spread=False)
    >>> cost_band(10.0, [leek, rye]).typical_error
    0.5
    """
    parts = list(parts)
    if not parts or cost <= 0:
        return None
    by_ingredient: dict[str, float] = {}
    for part in parts:
        off = part.cost * part.error.pct / 100
        by_ingredient[part.ingredient] = by_ingredient.get(part.ingredient, 0.0) + off
    off = math.hypot(*by_ingredient.values())
    return CostBand(
        typical_error=off,
        typical_error_pct=100 * off / cost,
        low=max(0.0, cost - off),
        high=cost + off,
        share_bridged=sum(part.cost for part in parts if part.bridged) / cost,
        share_spread=sum(part.cost for part in parts if part.spread) / cost,
        from_book=all(part.error.source == "book" for part in parts),
    )
