"""The national table of bridging errors, measured again by other code than the price rule's."""

from __future__ import annotations

import statistics
from collections import defaultdict

import pytest

from ingest import make_bridge_errors as maker
from pricing.prices.bridge_error import EDGES, GapErrors, national_table
from tests.benchmarks import bridging

HELD = bridging.indices()
TABLE = {(row.ends, row.up_to_months): row for row in national_table()}
FRESH = 45  # days: nearer than this to the price before, nothing is bridged
Triple = tuple[float, float, float]  # errors of holding, of the line, of the bridge


def measured(between: bool) -> dict[int | None, list[Triple]]:
    """Return the errors by the class of their gap, by the formula of tests.benchmarks.bridging."""
    found: dict[int | None, list[Triple]] = defaultdict(list)
    for item in bridging.food_items(HELD):
        true, bridge = HELD[item], HELD[bridging.narrowest(item)]
        for at, d0, d1 in maker.cases(true):
            if (d1 is None) == between or bridging.day(at) - bridging.day(d0) <= FRESH:
                continue
            u0, price = true[d0], true[at]
            moved = u0 * bridging.in_month(bridge, at) / bridging.in_month(bridge, d0)
            line, step6 = u0, moved
            if d1 is not None:
                u1 = true[d1]
                days, whole = (
                    bridging.day(at) - bridging.day(d0),
                    bridging.day(d1) - bridging.day(d0),
                )
                line = u0 + (u1 - u0) * days / whole
                share = (days - FRESH) / (whole - FRESH)  # bent from the day it ceases to be fresh
                rise = bridging.in_month(bridge, d1) / bridging.in_month(bridge, d0)
                step6 = moved * (u1 / u0 / rise) ** share
            gap = (d1 or at) - d0
            edge = next((each for each in EDGES if gap <= each), None)
            found[edge].append((abs(u0 / price - 1), abs(line / price - 1), abs(step6 / price - 1)))
    return found


@pytest.mark.parametrize(("ends", "between"), [("two", True), ("one", False)])
def test_the_table_is_what_other_code_measures(ends: str, between: bool) -> None:
    found = measured(between)
    assert set(found) == {edge for kind, edge in TABLE if kind == ends}
    for edge, errors in found.items():
        row = TABLE[ends, edge]
        hold, line, bridge = (100 * statistics.median(some) for some in zip(*errors, strict=True))
        assert row.cases == len(errors)
        assert (row.hold_pct, row.line_pct, row.bridge_pct) == pytest.approx(
            (hold, line, bridge), abs=0.006
        )


def rows(ends: str) -> list[GapErrors]:
    return [row for row in national_table() if row.ends == ends]


@pytest.mark.parametrize("ends", ["two", "one"])
def test_a_bridge_is_nearer_than_a_held_price_at_every_length(ends: str) -> None:
    assert all(row.bridge_pct < row.line_pct <= row.hold_pct for row in rows(ends))


@pytest.mark.parametrize("ends", ["two", "one"])
def test_longer_gaps_have_larger_errors(ends: str) -> None:
    errors = [row.bridge_pct for row in rows(ends)]
    assert errors == sorted(errors)
    assert len(errors) == len(EDGES) + 1
