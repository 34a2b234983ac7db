"""Several dishes on one chart: a line each, or a small chart each when there are many."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, money_axis, time_axis, top_of
from dashboard.charts.colours import BLUE, EACH
from dashboard.words.states import AT_LEAST

ONE_CHART = len(EACH)  # more lines than colours cannot be told apart
_DASHES = ([1, 0], [6, 3], [2, 2], [10, 3, 2, 3], [1, 3], [12, 4])
_SHAPES = ("circle", "square", "triangle-up", "diamond", "cross", "triangle-down")


def dishes_chart(points: pd.DataFrame, *, currency: str) -> alt.TopLevelMixin:
    """Return the chart of several dishes.

    `points`: dish, on (datetime64), cost (float in `currency`), state (of charts.spans), shown,
    day, version, evidence, by dish and time. Figures that are only at least are hollow points.
    """
    names = list(points["dish"].drop_duplicates())
    x = time_axis("on", points["on"].min(), points["on"].max())
    y = money_axis("cost", f"Cost per portion, {currency}", currency, top_of(points["cost"]))
    if len(names) > ONE_CHART:
        return _small_charts(points, x, y, currency)
    hint = ["dish:N", "day:N", "shown:N", "version:N", "evidence:N"]
    legend = alt.Legend(
        title=None, orient="bottom", columns=2, labelLimit=360, symbolSize=90, symbolStrokeWidth=0
    )
    colour = alt.Color(
        "dish:N", scale=alt.Scale(domain=names, range=EACH[: len(names)]), legend=legend
    )
    dash = alt.StrokeDash(
        "dish:N", scale=alt.Scale(domain=names, range=_DASHES[: len(names)]), legend=legend
    )
    shape = alt.Shape(
        "dish:N", scale=alt.Scale(domain=names, range=_SHAPES[: len(names)]), legend=None
    )
    base = alt.Chart(_whole(points)).encode(x=x, y=y, tooltip=hint)
    known = points[points["state"] != AT_LEAST]
    yearly = known[known["on"].dt.month == points["on"].dt.month.iloc[-1]]
    marks = alt.Chart(yearly).encode(x=x, y=y, color=colour, shape=shape)
    hollow = alt.Chart(points[points["state"] == AT_LEAST]).encode(x=x, y=y, color=colour)
    return finished(
        base.mark_line(strokeWidth=2.2).encode(color=colour, strokeDash=dash),
        marks.mark_point(filled=True, size=45, opacity=1),
        hollow.mark_point(filled=False, size=30, opacity=1).encode(tooltip=hint),
        height=400,
        dark=False,
        title=_note(points),
    )


def _whole(points: pd.DataFrame) -> pd.DataFrame:
    """Return the points with no figure where it is only at least: the line breaks there."""
    return points.assign(cost=points["cost"].where(points["state"] != AT_LEAST))


def _note(points: pd.DataFrame) -> alt.TitleParams | None:
    if not (points["state"] == AT_LEAST).any():
        return None
    words = "Hollow points: at least so much, since a price is missing"
    return alt.TitleParams(words, anchor="start", fontSize=11, fontWeight="normal")


def _small_charts(points: pd.DataFrame, x: alt.X, y: alt.Y, currency: str) -> alt.FacetChart:
    base = alt.Chart().encode(x=x)
    line = base.mark_line(color=BLUE, strokeWidth=1.8).encode(y=y)
    hollow = base.mark_point(color=BLUE, size=14, strokeWidth=1).encode(
        y=money_axis("at_least", f"Cost per portion, {currency}", currency, top_of(points["cost"]))
    )
    both = _whole(points).assign(at_least=points["cost"].where(points["state"] == AT_LEAST))
    chart: alt.FacetChart = (
        alt.LayerChart(layer=[line, hollow], data=both)
        .properties(width=220, height=110)
        .facet(
            facet=alt.Facet(
                "dish:N", title=None, header=alt.Header(labelFontSize=11, labelLimit=220)
            ),
            columns=3,
        )
    )
    note = _note(points)
    return chart if note is None else chart.properties(title=note)
