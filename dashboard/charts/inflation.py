"""The kitchen's own index beside official food prices and all items."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, time_axis
from dashboard.charts.colours import BLUE, GREEN, GREY, PURPLE, letters
from dashboard.charts.labels import spread
from dashboard.charts.spans import spans
from dashboard.words.states import ALL, FOOD, MOSTLY_MOVED, MOSTLY_SEEN, OWN

_LOOK = {
    OWN: (BLUE, [1, 0], 2.8),
    FOOD: (GREEN, [2, 3], 1.8),
    ALL: (PURPLE, [8, 3, 2, 3], 1.8),
}
HEIGHT = 360


def inflation_chart(
    levels: pd.DataFrame, *, base: str, dark: bool = False, height: int = HEIGHT
) -> alt.LayerChart:
    """Return the chart of the indices.

    `levels`, by which and time: which (OWN, FOOD or ALL), on (datetime64), level (`base` = 100),
    shown (the level in words), month (in words), run (a new one after each month without a level),
    state (MOSTLY_SEEN, or MOSTLY_MOVED: most prices of the kitchen's month are estimated).
    OWN is always there.
    """
    low = min(100.0, float(levels["level"].min())) - 3
    high = max(100.0, float(levels["level"].max())) + 3
    x = time_axis("on", levels["on"].min(), levels["on"].max())
    y = alt.Y(
        "level:Q", title=f"Index, {base} = 100", scale=alt.Scale(domain=[low, high], nice=False)
    )
    paths = {which: path for which in _LOOK if not (path := levels[levels["which"] == which]).empty}
    lines = [drawn for which, path in paths.items() for drawn in _line(which, path, x, y)]
    hundred = alt.Chart(pd.DataFrame({"level": [100.0]})).encode(y=y)
    rule = hundred.mark_rule(color=GREY, strokeWidth=1, aria=False)
    ends = _ends(paths, levels["on"].max(), (low, high), height, dark)
    labels = [each.encode(x=x, y=y, text=alt.Text("words:N")) for each in ends]
    return finished(rule, *lines, *labels, dark=dark, height=height)


def _line(which: str, path: pd.DataFrame, x: alt.X, y: alt.Y) -> list[alt.Chart]:
    colour, dash, width = _LOOK[which]
    hint = [
        alt.Tooltip("month:N", title="Month"),
        alt.Tooltip("shown:N", title=which.capitalize()),
    ]
    drawn = alt.Chart(path).encode(x=x, y=y, detail=alt.Detail("run:N"), tooltip=hint)
    if which == OWN:
        lines = _seen_and_estimated(path, x, y)
    else:
        lines = [drawn.mark_line(color=colour, strokeDash=dash, strokeWidth=width)]
    alone = path.groupby("run").filter(lambda each: len(each) == 1)
    points = [drawn.mark_point(color=colour, filled=True, size=18).properties(data=alone)]
    return [
        *lines,
        *(points if not alone.empty else []),
        drawn.mark_circle(size=180, opacity=0),  # a wide mark for the pointer
    ]


def _seen_and_estimated(path: pd.DataFrame, x: alt.X, y: alt.Y) -> list[alt.Chart]:
    """Return the kitchen's line: dashed where most of its prices are estimated."""
    colour, dash, width = _LOOK[OWN]
    cut = spans(path.assign(version=path["run"]), (MOSTLY_SEEN, MOSTLY_MOVED))
    return [
        alt.Chart(cut[cut["state"] == state])
        .mark_line(color=colour, strokeDash=dashes, strokeWidth=width)
        .encode(x=x, y=y, detail=alt.Detail("span:N"))
        for state, dashes in ((MOSTLY_SEEN, dash), (MOSTLY_MOVED, [5, 3]))
        if (cut["state"] == state).any()
    ]


def _ends(
    paths: dict[str, pd.DataFrame],
    last: pd.Timestamp,
    span: tuple[float, float],
    height: int,
    dark: bool,
) -> list[alt.Chart]:
    """Return the name and the last level of each line, beside its end."""
    low, high = span
    ends = {which: path.iloc[-1] for which, path in paths.items()}
    places = spread(
        [end["level"] - low for end in ends.values()],
        top=high - low, height=height - 60, least=32,
    )  # fmt: skip
    return [
        alt.Chart(
            pd.DataFrame(
                {"on": [last], "level": [place + low], "words": [_end_words(which, end, last)]}
            )
        ).mark_text(
            align="left", dx=8, fontSize=11, lineBreak="\n",
            color=letters(_LOOK[which][0], dark=dark),
        )
        for (which, end), place in zip(ends.items(), places, strict=True)
    ]  # fmt: skip


def _end_words(which: str, end: pd.Series, last: pd.Timestamp) -> str:
    """Return a line's name and last level, with its month where it ends before the others."""
    month = "" if end["on"] == last else f", {end['month']}"
    return f"{which}\n{end['shown']}{month}"
