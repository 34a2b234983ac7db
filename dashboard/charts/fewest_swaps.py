"""The lowest cost of a portion against the number of changes, with the target as a line."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, money_axis
from dashboard.charts.colours import BLUE, SKY, VERMILION, ink, letters
from dashboard.charts.labels import rimmed

HEIGHT = 240


def fewest_swaps_chart(
    points: pd.DataFrame, *, currency: str, target: float, target_words: str, dark: bool = False
) -> alt.LayerChart:
    """Return the chart: one point for each number of changes, joined as steps.

    `points`: changes (int from 0), cost (float in `currency` per portion), shown (the cost in
    words), swaps (in words), said (the point read aloud), by changes.
    """
    top = max(float(points["cost"].max()), target) * 1.15
    x = alt.X(
        "changes:Q",
        title="Changes",
        scale=alt.Scale(domain=[-0.3, float(points["changes"].max()) + 0.5], nice=False),
        axis=alt.Axis(values=points["changes"].tolist(), format="d", grid=False),
    )
    y = money_axis("cost", f"Cost per portion, {currency}", currency, top)
    colour = SKY if dark else BLUE
    base = alt.Chart(points).encode(x=x, y=y)
    steps = base.mark_line(color=colour, interpolate="step-after", strokeWidth=2, aria=False)
    dots = base.mark_point(color=colour, filled=True, size=70, opacity=1).encode(
        description=alt.Description("said:N"),
        tooltip=[
            alt.Tooltip("shown:N", title="A portion costs"),
            alt.Tooltip("swaps:N", title="With"),
        ],
    )
    over = points["cost"] > target
    line = pd.DataFrame({"cost": [target], "changes": [points["changes"].max() + 0.5],
                         "words": [target_words]})  # fmt: skip
    rule = alt.Chart(line).mark_rule(color=VERMILION, strokeDash=[6, 4], strokeWidth=2).encode(y=y)
    above = not over.iloc[-1]  # the side of the target on which no point is near its name
    name = (
        alt.Chart(line)
        .mark_text(align="right", baseline="bottom" if above else "top", dy=-5 if above else 6,
                   fontSize=12, color=letters(VERMILION, dark=dark))
        .encode(x=x, y=y, text=alt.Text("words:N"))
    )  # fmt: skip
    figures = [
        *_figures(points[over], x, y, -11, dark),
        *_figures(points[~over], x, y, 13, dark),
    ]
    return finished(rule, steps, dots, *figures, name, dark=dark, height=HEIGHT)


def _figures(points: pd.DataFrame, x: alt.X, y: alt.Y, down: int, dark: bool) -> list[alt.Chart]:
    """Return the costs on the side of their points that is away from the target.

    They stand to the right, where the line is level: it comes down at the point itself.
    """
    if points.empty:
        return []
    base = alt.Chart(points).encode(x=x, y=y, text=alt.Text("shown:N"))
    look = {"align": "left", "dx": 6, "dy": down, "fontSize": 11}
    return rimmed(base, ink(dark=dark), dark=dark, rim=4, **look)
