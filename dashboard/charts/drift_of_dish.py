"""The drift chart of one dish: its cost over the years beside what was printed."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, money_axis, time_axis, top_of
from dashboard.charts.colours import BLUE, GREEN, GREY, PURPLE, SKY, VERMILION, ink, letters, paper
from dashboard.charts.labels import STACKED_WHERE_NARROW, rimmed, spread
from dashboard.charts.spans import spans
from dashboard.words.states import AT_LEAST, MOSTLY_MOVED, MOSTLY_SEEN

HEIGHT = 380
_LINE = {MOSTLY_SEEN: (BLUE, [1, 0]), MOSTLY_MOVED: (SKY, [5, 3])}
_MOVED_BY = {"food prices": (GREEN, [1, 0]), "all items": (PURPLE, [8, 3, 2, 3])}


def drift_chart(
    points: pd.DataFrame,
    printed: pd.DataFrame,
    rebased: pd.DataFrame,
    versions: pd.DataFrame,
    *,
    currency: str,
    dark: bool = False,
) -> alt.LayerChart:
    """Return the chart of a dish.

    `points`: month, on, version, cost, state (of charts.spans), evidence, shown (the figure in
    words, with its currency), day (in words), by time. `printed`: on, cost, label, shown, day,
    version, place. `rebased`: which ("food prices" or "all items"), on, cost, shown, day.
    `versions`, by time: on, label; the days on which a version came into force. Times are
    datetime64, money is float in `currency`. The last three may be empty.
    """
    first, last = points["on"].min(), points["on"].max()
    top = top_of(pd.concat([points["cost"], printed["cost"], rebased["cost"]]))
    x = time_axis("on", first, last)
    y = money_axis("cost", f"Cost per portion, {currency}", currency, top)
    layers = [
        *_version_marks(versions, x, (first, last), dark),
        *_rebased_lines(rebased, x, y),
        *_cost_line(points, x, y),
        *_printed_marks(printed, x, y, (first, last), dark),
        *_end_labels(points, rebased, x, y, top, dark),
    ]
    return finished(*layers, dark=dark, height=HEIGHT)


def _cost_line(points: pd.DataFrame, x: alt.X, y: alt.Y) -> list[alt.Chart]:
    drawn = [state for state in _LINE if (points["state"] == state).any()]
    colours = alt.Scale(domain=drawn, range=[_LINE[state][0] for state in drawn])
    dashes = alt.Scale(domain=drawn, range=[_LINE[state][1] for state in drawn])
    legend = alt.Legend(
        title=None,
        orient="top",
        symbolStrokeWidth=3,
        symbolSize=500,
        labelLimit=300,
        columns=STACKED_WHERE_NARROW,
    )
    cut = spans(points)
    line = (
        alt.Chart(cut)
        .mark_line(strokeWidth=2.5, strokeJoin="round")
        .encode(
            x=x,
            y=y,
            detail=alt.Detail("span:N"),
            color=alt.Color("state:N", scale=colours, legend=legend),
            strokeDash=alt.StrokeDash("state:N", scale=dashes, legend=legend),
        )
    )
    hint = [
        alt.Tooltip("day:N", title="Prices of"),
        alt.Tooltip("shown:N", title="Cost per portion"),
        alt.Tooltip("version:N", title="Version"),
        alt.Tooltip("evidence:N", title="Evidence"),
    ]
    seen = (
        alt.Chart(points[points["state"] == MOSTLY_SEEN])
        .mark_circle(size=26, color=BLUE, opacity=1)
        .encode(x=x, y=y)
    )
    # the pointer need not hit the line: each month has a wide, invisible mark of its own
    touch = alt.Chart(points).mark_circle(size=220, opacity=0).encode(x=x, y=y, tooltip=hint)
    alone = points[(points["state"] == MOSTLY_MOVED) & ~points["month"].isin(cut["month"])]
    dots = alt.Chart(alone).mark_circle(size=26, color=SKY, opacity=1).encode(x=x, y=y)
    return [line, seen, *([] if alone.empty else [dots]), *_at_least(points, x, y), touch]


def _at_least(points: pd.DataFrame, x: alt.X, y: alt.Y) -> list[alt.Chart]:
    """Return hollow points, joined to nothing: a price is missing, so the cost lies above them."""
    some = points[points["state"] == AT_LEAST]
    if some.empty:
        return []
    legend = alt.Legend(
        title=None, orient="top", symbolFillColor="transparent", symbolStrokeColor=GREY,
        symbolSize=60, labelLimit=300, padding=5,  # its words level with those of the lines
    )  # fmt: skip
    shape = alt.Shape(
        "state:N", scale=alt.Scale(domain=[AT_LEAST], range=["circle"]), legend=legend
    )
    return [
        alt.Chart(some)
        .mark_point(filled=False, size=34, color=GREY, strokeWidth=1.4, opacity=1)
        .encode(x=x, y=y, shape=shape)
    ]


def _printed_marks(
    printed: pd.DataFrame, x: alt.X, y: alt.Y, span: tuple[pd.Timestamp, pd.Timestamp], dark: bool
) -> list[alt.Chart]:
    if printed.empty:
        return []
    hint = [
        alt.Tooltip("shown:N", title="Printed"),
        alt.Tooltip("day:N", title="On"),
        alt.Tooltip("place:N", title="Where"),
        alt.Tooltip("version:N", title="Version"),
    ]
    marks = (
        alt.Chart(printed)
        .mark_point(
            shape="diamond", filled=True, size=150, color=VERMILION, opacity=1,
            stroke=paper(dark=dark), strokeWidth=1,
        )
        .encode(x=x, y=y, tooltip=hint)
    )  # fmt: skip
    # a label near an end of the chart grows inwards, so that it does not cover the axis
    where = (printed["on"] - span[0]) / max(span[1] - span[0], pd.Timedelta(days=1))
    aligned = {
        "left": printed[where < 0.1],
        "center": printed[where.between(0.1, 0.9)],
        "right": printed[where > 0.9],
    }
    return [
        marks,
        *(
            label
            for align, some in aligned.items()
            if not some.empty
            for label in _labels(
                alt.Chart(some).encode(x=x, y=y, text=alt.Text("label:N")), align, dark
            )
        ),
    ]


def _labels(base: alt.Chart, align: str, dark: bool) -> list[alt.Chart]:
    return rimmed(
        base, letters(VERMILION, dark=dark), dark=dark, rim=4,
        align=align, dy=-15, fontSize=12, fontWeight="bold",
    )  # fmt: skip


def _rebased_lines(rebased: pd.DataFrame, x: alt.X, y: alt.Y) -> list[alt.Chart]:
    lines = []
    for which, (colour, dash) in _MOVED_BY.items():
        path = rebased[rebased["which"] == which]
        if not path.empty:
            lines.append(
                alt.Chart(path)
                .mark_line(strokeWidth=1.4, color=colour, strokeDash=dash)
                .encode(
                    x=x,
                    y=y,
                    tooltip=[
                        alt.Tooltip("shown:N", title=f"Printed figure moved by {which}"),
                        alt.Tooltip("day:N", title="Month"),
                    ],
                )
            )
    return lines


def _version_marks(
    versions: pd.DataFrame, x: alt.X, ends: tuple[pd.Timestamp, pd.Timestamp], dark: bool
) -> list[alt.Chart]:
    if versions.empty:
        return []
    # a label takes up to a third of a narrow chart: one that comes sooner stands a line lower, and
    # one near the end stands left of its mark
    soon = versions["on"].diff() < (ends[1] - ends[0]) * 0.45
    line = soon.groupby((~soon).cumsum()).cumcount()
    drawn = [
        alt.Chart(versions).mark_rule(color=GREY, strokeWidth=1, strokeDash=[2, 2]).encode(x=x)
    ]
    top = alt.YValue(0)  # type: ignore[no-untyped-call]
    late = versions["on"] > ends[0] + 0.7 * (ends[1] - ends[0])
    for (level, at_end), some in versions.groupby([line, late]):
        drawn.append(
            alt.Chart(some)
            .mark_text(
                align="right" if at_end else "left", dx=-4 if at_end else 4,
                dy=7 + 14 * level, baseline="top", fontSize=11,
                color=ink(dark=dark),
            )
            .encode(x=x, y=top, text=alt.Text("label:N"))
        )  # fmt: skip
    return drawn


def _end_labels(
    points: pd.DataFrame,
    rebased: pd.DataFrame,
    x: alt.X,
    y: alt.Y,
    top: float,
    dark: bool,
) -> list[alt.Chart]:
    end = points.iloc[-1]
    day = f"{end['on'].day} {end['on']:%b %Y}"
    labels = [("cost", end["cost"], f"cost of this dish\n{end['shown']}, {day}", BLUE)]
    for which, (colour, _) in _MOVED_BY.items():
        path = rebased[rebased["which"] == which]
        if not path.empty:
            words = f"printed figure by\n{which} {path.iloc[-1]['shown']}"
            labels.append((which, path.iloc[-1]["cost"], words, colour))
    places = spread([each[1] for each in labels], top=top, height=HEIGHT - 60, least=32)
    return [
        alt.Chart(pd.DataFrame({"on": [end["on"]], "cost": [place], "words": [words]}))
        .mark_text(
            align="left", dx=8, fontSize=11, lineBreak="\n", baseline="middle",
            color=letters(colour, dark=dark),
        )
        .encode(x=x, y=y, text=alt.Text("words:N"))
        for (_, _, words, colour), place in zip(labels, places, strict=True)
    ]  # fmt: skip
