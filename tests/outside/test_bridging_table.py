"""Holds the table that says what bridging a gap by an official index is worth.

The four stated figures (3.6 %, 1.9 %, 1.3 %, 87 %) were measured when the price rule was chosen, by
other code than this project's. `tests.benchmarks.bridging` measures them again.
"""

from __future__ import annotations

import pytest

from tests.benchmarks import bridging

HELD = bridging.indices()


@pytest.fixture(scope="module")
def by_class() -> bridging.Comparison:
    return bridging.compare(HELD, bridging.class_of)


def test_109_food_items_are_compared(by_class: bridging.Comparison) -> None:
    assert by_class.items == 109


def test_median_errors_are_within_a_tenth_of_a_point_of_the_stated_ones(
    by_class: bridging.Comparison,
) -> None:
    assert by_class.hold == pytest.approx(0.036, abs=0.001)
    assert by_class.line == pytest.approx(0.019, abs=0.001)
    assert by_class.bridge == pytest.approx(0.013, abs=0.001)


def test_the_bridge_beats_the_straight_line_on_87_percent_of_items(
    by_class: bridging.Comparison,
) -> None:
    assert round(100 * by_class.bridge_beats_line / by_class.items) == 87


def test_the_next_series_up_bridges_better_than_the_class(by_class: bridging.Comparison) -> None:
    by_parent = bridging.compare(HELD, bridging.narrowest)
    assert by_parent.bridge < by_class.bridge
    assert by_parent.bridge_beats_line > by_class.bridge_beats_line


@pytest.mark.parametrize("later", range(0, bridging.EVERY, 3))
def test_the_order_holds_whichever_month_the_calendar_begins_in(later: int) -> None:
    of_start = bridging.compare(HELD, bridging.class_of, bridging.FIRST + later)
    assert of_start.bridge < of_start.line < of_start.hold
    assert of_start.bridge_beats_line > of_start.items / 2


def test_the_three_methods_by_pencil() -> None:
    # Observed 100 on 2006-01-15 and 121 on 2008-01-15, 730 days apart; the true price on
    # 2007-01-15, 365 days in, is 110. The bridge's index goes 50, 60, 72.
    #   hold   100, error 10/110
    #   line   (100 + 121) / 2 = 110.5, error 0.5/110
    #   step 6 100 x 60/50 = 120; x [(121/100) / (72/50)]^(1/2) = 120 x 1.1/1.2 = 110, error 0
    # The last month, 2008-02-15, has no second observation: line holds 121, bridge 121 x 73/72.
    then, mid, again, after = 2006 * 12, 2007 * 12, 2008 * 12, 2008 * 12 + 1
    true = {then: 100.0, mid: 110.0, again: 121.0, after: 121.0}
    index = {then: 50.0, mid: 60.0, again: 72.0, after: 73.0}

    middle, last = bridging.errors(true, index, then)

    assert middle == pytest.approx((10 / 110, 0.5 / 110, 0.0), abs=1e-12)
    assert last == pytest.approx((0.0, 0.0, 1 / 72), abs=1e-12)


def test_a_month_the_office_skipped_takes_the_month_before_and_no_older_than_three() -> None:
    assert bridging.in_month({10: 7.0}, 13) == 7.0
    with pytest.raises(StopIteration):
        bridging.in_month({10: 7.0}, 14)
