"""The values of one official series over time, with the months that have none left open."""

from __future__ import annotations

from pathlib import Path

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, time_axis
from dashboard.charts.colours import BLUE, SKY
from dashboard.charts.save import write_chart
from pricing.contents.series import SeriesShown


def series_frame(found: SeriesShown) -> pd.DataFrame:
    """Return month (datetime64), value, shown and run (a new one after each hole), by month."""
    months = pd.to_datetime([month for month, _ in found.months])
    frame = pd.DataFrame({"month": months, "value": [value for _, value in found.months]})
    number = frame["month"].dt.year * 12 + frame["month"].dt.month
    frame["run"] = (number.diff().fillna(1) != 1).cumsum()
    frame["shown"] = frame["month"].dt.strftime("%b %Y")
    return frame


def series_chart(
    months: pd.DataFrame, *, title: str, base: str | None, dark: bool = False
) -> alt.LayerChart:
    """Return the chart of a `series_frame`; a series by the quarter shows as steps of its own."""
    hint = [alt.Tooltip("shown:N", title="Month"), alt.Tooltip("value:Q", title="Index")]
    named = f"Index, {base or 'reference period not stated'}"
    drawn = alt.Chart(months).encode(
        x=time_axis("month", months["month"].min(), months["month"].max()),
        y=alt.Y("value:Q", title=named, scale=alt.Scale(zero=False)),
        detail="run:N",
        tooltip=hint,
    )
    colour = SKY if dark else BLUE
    lines = drawn.mark_line(color=colour, strokeWidth=2)
    alone = months.groupby("run").filter(lambda each: len(each) == 1)
    points = drawn.mark_point(color=colour, filled=True, size=18).properties(data=alone)
    return finished(alt.layer(lines, points), height=320).properties(title=title)


def save_series_chart(found: SeriesShown, path: Path) -> None:
    """Write the chart to `path`. Raises InputRefused."""
    title = found.facts.title or found.facts.series
    chart = series_chart(series_frame(found), title=title, base=found.facts.base_label)
    write_chart(chart.properties(width=760), path)
