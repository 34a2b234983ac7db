"""The kitchen's own index beside official food prices and all items."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, spread, time_axis
from dashboard.charts.colours import BLUE, GREEN, GREY, PURPLE, letters
from dashboard.words.states import ALL, FOOD, OWN

_LOOK = {
    OWN: (BLUE, [1, 0], 2.8),
    FOOD: (GREEN, [8, 4], 1.8),
    ALL: (PURPLE, [2, 3], 1.8),
}
HEIGHT = 360


def inflation_chart(levels: pd.DataFrame, *, base: str, dark: bool = False) -> alt.LayerChart:
    """Return the chart of the indices.

    `levels`, by which and time: which (OWN, FOOD or ALL), on (datetime64), level (`base` = 100),
    shown (the level in words), month (in words). OWN is always there.
    """
    low = min(100.0, float(levels["level"].min())) - 3
    high = max(100.0, float(levels["level"].max())) + 3
    x = time_axis("on", levels["on"].min(), levels["on"].max())
    y = alt.Y(
        "level:Q", title=f"Index, {base} = 100", scale=alt.Scale(domain=[low, high], nice=False)
    )
    hundred = alt.Chart(pd.DataFrame({"level": [100.0]})).encode(y=y)
    lines, ends = [], []
    for which, (colour, dash, width) in _LOOK.items():
        path = levels[levels["which"] == which]
        if path.empty:
            continue
        drawn = alt.Chart(path).encode(
            x=x,
            y=y,
            tooltip=[
                alt.Tooltip("month:N", title="Month"),
                alt.Tooltip("shown:N", title=which.capitalize()),
            ],
        )
        lines += [
            drawn.mark_line(color=colour, strokeDash=dash, strokeWidth=width),
            drawn.mark_circle(size=180, opacity=0),  # a wide mark for the pointer
        ]
        ends.append((which, path.iloc[-1], colour))
    places = spread(
        [end["level"] - low for _, end, _ in ends], top=high - low, height=HEIGHT - 60, least=32
    )
    labels = [
        alt.Chart(
            pd.DataFrame(
                {
                    "on": [levels["on"].max()],
                    "level": [place + low],
                    "words": [f"{which}\n{end['shown']}"],
                }
            )
        )
        .mark_text(
            align="left", dx=8, fontSize=11, lineBreak="\n", color=letters(colour, dark=dark)
        )
        .encode(x=x, y=y, text="words:N")
        for (which, end, colour), place in zip(ends, places, strict=True)
    ]
    rule = hundred.mark_rule(color=GREY, strokeWidth=1, aria=False)
    return finished(alt.layer(rule, *lines, *labels), height=HEIGHT)
