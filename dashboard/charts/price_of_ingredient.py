"""The price history of one ingredient: what was seen, the typical price, the official series."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, money_axis, time_axis, top_of
from dashboard.charts.colours import BLUE, EACH, GREEN, GREY, ORANGE, PURPLE, SKY, VERMILION, paper
from dashboard.charts.labels import STACKED_WHERE_NARROW
from dashboard.charts.spans import spans
from dashboard.words.states import TYPICAL_MOVED, TYPICAL_SEEN

OFFICIAL = "official series, laid over"
OTHERS = "other suppliers"
_LINES = {
    TYPICAL_SEEN: (BLUE, [1, 0]),
    TYPICAL_MOVED: (SKY, [2, 2]),
    OFFICIAL: (GREEN, [9, 5]),
}
_SHAPES = ("circle", "square", "triangle-up", "diamond", "cross", "triangle-down")
_POINTS = (VERMILION, PURPLE, ORANGE, BLUE, GREEN, GREY)
assert len(_SHAPES) == len(_POINTS) == len(EACH)


def price_chart(
    seen: pd.DataFrame,
    typical: pd.DataFrame,
    official: pd.DataFrame,
    *,
    currency: str,
    unit: str,
    dark: bool = False,
) -> alt.LayerChart:
    """Return the chart of an ingredient's price.

    `seen`: on, price, supplier, offer (true or false), kind, shown, day, pack. `typical`: month,
    on, price, state (TYPICAL_SEEN or TYPICAL_MOVED), version (empty: the line has no versions),
    shown, day, by time. `official`: on, price, by time. Prices are float in `currency` per `unit`
    ("per lb"), times datetime64. Two of the three may be empty.
    """
    every = pd.concat([seen["on"], typical["on"], official["on"]])
    prices = pd.concat([seen["price"], typical["price"], official["price"]])
    x = time_axis("on", every.min(), every.max())
    y = money_axis("price", f"Price {unit}, {currency}", currency, top_of(prices))
    layers = [*_lines(typical, official, x, y), *_points(seen, x, y, dark)]
    return finished(*layers, dark=dark, height=360)


def _lines(typical: pd.DataFrame, official: pd.DataFrame, x: alt.X, y: alt.Y) -> list[alt.Chart]:
    columns = ["on", "price", "state", "span"]
    pieces = [official.assign(state=OFFICIAL, span="official")[columns]]
    if not typical.empty:
        cut = spans(typical, (TYPICAL_SEEN, TYPICAL_MOVED))[columns]
        pieces.append(cut.assign(span=cut["span"].astype(str)))
    lines = pd.concat(pieces)
    drawn = [state for state in _LINES if (lines["state"] == state).any()]
    if not drawn:
        return []
    legend = alt.Legend(
        title=None,
        orient="top",
        symbolSize=500,
        symbolStrokeWidth=2.5,
        labelLimit=300,
        columns=STACKED_WHERE_NARROW,
    )
    colours = alt.Scale(domain=drawn, range=[_LINES[each][0] for each in drawn])
    dashes = alt.Scale(domain=drawn, range=[_LINES[each][1] for each in drawn])
    # lines have their stroke, points their fill: two scales, and so two legends
    return [
        alt.Chart(lines)
        .mark_line(strokeWidth=2)
        .encode(
            x=x,
            y=y,
            detail=alt.Detail("span:N"),
            stroke=alt.Stroke("state:N", scale=colours, legend=legend),
            strokeDash=alt.StrokeDash("state:N", scale=dashes, legend=legend),
        )
    ]


def _points(seen: pd.DataFrame, x: alt.X, y: alt.Y, dark: bool) -> list[alt.Chart]:
    if seen.empty:
        return []
    names = list(seen["supplier"].value_counts().index)
    if len(names) > len(_SHAPES):
        kept = names[: len(_SHAPES) - 1]
        seen = seen.assign(supplier=seen["supplier"].where(seen["supplier"].isin(kept), OTHERS))
        names = [*kept, OTHERS]
    legend = alt.Legend(
        title="Seen at", orient="bottom", titleOrient="left", columns=STACKED_WHERE_NARROW,
        labelLimit=260, symbolSize=80,
    )  # fmt: skip
    colours = alt.Scale(domain=names, range=list(_POINTS[: len(names)]))
    shapes = alt.Scale(domain=names, range=list(_SHAPES[: len(names)]))
    hint = [
        alt.Tooltip("day:N", title="Seen on"),
        alt.Tooltip("supplier:N", title="At"),
        alt.Tooltip("shown:N", title="Price"),
        alt.Tooltip("pack:N", title="Paid"),
        alt.Tooltip("kind:N", title="Kind"),
    ]
    shape = alt.Shape("supplier:N", scale=shapes, legend=legend)
    drawn = (
        alt.Chart(seen)
        .mark_point(filled=True, size=75, opacity=1, strokeWidth=0)
        .encode(
            x=x, y=y, shape=shape, tooltip=hint,
            fill=alt.Fill("supplier:N", scale=colours, legend=legend),
        )
    )  # fmt: skip
    hollow = (
        alt.Chart(seen[seen["offer"]])
        .mark_point(filled=True, size=24, opacity=1, strokeWidth=0, color=paper(dark=dark))
        .encode(x=x, y=y, shape=shape, tooltip=hint)
    )
    return [drawn, hollow] if seen["offer"].any() else [drawn]
