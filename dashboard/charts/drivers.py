"""The ranked ingredients of the catalogue: what each added to the mean cost per portion."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, money_across
from dashboard.charts.colours import BLUE, GREY, ORANGE, ink
from dashboard.charts.labels import beside_bars, names_above, rimmed, striped
from dashboard.words.states import BY_PRICE, BY_RECIPE, PARTS
from pricing.money import least_shown

_FILL = {BY_PRICE: BLUE, BY_RECIPE: ORANGE}
BAR = 12  # pixels high; two bars to an ingredient
ROW = 38
ROOM = 0.3  # of the length of the bars, on either side, for the figures beside them


def drivers_chart(parts: pd.DataFrame, *, currency: str, dark: bool = False) -> alt.LayerChart:
    """Return the chart of the drivers.

    `parts`, from the top, two rows to an ingredient: ingredient, part (of PARTS), amount (float in
    `currency` per portion), shown (the amount in words), said (the row read aloud).
    """
    low, high = (float(each) for each in (parts["amount"].min(), parts["amount"].max()))
    margin = max(max(high, 0.0) - min(low, 0.0), 1e-4) * ROOM
    low, high = min(low - margin, 0.0) if low < 0 else -margin / 10, max(high, 0.0) + margin
    x = money_across("amount", f"Change of the mean cost per portion, {currency}", currency,
                     low, high)  # fmt: skip
    y = alt.Y(
        "ingredient:N", sort=list(parts["ingredient"].drop_duplicates()), title=None,
        axis=None, scale=alt.Scale(paddingInner=0.45, paddingOuter=0.4),
    )  # fmt: skip
    least = least_shown(currency) / 10  # amounts are shown to a tenth: less says nothing
    both = bool((parts.loc[parts["part"] == BY_RECIPE, "amount"].abs() >= least).any())
    kinds = list(PARTS) if both else [BY_PRICE]  # no recipe changed: one bar, beside its name
    parts = parts[parts["part"].isin(kinds)]
    offset = alt.YOffset("part:N", sort=kinds, scale=alt.Scale(domain=kinds))
    names = parts.drop_duplicates("ingredient")
    zero = alt.Chart(pd.DataFrame({"amount": [0.0]})).mark_rule(color=GREY, aria=False).encode(x=x)
    return finished(
        zero,
        _bars(parts, x, y, offset),
        *names_above(names, y, dark, (2 * BAR if both else BAR) // 2 + 10),
        *_stripes(parts, x, y, offset, dark),
        *_figures(parts[parts["amount"].abs() >= least], x, y, offset, dark),
        dark=dark,
        height=(ROW + (BAR + 8 if both else 0)) * len(names) + 20,
    )


def _bars(parts: pd.DataFrame, x: alt.X, y: alt.Y, offset: alt.YOffset) -> alt.Chart:
    colour = alt.Color(
        "part:N",
        scale=alt.Scale(domain=list(PARTS), range=[_FILL[each] for each in PARTS]),
        legend=None,
    )
    hint = [
        alt.Tooltip("ingredient:N", title="Ingredient"),
        alt.Tooltip("part:N", title="Part"),
        alt.Tooltip("shown:N", title="Per portion"),
    ]
    bars: alt.Chart = alt.Chart(parts).mark_bar(height=BAR)
    said = alt.Description("said:N")
    return bars.encode(x=x, y=y, yOffset=offset, color=colour, description=said, tooltip=hint)


def _stripes(
    parts: pd.DataFrame, x: alt.X, y: alt.Y, offset: alt.YOffset, dark: bool
) -> list[alt.Chart]:
    """Return the stripes of the recipe parts, for a reader who sees no difference of colour."""
    recipe = parts[parts["part"] == BY_RECIPE]
    bars = alt.Chart(recipe).encode(x=x, y=y, yOffset=offset)
    return [] if recipe.empty else [striped(bars, BAR, dark)]


def _figures(
    parts: pd.DataFrame, x: alt.X, y: alt.Y, offset: alt.YOffset, dark: bool
) -> list[alt.Chart]:
    """Return each amount beside its bar, on the side to which the bar grows."""
    labels = parts.assign(words=parts["shown"] + " " + parts["part"])
    drawn = []
    for align, some in (("left", labels["amount"] >= 0), ("right", labels["amount"] < 0)):
        if some.any():
            base = alt.Chart(labels[some]).encode(
                x=x, y=y, yOffset=offset, text=beside_bars("words", "shown")
            )
            drawn += rimmed(
                base, ink(dark=dark), dark=dark, rim=3,
                align=align, dx=5 if align == "left" else -5, fontSize=11,
            )  # fmt: skip
    return drawn
