"""Words on a chart: kept apart from each other, and legible over lines."""

from __future__ import annotations

from typing import Any

import altair as alt

from dashboard.charts.colours import paper


def rimmed(base: alt.Chart, colour: str, *, dark: bool, rim: int, **look: Any) -> list[alt.Chart]:
    """Return the words of `base` in a colour, over a rim (in pixels) of the colour of the page.

    A line behind them then does not cross them.
    """
    return [
        base.mark_text(**look, stroke=paper(dark=dark), strokeWidth=rim, aria=False),
        base.mark_text(**look, color=colour),
    ]


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
