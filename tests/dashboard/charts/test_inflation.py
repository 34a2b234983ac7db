"""The chart of the kitchen's own index: three lines that differ by dash, and are labelled."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pandas as pd

from dashboard.charts.inflation import inflation_chart
from dashboard.words.states import ALL, FOOD, MOSTLY_MOVED, MOSTLY_SEEN, OWN


def levels(**ends: float) -> pd.DataFrame:
    names = {"own": OWN, "food": FOOD, "everything": ALL}
    return pd.DataFrame(
        [
            {
                "which": names[each],
                "on": on,
                "level": level,
                "shown": f"{level:.1f}",
                "month": "",
                "run": 0,
                "state": MOSTLY_SEEN,
            }
            for each, end in ends.items()
            for on, level in (
                (pd.Timestamp("2020-01-15"), 100.0),
                (pd.Timestamp("2024-01-15"), end),
            )
        ]
    )


def drawn(**ends: float) -> dict[str, Any]:
    spec: dict[str, Any] = inflation_chart(levels(**ends), base="January 2020").to_dict()
    return spec


def of_kind(spec: dict[str, Any], mark: str) -> list[dict[str, Any]]:
    return [layer for layer in spec["layer"] if layer["mark"]["type"] == mark]


def labels(spec: dict[str, Any]) -> list[str]:
    texts = of_kind(spec, "text")
    return [spec["datasets"][each["data"]["name"]][0]["words"] for each in texts]


def test_every_line_has_a_dash_and_a_label_of_its_own() -> None:
    spec = drawn(own=120.0, food=121.0, everything=119.0)
    dashes = [tuple(line["mark"]["strokeDash"]) for line in of_kind(spec, "line")]
    assert len(set(dashes)) == 3
    assert labels(spec) == [
        "this kitchen\n120.0", "food prices\n121.0", "all items\n119.0",
    ]  # fmt: skip


def test_labels_of_lines_that_end_together_stand_apart() -> None:
    spec = drawn(own=120.0, food=120.0, everything=120.0)
    placed = sorted(
        spec["datasets"][each["data"]["name"]][0]["level"] for each in of_kind(spec, "text")
    )
    # the axis goes from 97 to 123 over 300 pixels: 32 pixels are 2.77 points
    assert min(b - a for a, b in pairwise(placed)) > 2.7


def test_without_official_series_the_own_index_stands_alone() -> None:
    assert labels(drawn(own=104.0)) == ["this kitchen\n104.0"]


def test_the_axis_holds_a_fall_below_a_hundred() -> None:
    (line, *_) = of_kind(drawn(own=80.0), "line")
    low, high = line["encoding"]["y"]["scale"]["domain"]
    assert low < 80.0
    assert high > 100.0


def test_the_own_line_is_dashed_where_most_prices_are_estimated() -> None:
    months = pd.date_range("2020-01-15", periods=4, freq=pd.DateOffset(months=1))
    states = [MOSTLY_SEEN, MOSTLY_SEEN, MOSTLY_MOVED, MOSTLY_MOVED]
    frame = pd.DataFrame(
        {"which": OWN, "on": months, "level": [100.0, 101.0, 102.0, 103.0], "shown": "",
         "month": months.strftime("%B %Y"), "run": 0, "state": states}
    )  # fmt: skip
    spec = inflation_chart(frame, base="January 2020").to_dict()
    dashes = {}
    for line in of_kind(spec, "line"):
        rows = spec["datasets"][line["data"]["name"]]
        dashes[tuple(line["mark"]["strokeDash"])] = [row["level"] for row in rows]
    # the piece from the last month seen to the first estimated is estimated
    assert dashes == {(1, 0): [100.0, 101.0], (5, 3): [101.0, 102.0, 103.0]}
