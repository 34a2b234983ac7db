"""Words on a chart: kept apart from each other, and legible over lines."""

from __future__ import annotations

from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.colours import ink, paper


def rimmed(base: alt.Chart, colour: str, *, dark: bool, rim: int, **look: Any) -> list[alt.Chart]:
    """Return the words of `base` in a colour, over a rim (in pixels) of the colour of the page.

    A line behind them then does not cross them.
    """
    return [
        base.mark_text(**look, stroke=paper(dark=dark), strokeWidth=rim, aria=False),
        base.mark_text(**look, color=colour),
    ]


NARROW = 480  # pixels of a drawing, below which the longer words beside a bar are left out
STACKED_WHERE_NARROW = alt.ExprRef(f"width < {NARROW} ? 1 : 3")  # columns of a legend


def beside_bars(words: str, short: str) -> dict[str, Any]:
    """Return how the text of a bar is chosen: a field of words, or a short one where narrow."""
    return {
        "condition": {"test": f"width < {NARROW}", "value": {"expr": f"datum.{short}"}},
        "field": words,
        "type": "nominal",
    }


def names_above(rows: pd.DataFrame, y: alt.Y, dark: bool, up: int) -> list[alt.Chart]:
    """Return the names of the rows of bars, each above its own: no width is lost to them."""
    left = alt.XValue(2)  # type: ignore[no-untyped-call]
    base = alt.Chart(rows).encode(x=left, y=y, text=alt.Text(f"{y.shorthand}"))
    look = {"align": "left", "baseline": "middle", "dy": -up, "fontSize": 12}
    return rimmed(base, ink(dark=dark), dark=dark, rim=4, **look)


def striped(bars: alt.Chart, height: int, dark: bool) -> alt.Chart:
    """Return the stripe along bars that tells them from others, however short they are."""
    stripes: alt.Chart = bars.mark_bar(
        height=height / 3, color=paper(dark=dark), opacity=1, aria=False
    )
    return stripes


def spread(places: list[float], *, top: float, height: int, least: int) -> list[float]:
    """Return where labels go beside `places`, in order, at least `least` pixels apart.

    Places are in the units of an axis from 0 to `top` that is `height` pixels high. Labels keep
    their order and stay on the axis.

    >>> spread([1.0, 1.0], top=4.0, height=100, least=25)
    [0.5, 1.5]
    """
    step = top * least / height
    order = sorted(range(len(places)), key=lambda each: places[each])
    groups: list[tuple[float, list[int]]] = []  # (middle, labels from the lowest)
    for each in order:
        groups.append((places[each], [each]))
        while len(groups) > 1 and _crowded(groups[-2], groups[-1], step):
            (low, lower), (high, upper) = groups[-2:]
            both = lower + upper
            middle = (low * len(lower) + high * len(upper)) / len(both)
            groups[-2:] = [(middle, both)]
    put = [0.0] * len(places)
    for middle, labels in groups:
        half = (len(labels) - 1) * step / 2
        middle = min(max(middle, half), top - half)
        for position, each in enumerate(labels):
            put[each] = middle - half + position * step
    return put


def _crowded(lower: tuple[float, list[int]], upper: tuple[float, list[int]], step: float) -> bool:
    return upper[0] - lower[0] < step * (len(lower[1]) + len(upper[1])) / 2
