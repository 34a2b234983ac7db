"""The pattern of the year: how far each month lies above or below the mean of the year."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished
from dashboard.charts.colours import BLUE, GREY, ink, paper

HEIGHT = 300
ROOM = 1.35  # of the axis, for the figures at the ends of the bars
_SMALL_WHERE_NARROW = alt.ExprRef("width < 420 ? 9 : 12")  # so that none meets the next
LEAST_CHANGE = 5.0  # per cent: a flat year is drawn flat


def season_chart(months: pd.DataFrame, *, dark: bool = False) -> alt.LayerChart:
    """Return the chart of the twelve months.

    `months`, January to December: month ("Jan"), change (in % of the mean of the year), cheap (true
    for the cheapest months, drawn full; the others are hollow), shown (the change in words), said
    (the month read aloud).
    """
    largest = max(float(months["change"].abs().max()), LEAST_CHANGE) * ROOM
    x = alt.X(
        "month:N", sort=list(months["month"]), title=None,
        axis=alt.Axis(labelAngle=0, labelFontSize=12, ticks=False, domain=False, offset=4),
        scale=alt.Scale(paddingInner=0.25),
    )  # fmt: skip
    y = alt.Y(
        "change:Q",
        title="Against the mean of the year, %",
        scale=alt.Scale(domain=[-largest, largest], nice=False),
        axis=alt.Axis(
            labelExpr="(datum.value > 0 ? '+' : datum.value < 0 ? '−' : '') + abs(datum.value)",
            tickCount=6,
        ),
    )
    hint = [alt.Tooltip("said:N", title="Month")]
    edge = alt.StrokeValue(BLUE)
    bars = [
        alt.Chart(some)
        .mark_bar(strokeWidth=1.5, fillOpacity=1, fill=fill)
        .encode(x=x, y=y, stroke=edge, description=alt.Description("said:N"), tooltip=hint)
        for fill, some in (
            (BLUE, months[months["cheap"]]),
            (paper(dark=dark), months[~months["cheap"]]),
        )
        if not some.empty
    ]
    zero = alt.Chart(pd.DataFrame({"change": [0.0]})).mark_rule(color=GREY, aria=False).encode(y=y)
    return finished(*bars, zero, *_figures(months, x, y, dark), dark=dark, height=HEIGHT)


def _figures(months: pd.DataFrame, x: alt.X, y: alt.Y, dark: bool) -> list[alt.Chart]:
    """Return each month's figure beyond the end of its bar; the cheapest months' in bold."""
    months = months.assign(figure=months["shown"].str.removesuffix(" %"))  # the axis says %
    drawn = []
    for below in (False, True):
        for cheap in (False, True):
            some = months[((months["change"] < 0) == below) & (months["cheap"] == cheap)]
            if not some.empty:
                drawn.append(
                    alt.Chart(some)
                    .mark_text(
                        fontSize=_SMALL_WHERE_NARROW,
                        fontWeight="bold" if cheap else "normal",
                        dy=11 if below else -9,
                        color=ink(dark=dark),
                    )
                    .encode(x=x, y=y, text=alt.Text("figure:N"))
                )
    return drawn
