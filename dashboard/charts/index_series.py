"""The values of one official series over time, with the months that have none left open."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, time_axis
from dashboard.charts.colours import BLUE, SKY


def series_chart(
    months: pd.DataFrame, *, title: str, base: str | None, dark: bool = False
) -> alt.LayerChart:
    """Return the chart of a `series_frame`; a series by the quarter shows as steps of its own."""
    hint = [alt.Tooltip("shown:N", title="Month"), alt.Tooltip("value:Q", title="Index")]
    named = f"Index, {base or 'reference period not stated'}"
    drawn = alt.Chart(months).encode(
        x=time_axis("month", months["month"].min(), months["month"].max()),
        y=alt.Y("value:Q", title=named, scale=alt.Scale(zero=False)),
        detail=alt.Detail("run:N"),
        tooltip=hint,
    )
    colour = SKY if dark else BLUE
    lines = drawn.mark_line(color=colour, strokeWidth=2)
    alone = months.groupby("run").filter(lambda each: len(each) == 1)
    points = drawn.mark_point(color=colour, filled=True, size=18).properties(data=alone)
    return finished(
        lines,
        *([] if alone.empty else [points]),
        dark=dark,
        height=320,
        title=alt.TitleParams(title) if title else None,
    )
