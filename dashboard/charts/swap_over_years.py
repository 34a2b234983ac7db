"""What one swap would have saved over the years: above the line it saves, below it costs more."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, money_up_and_down, time_axis
from dashboard.charts.colours import BLUE, GREY, SKY, ink

HEIGHT = 260


def swap_over_years(
    points: pd.DataFrame, *, currency: str, since: pd.Timestamp | None = None,
    since_words: str = "", dark: bool = False,
) -> alt.LayerChart:  # fmt: skip
    """Return the chart of a swap.

    `points`: on (datetime64), saving (float in `currency` per portion), run (a new one after each
    gap), shown (in words), day (in words), by time; without gaps. `since`, if it is among the days
    drawn, is marked with `since_words`.
    """
    first, last = points["on"].min(), points["on"].max()
    reach = max(points["saving"].abs().max(), 1e-4)
    low = min(float(points["saving"].min()), 0.0) - 0.18 * reach
    high = max(float(points["saving"].max()), 0.0) + 0.18 * reach
    x = time_axis("on", first, last)
    y = money_up_and_down("saving", f"Saves per portion, {currency}", currency, low, high)
    zero = alt.Chart(pd.DataFrame({"saving": [0.0]})).mark_rule(color=GREY, aria=False).encode(y=y)
    hint = [alt.Tooltip("day:N", title="Prices of"), alt.Tooltip("shown:N", title="The swap")]
    drawn = alt.Chart(points).encode(x=x, y=y, detail="run:N", tooltip=hint)
    colour = SKY if dark else BLUE
    line = drawn.mark_line(color=colour, strokeWidth=2)
    touch = drawn.mark_point(color=colour, filled=True, size=60, opacity=0)  # wide enough to meet
    sides = pd.DataFrame(
        {
            "on": [first, first],
            "saving": [high, low],
            "words": ["▲ saves", "▼ costs more"],
        }
    )
    look = {"align": "left", "dx": 6, "fontSize": 12, "color": ink(dark=dark)}
    labels = [
        alt.Chart(sides.iloc[[place]])
        .mark_text(**look, baseline=baseline, dy=dy)
        .encode(x=x, y=y, text="words:N")
        for place, baseline, dy in ((0, "top", 3), (1, "bottom", -3))
    ]
    marks = []
    if since is not None and first <= since <= last:
        there = pd.DataFrame({"on": [since], "saving": [0.0], "words": [since_words]})
        late = since > first + (last - first) / 2
        place = {"align": "right" if late else "left", "dx": -8 if late else 8}
        base = alt.Chart(there).encode(x=x, y=y)
        marks = [
            base.mark_point(
                shape="diamond", filled=True, size=110, color=ink(dark=dark), opacity=1
            ),
            base.mark_text(**place, dy=-12, fontSize=12, color=ink(dark=dark)).encode(
                text="words:N"
            ),
        ]
    return finished(alt.layer(zero, line, touch, *labels, *marks), height=HEIGHT)
