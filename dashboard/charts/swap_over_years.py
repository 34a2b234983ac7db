"""What one swap would have saved over the years: above the line it saves, below it costs more."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, money_up_and_down, time_axis
from dashboard.charts.colours import BLUE, GREY, SKY, ink
from pricing.money import least_shown

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
    largest = max(points["saving"].abs().max(), least_shown(currency) / 50)
    low = min(float(points["saving"].min()), 0.0) - 0.18 * largest
    high = max(float(points["saving"].max()), 0.0) + 0.18 * largest
    x = time_axis("on", points["on"].min(), points["on"].max())
    y = money_up_and_down("saving", f"Saves per portion, {currency}", currency, low, high)
    zero = alt.Chart(pd.DataFrame({"saving": [0.0]})).mark_rule(color=GREY, aria=False).encode(y=y)
    hint = [alt.Tooltip("day:N", title="Prices of"), alt.Tooltip("shown:N", title="The swap")]
    drawn = alt.Chart(points).encode(x=x, y=y, detail=alt.Detail("run:N"), tooltip=hint)
    colour = SKY if dark else BLUE
    line = drawn.mark_line(color=colour, strokeWidth=2)
    touch = drawn.mark_point(color=colour, filled=True, size=60, opacity=0)  # wide enough to meet
    words = [
        *_sides(points["on"].min(), low, high, dark),
        *_since(points["on"], since, since_words, dark),
    ]
    return finished(
        zero, line, touch, *(each.encode(x=x, y=y) for each in words), dark=dark, height=HEIGHT
    )


def _sides(first: pd.Timestamp, low: float, high: float, dark: bool) -> list[alt.Chart]:
    """Return what it means to be above and below the line."""
    drawn = []
    for place, words in ((high, "▲ saves"), (low, "▼ costs more")):
        above = place == high
        there = alt.Chart(pd.DataFrame({"on": [first], "saving": [place], "words": [words]}))
        drawn.append(
            there.mark_text(
                align="left", dx=6, fontSize=12, color=ink(dark=dark),
                baseline="top" if above else "bottom", dy=3 if above else -3,
            ).encode(text=alt.Text("words:N"))
        )  # fmt: skip
    return drawn


def _since(days: pd.Series, since: pd.Timestamp | None, words: str, dark: bool) -> list[alt.Chart]:
    """Return the mark of the day from which on it saves, or costs more, if it is drawn."""
    first, last = days.min(), days.max()
    if since is None or not first <= since <= last:
        return []
    late = since > first + (last - first) / 2
    there = alt.Chart(pd.DataFrame({"on": [since], "saving": [0.0], "words": [words]}))
    return [
        there.mark_point(shape="diamond", filled=True, size=110, color=ink(dark=dark), opacity=1),
        there.mark_text(
            align="right" if late else "left", dx=-8 if late else 8, dy=-12, fontSize=12,
            color=ink(dark=dark),
        ).encode(text=alt.Text("words:N")),
    ]  # fmt: skip
