"""Where a drift line is cut."""

from __future__ import annotations

from dashboard.charts.spans import spans
from dashboard.words.states import MOSTLY_MOVED, MOSTLY_SEEN
from tests.dashboard.charts.drawn import points


def test_a_span_between_two_months_has_the_weaker_state() -> None:
    cut = spans(points([MOSTLY_SEEN, MOSTLY_SEEN, MOSTLY_MOVED, MOSTLY_SEEN]))
    pieces = [(list(each["month"]), each["state"].iloc[0]) for _, each in cut.groupby("span")]
    assert pieces == [
        (["2020-01", "2020-02"], MOSTLY_SEEN),
        (["2020-02", "2020-03", "2020-04"], MOSTLY_MOVED),
    ]


def test_the_line_breaks_where_the_version_changes() -> None:
    cut = spans(points([MOSTLY_SEEN] * 4, ["1", "1", "2", "2"]))
    assert [list(each["month"]) for _, each in cut.groupby("span")] == [
        ["2020-01", "2020-02"],
        ["2020-03", "2020-04"],
    ]
