"""The ranked ingredients of the catalogue: what each added to the mean cost per portion."""

from __future__ import annotations

import altair as alt
import pandas as pd

from dashboard.charts.axes import finished, money_across
from dashboard.charts.colours import BLUE, GREY, ORANGE, ink, paper
from dashboard.charts.labels import rimmed
from dashboard.words.states import BY_PRICE, BY_RECIPE, PARTS
from pricing.money import least_shown

_FILL = {BY_PRICE: BLUE, BY_RECIPE: ORANGE}
BAR = 12  # pixels high; two bars to an ingredient
ROW = 40
STRIPES = 70  # across the whole chart
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
        axis=alt.Axis(labelLimit=190, labelFontSize=12, ticks=False),
    )  # fmt: skip
    least = least_shown(currency) / 10  # amounts are shown to a tenth: less says nothing
    both = bool((parts.loc[parts["part"] == BY_RECIPE, "amount"].abs() >= least).any())
    kinds = list(PARTS) if both else [BY_PRICE]  # no recipe changed: one bar, beside its name
    parts = parts[parts["part"].isin(kinds)]
    offset = alt.YOffset("part:N", sort=kinds, scale=alt.Scale(domain=kinds))
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
    said = alt.Description("said:N")
    bars = (
        alt.Chart(parts)
        .mark_bar(height=BAR)
        .encode(x=x, y=y, yOffset=offset, color=colour, description=said, tooltip=hint)
    )
    zero = alt.Chart(pd.DataFrame({"amount": [0.0]})).mark_rule(color=GREY, aria=False).encode(x=x)
    return finished(
        zero,
        bars,
        *_stripes(parts, x, y, offset, (high - low) / STRIPES, dark),
        *_figures(parts[parts["amount"].abs() >= least], x, y, offset, dark),
        height=ROW * parts["ingredient"].nunique() + 10,
    )


def _stripes(
    parts: pd.DataFrame, x: alt.X, y: alt.Y, offset: alt.YOffset, apart: float, dark: bool
) -> list[alt.Chart]:
    """Return the texture of the recipe parts, for a reader who sees no difference of colour."""
    rows = [
        {
            "ingredient": row["ingredient"],
            "part": BY_RECIPE,
            "amount": apart * (number + 0.5) * (1 if row["amount"] > 0 else -1),
        }
        for row in parts[parts["part"] == BY_RECIPE].to_dict("records")
        for number in range(int(abs(row["amount"]) / apart + 0.4))
    ]
    if not rows:
        return []
    return [
        alt.Chart(pd.DataFrame(rows))
        .mark_tick(color=paper(dark=dark), thickness=2.5, size=BAR, orient="vertical", opacity=1,
                   aria=False)
        .encode(x=x, y=y, yOffset=offset)
    ]  # fmt: skip


def _figures(
    parts: pd.DataFrame, x: alt.X, y: alt.Y, offset: alt.YOffset, dark: bool
) -> list[alt.Chart]:
    """Return each amount beside its bar, on the side to which the bar grows."""
    labels = parts.assign(words=parts["shown"] + " " + parts["part"])
    drawn = []
    for align, some in (("left", labels["amount"] >= 0), ("right", labels["amount"] < 0)):
        if some.any():
            base = alt.Chart(labels[some]).encode(
                x=x, y=y, yOffset=offset, text=alt.Text("words:N")
            )
            drawn += rimmed(
                base, ink(dark=dark), dark=dark, rim=3,
                align=align, dx=5 if align == "left" else -5, fontSize=11,
            )  # fmt: skip
    return drawn
