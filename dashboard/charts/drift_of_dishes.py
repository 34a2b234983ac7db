"""Several dishes on one chart: a line each, or a small chart each when there are many."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, money_axis, time_axis, top_of
from dashboard.charts.colours import BLUE, EACH

ONE_CHART = len(EACH)  # more lines than colours cannot be told apart
_DASHES = ([1, 0], [6, 3], [2, 2], [10, 3, 2, 3], [1, 3], [12, 4])
_SHAPES = ("circle", "square", "triangle-up", "diamond", "cross", "triangle-down")


def dishes_chart(points: pd.DataFrame, *, currency: str) -> alt.TopLevelMixin:
    """Return the chart of several dishes.

    `points`: dish, on (datetime64), cost (float in `currency`), shown, day, version, evidence, by
    dish and time.
    """
    names = list(points["dish"].drop_duplicates())
    x = time_axis("on", points["on"].min(), points["on"].max())
    y = money_axis("cost", f"Cost per portion, {currency}", currency, top_of(points["cost"]))
    if len(names) > ONE_CHART:
        return _small_charts(points, x, y)
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
    base = alt.Chart(points).encode(x=x, y=y, tooltip=hint)
    yearly = points[points["on"].dt.month == points["on"].dt.month.iloc[-1]]
    marks = alt.Chart(yearly).encode(x=x, y=y, color=colour, shape=shape)
    return finished(
        alt.layer(
            base.mark_line(strokeWidth=2.2).encode(color=colour, strokeDash=dash),
            marks.mark_point(filled=True, size=45, opacity=1),
        ),
        height=400,
    )


def _small_charts(points: pd.DataFrame, x: alt.X, y: alt.Y) -> alt.FacetChart:
    return (
        alt.Chart(points)
        .mark_line(color=BLUE, strokeWidth=1.8)
        .encode(x=x, y=y)
        .properties(width=220, height=110)
        .facet(
            facet=alt.Facet(
                "dish:N", title=None, header=alt.Header(labelFontSize=11, labelLimit=220)
            ),
            columns=3,
        )
    )
