"""How wide a band must be: cases by pencil, and chance of a known kind."""

from __future__ import annotations

import numpy as np
import pytest

from pricing.prices.half_inside import HeldOut, inside, widths

Figures = dict[str, list[float]]


def held_out(ends: str, off: list[float], spread: list[float], gap_months: float = 5) -> HeldOut:
    """Cases whose figure is 1 and whose truth is so far off; each of an ingredient of its own."""
    truth = 1 + np.array(off)
    return HeldOut(
        ends=np.array([ends] * len(off)),
        gap_months=np.full(len(off), gap_months),
        ingredient_id=np.arange(len(off)),
        truth=truth,
        bridge=np.ones(len(off)),
        hold=np.ones(len(off)),
        line=np.ones(len(off)),
        spread=np.array(spread),
    )


def test_the_move_takes_what_the_spread_leaves() -> None:
    """Pencil. Errors 0.05, 0.10 and 0.13 with a spread of 0.06, of which 0.67449 counts, as too few
    prices counted as seen: 0.0404694. The median of e² − s² is 0.01 − 0.00163777 = 0.00836223,
    so the move takes 0.0914452, and the band of the middle case is 0.10 wide: it is just inside.
    """
    found = held_out("one", [0.05, 0.10, 0.13], [0.06, 0.06, 0.06])
    made = widths(found)
    assert made.moved == {("one", 6): pytest.approx(0.0914452, abs=1e-7)}
    assert made.of(("one", 6), found.spread) == pytest.approx([0.10] * 3)


def test_a_spread_that_says_too_much_leaves_nothing_to_the_move() -> None:
    found = held_out("two", [0.01, 0.02, 0.03], [0.20, 0.20, 0.20])
    assert widths(found).moved == {("two", 6): 0.0}


def test_of_one_source_counted_as_seen_no_band_is_claimed() -> None:
    assert widths(held_out("fresh", [0.1] * 30, [0.0] * 30)).cases == {}


def test_half_of_normal_errors_lie_inside() -> None:
    """Half of a normal distribution lies within 0.67449 standard deviations: so much is found."""
    chance = np.random.default_rng(20261127)
    spread = chance.uniform(0.01, 0.08, 8000)
    seen = held_out(
        "fresh", (spread[:4000] * chance.normal(size=4000)).tolist(), spread[:4000].tolist()
    )
    made = widths(seen)
    assert made.spread_times == pytest.approx(0.67449, abs=0.03)
    hits, judged = inside(seen)
    assert judged == 4000
    assert hits / judged == pytest.approx(0.5, abs=0.05)


def test_too_few_cases_are_not_judged() -> None:
    assert inside(held_out("one", [0.01] * 30, [0.0] * 30)) == (0, 0)  # fifteen on either side
