"""What the dish page says about a figure: how it stands, what became of it, its lines, its gaps."""

from __future__ import annotations

from collections.abc import Iterator

import pandas as pd

from dashboard.answers import percent, signed_money, signed_percent
from dashboard.frames import evidence_share, figure
from dashboard.page_text import link, plain
from dashboard.words import amount_words, evidence_words, plain_number, unit_price_words
from pricing.change import Comparison
from pricing.claims_held import Claim
from pricing.costing import CostLine, DishCost
from pricing.money import show_money
from pricing.words import day_words, month_words

LEAST_SEEN = 0.005  # half a cent: less is nothing to a reader
_EM = "\u2003"  # a space that Markdown keeps


def figure_words(cost: DishCost) -> str:
    """Return what stands behind the large figure."""
    bridged = sum(line.cost or 0.0 for line in cost.ingredient_lines() if line.basis == "bridged")
    share = bridged / cost.cost_per_batch if cost.cost_per_batch > 0 else None
    batch = figure(cost.cost_per_batch, cost.complete, cost.currency)
    parts = [
        evidence_share(share, cost.complete),
        f"version {cost.version}"
        + ("" if cost.version_in_force else ", not the one in force on that day"),
        f"{batch} for {plain_number(cost.portions)} portions",
    ]
    if cost.pantry_per_portion > 0:
        pantry = show_money(cost.pantry_per_portion, cost.currency)
        parts.append(f"{pantry} of a portion is from the store cupboard")
    known = "complete" if cost.complete else "not complete"
    return f"At prices of {day_words(cost.on)}, {known}: {'; '.join(parts)}."


def change_words(found: Comparison, printed: Claim | None) -> str:
    """Return then and now in a few sentences."""
    money, then, now = found.currency, found.then, found.now
    cost0, cost1 = found.corners.then_recipe_then, found.corners.now_recipe_now
    if printed is None:
        start = f"On {day_words(then.on)}, when its first version came into force, it cost"
    else:
        where = f" in {printed.published_where}" if printed.published_where else ""
        start = (
            f"First printed at {show_money(printed.cost_per_portion, printed.currency)} on "
            f"{day_words(then.on)}{where}. Costed for that day, version {then.version}, it was"
        )
    share = signed_percent(found.change / cost0) if cost0 > 0 else "—"
    at_least = "" if found.complete else " (a price is missing, so these are lower bounds)"
    words = (
        f"{start} {show_money(cost0, money)}; on {day_words(now.on)}, version {now.version}, "
        f"{show_money(cost1, money)}{at_least}. That is {signed_money(found.change, money)} "
        f"({share}), {_by_what(found)}."
    )
    marked = [part.ingredient for part in found.ingredients if part.marked]
    if marked:
        words += f" Priced on one of the days only, or on neither: {', '.join(marked)}."
    return words


def _by_what(found: Comparison) -> str:
    """Return which part of a change is prices and which the recipe, as a cook would say it."""
    prices, recipe = found.price_effect, found.recipe_effect
    if abs(recipe) < LEAST_SEEN:
        return "all of it by prices"
    if abs(prices) < LEAST_SEEN:
        return "all of it by the recipe"
    return (
        f"{signed_money(prices, found.currency)} by prices and "
        f"{signed_money(recipe, found.currency)} by the recipe"
    )


def rebased_words(rebased: pd.DataFrame) -> str:
    """Return what the printed figure would be by official series; "" without any."""
    ends = [path.iloc[-1] for _, path in rebased.groupby("which", sort=False)]
    if not ends:
        return ""
    parts = [f"{end['shown']} by {end['which']} ({month_words(end['on'])})" for end in ends]
    return f"Official prices alone would have brought the printed figure to {' or '.join(parts)}."


def line_rows(cost: DishCost, measures: str, *, unfold: bool) -> pd.DataFrame:
    """Return the costed lines as a table of Markdown; `unfold` shows those of sub-recipes too."""
    rows = [row for line in cost.lines for row in _rows(line, cost.currency, measures, 0, unfold)]
    columns = ["Ingredient", "Recipe", "As purchased", "Unit price", "Cost", "Share", "Evidence"]
    return pd.DataFrame(rows, columns=columns)


def _rows(
    line: CostLine, currency: str, measures: str, depth: int, unfold: bool
) -> Iterator[list[str]]:
    name = line.ingredient.removeprefix("dish:")
    page = {"page": "dish", "dish": name} if line.lines else {"page": "prices", "ingredient": name}
    marks = [
        mark for mark, on in (("edible", line.state == "edible"), ("pantry", line.pantry)) if on
    ]
    if line.lines:
        marks.append(f"version {line.version}")
    shown = f"{_EM * depth}{'↳ ' if depth else ''}{link(name, **page)}"
    yield [
        f"{shown} ({plain(', '.join(marks))})" if marks else shown,
        plain(f"{plain_number(line.quantity, 2)} {line.unit}"),
        plain(amount_words(line.as_purchased, line.base)),
        ""
        if line.lines
        else plain(unit_price_words(line.unit_price, line.base, currency, measures)),
        plain(figure(line.cost or 0.0, line.basis != "missing", currency))
        if line.lines
        else plain(show_money(line.cost, currency)),
        percent(line.share),
        plain(evidence_words(line)),
    ]
    if unfold:
        for inside in line.lines:
            yield from _rows(inside, currency, measures, depth + 1, unfold)


def gaps(cost: DishCost) -> dict[str, str]:
    """Return each ingredient without a price, once, and why it has none."""
    return {
        line.ingredient: line.reason or "no price"
        for line in cost.ingredient_lines()
        if line.basis == "missing"
    }
