"""The waterfall of a dish: from its cost then, step by step, to its cost now."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, money_across
from dashboard.charts.colours import BLUE, GREY, ORANGE, ink
from dashboard.charts.labels import beside_bars, names_above, rimmed, striped
from dashboard.words.states import KINDS, PRICE, RECIPE, TOTAL
from pricing.money import least_shown

_FILL = {TOTAL: GREY, PRICE: BLUE, RECIPE: ORANGE}
BAR = 20  # pixels high
STEP = 48  # pixels from one bar to the next
ROOM = 1.3  # of the axis, for the figure beside the longest bar


def waterfall_chart(steps: pd.DataFrame, *, currency: str, dark: bool = False) -> alt.LayerChart:
    """Return the chart of a change.

    `steps`, from the top: step (its words, each once), kind (of KINDS), start and end (float in
    `currency`), shown (its figure in words), said (the step read aloud).
    """
    shown = steps.assign(
        low=steps[["start", "end"]].min(axis=1),
        high=steps[["start", "end"]].max(axis=1),
    )
    low, high = (
        min(0.0, float(shown["low"].min())),
        max(float(shown["high"].max()), 2 * least_shown(currency)),
    )
    x = money_across("low", f"Cost per portion, {currency}", currency, low, high * ROOM)
    y = alt.Y(
        "step:N",
        sort=list(shown["step"]),
        title=None,
        axis=None,
        scale=alt.Scale(paddingInner=0.5, paddingOuter=0.45),
    )
    kind = alt.Color(
        "kind:N",
        scale=alt.Scale(domain=list(KINDS), range=[_FILL[each] for each in KINDS]),
        legend=None,
    )
    hint = [alt.Tooltip("step:N", title="Step"), alt.Tooltip("shown:N", title="Per portion")]
    said = alt.Description("said:N")
    bars = (
        alt.Chart(shown)
        .mark_bar(height=BAR)
        .encode(x=x, x2=alt.X2("high:Q"), y=y, color=kind, description=said, tooltip=hint)
    )
    return finished(
        *_carried(shown, x, y),
        bars,
        *_stripes(shown, x, y, dark),
        *names_above(shown, y, dark, BAR // 2 + 9),
        *_figures(shown, x, y, dark),
        dark=dark,
        height=STEP * len(shown) + 10,
    )


def _carried(shown: pd.DataFrame, x: alt.X, y: alt.Y) -> list[alt.Chart]:
    """Return thin lines that carry where a step ended down to the next."""
    if len(shown) < 2:
        return []
    lines = pd.DataFrame(
        {
            "low": shown["end"].iloc[:-1].to_numpy(),
            "step": shown["step"].iloc[:-1].to_numpy(),
            "next": shown["step"].iloc[1:].to_numpy(),
        }
    )
    return [
        alt.Chart(lines)
        .mark_rule(color=GREY, strokeWidth=1, strokeDash=[2, 2], aria=False)
        .encode(x=x, y=y, y2=alt.Y2("next:N"))
    ]


def _stripes(shown: pd.DataFrame, x: alt.X, y: alt.Y, dark: bool) -> list[alt.Chart]:
    """Return the stripes of the recipe steps, for a reader who sees no difference of colour."""
    recipe = shown[shown["kind"] == RECIPE]
    bars = alt.Chart(recipe).encode(x=x, x2=alt.X2("high:Q"), y=y)
    return [] if recipe.empty else [striped(bars, BAR, dark)]


def _figures(shown: pd.DataFrame, x: alt.X, y: alt.Y, dark: bool) -> list[alt.Chart]:
    words = shown["shown"] + shown["kind"].map({PRICE: " by prices", RECIPE: " by the recipe"}
                                               ).fillna("")  # fmt: skip
    placed = shown.assign(low=shown["high"], words=words)
    base = alt.Chart(placed).encode(x=x, y=y, text=beside_bars("words", "shown"))
    return rimmed(base, ink(dark=dark), dark=dark, rim=4, align="left", dx=6, fontSize=12)
