"""The drift chart of one dish: what is drawn, with which dash, shape, label and axis."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest

from dashboard.charts.colours import BLUE, SKY, VERMILION, paper
from dashboard.charts.drift_of_dish import drift_chart
from dashboard.charts.spans import spans
from dashboard.words.states import AT_LEAST, MOSTLY_MOVED, MOSTLY_SEEN
from tests.dashboard.charts.drawn import layers, points, rows


def printed(*figures: tuple[str, float]) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "on": pd.to_datetime([on for on, _ in figures]),
            "cost": [cost for _, cost in figures],
            "label": [f"printed ${cost:.2f}" for _, cost in figures],
            "shown": [f"${cost:.2f}" for _, cost in figures],
            "day": [on for on, _ in figures],
            "version": ["1" for _ in figures],
            "place": ["Harbour Sheet" for _ in figures],
        }
    )


def moved(**ends: float) -> pd.DataFrame:
    names = {"food": "food prices", "everything": "all items"}
    return pd.DataFrame(
        [
            {"which": names[which], "on": on, "cost": cost, "shown": f"${cost:.2f}", "day": ""}
            for which, end in ends.items()
            for on, cost in ((pd.Timestamp("2020-01-15"), 1.0), (pd.Timestamp("2020-04-15"), end))
        ],
        columns=["which", "on", "cost", "shown", "day"],
    ).astype({"on": "datetime64[ns]"})


def changes(*versions: tuple[str, str]) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "on": pd.to_datetime([on for on, _ in versions]),
            "label": [f"version {label}" for _, label in versions],
        }
    )


def drawn(
    states: list[str],
    *,
    versions: list[str] | None = None,
    figures: tuple[tuple[str, float], ...] = (),
    ends: dict[str, float] | None = None,
    since: tuple[tuple[str, str], ...] = (),
    dark: bool = False,
) -> dict[str, Any]:
    chart = drift_chart(
        points(states, versions), printed(*figures), moved(**(ends or {})), changes(*since),
        currency="USD", dark=dark,
    )  # fmt: skip
    return chart.to_dict()


def the_line(spec: dict[str, Any]) -> dict[str, Any]:
    (line,) = (each for each in layers(spec, "line") if "strokeDash" in each["encoding"])
    return line


def test_seen_and_moved_differ_by_dash_and_by_shade() -> None:
    line = the_line(drawn([MOSTLY_SEEN, MOSTLY_SEEN, MOSTLY_MOVED]))
    dash, shade = line["encoding"]["strokeDash"]["scale"], line["encoding"]["color"]["scale"]
    assert dash["domain"] == shade["domain"] == [MOSTLY_SEEN, MOSTLY_MOVED]
    assert dash["range"][0] != dash["range"][1]
    assert shade["range"] == [BLUE, SKY]


def test_the_legend_names_only_what_is_drawn() -> None:
    scale = the_line(drawn([MOSTLY_MOVED, MOSTLY_MOVED]))["encoding"]["strokeDash"]["scale"]
    assert scale["domain"] == [MOSTLY_MOVED]


def test_every_month_can_be_pointed_at() -> None:
    spec = drawn([MOSTLY_SEEN, MOSTLY_MOVED, AT_LEAST])
    (touch,) = (each for each in layers(spec, "circle") if each["mark"]["opacity"] == 0)
    assert len(rows(spec, touch)) == 3
    assert [hint["field"] for hint in touch["encoding"]["tooltip"]] == [
        "day", "shown", "version", "evidence",
    ]  # fmt: skip


def test_the_axis_starts_at_zero_and_carries_currency_and_unit() -> None:
    axis = the_line(drawn([MOSTLY_SEEN, MOSTLY_SEEN]))["encoding"]["y"]
    assert axis["title"] == "Cost per portion, USD"
    assert axis["scale"]["domain"][0] == 0
    assert axis["axis"]["labelExpr"].startswith("'$' + format(")


def test_printed_figures_are_labelled_marks() -> None:
    spec = drawn([MOSTLY_SEEN] * 4, figures=(("2020-02-20", 1.05),))
    (mark,) = layers(spec, "point")
    assert (mark["mark"]["shape"], mark["mark"]["color"]) == ("diamond", VERMILION)
    assert [row["label"] for row in rows(spec, mark)] == ["printed $1.05"]
    rim, label = (
        each for each in layers(spec, "text") if each["encoding"]["text"]["field"] == "label"
    )
    assert rim["mark"]["stroke"] == paper(dark=False)
    assert label["mark"]["align"] == "center"


def test_a_label_at_the_edge_grows_inwards() -> None:
    spec = drawn([MOSTLY_SEEN] * 12, figures=(("2020-01-16", 1.0), ("2020-12-14", 2.0)))
    aligns = {
        each["mark"]["align"]
        for each in layers(spec, "text")
        if each["encoding"]["text"]["field"] == "label"
    }
    assert aligns == {"left", "right"}


def test_rebased_lines_are_thin_dashed_apart_and_labelled_at_their_end() -> None:
    spec = drawn([MOSTLY_SEEN] * 4, ends={"food": 1.20, "everything": 1.25})
    food, everything = (each for each in layers(spec, "line") if "color" in each["mark"])
    assert food["mark"]["strokeWidth"] < 2
    assert food["mark"]["strokeDash"] != everything["mark"]["strokeDash"]
    words = [rows(spec, each)[0]["words"] for each in layers(spec, "text")]
    assert words == [
        "cost of this dish\n$1.30, 15 Apr 2020",
        "printed figure by\nfood prices $1.20",
        "printed figure by\nall items $1.25",
    ]


def test_labels_that_would_cover_each_other_are_spread() -> None:
    spec = drawn([MOSTLY_SEEN] * 4, ends={"food": 1.30, "everything": 1.30})
    places = sorted(rows(spec, each)[0]["cost"] for each in layers(spec, "text"))
    assert len(places) == 3
    top = the_line(spec)["encoding"]["y"]["scale"]["domain"][1]
    least = 32 * top / 320  # pixels of two short lines of words, on an axis of 320
    assert places[1] - places[0] >= least - 1e-9
    assert places[2] - places[1] >= least - 1e-9


def test_a_version_change_is_a_line_with_its_name() -> None:
    spec = drawn([MOSTLY_SEEN] * 4, versions=["1", "1", "2", "2"], since=(("2020-03-01", "2"),))
    (rule,) = layers(spec, "rule")
    assert [row["label"] for row in rows(spec, rule)] == ["version 2"]


def test_a_figure_that_is_only_at_least_is_hollow_and_joined_to_nothing() -> None:
    # a missing price that comes in must not look like a rise: 1.00 and 1.10 are at least
    states = [AT_LEAST, AT_LEAST, MOSTLY_SEEN, MOSTLY_SEEN]
    cut = spans(points(states))
    assert [list(each["month"]) for _, each in cut.groupby("span")] == [["2020-03", "2020-04"]]
    spec = drawn(states)
    (hollow,) = layers(spec, "point")
    assert hollow["mark"]["filled"] is False
    assert [row["cost"] for row in rows(spec, hollow)] == pytest.approx([1.0, 1.1])
    assert hollow["encoding"]["shape"]["scale"]["domain"] == [AT_LEAST]
    assert "shape" not in the_line(spec)["encoding"]


def test_a_month_alone_between_gaps_is_still_a_point() -> None:
    spec = drawn([AT_LEAST, MOSTLY_MOVED, AT_LEAST])
    shown = [each for each in layers(spec, "circle") if each["mark"]["opacity"] == 1]
    assert [row["state"] for each in shown for row in rows(spec, each)] == [MOSTLY_MOVED]


def test_labels_of_versions_that_follow_soon_stand_a_line_lower() -> None:
    since = (("2020-01-15", "1"), ("2020-02-15", "2"), ("2022-01-15", "3"))
    spec = drawn([MOSTLY_SEEN] * 36, since=since)
    heights = {
        row["label"]: each["mark"]["dy"]
        for each in layers(spec, "text")
        for row in rows(spec, each)
        if each["encoding"]["text"]["field"] == "label"
    }
    assert heights["version 1"] == heights["version 3"] < heights["version 2"]
