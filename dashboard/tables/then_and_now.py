"""The tables and the steps of the page then and now: corners, ingredients, the old cost moved."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

import pandas as pd

from dashboard.words.change import change_remark, now_called, recipe_names
from dashboard.words.change_steps import price_steps, recipe_steps
from dashboard.words.figures import amount_words, signed_money
from dashboard.words.markdown import ingredient_link, plain, unbroken
from dashboard.words.states import PRICE, RECIPE, TOTAL
from pricing.change.records import Comparison
from pricing.change.shown import shown_comparison
from pricing.days import day_words, month_words
from pricing.measures.unit_price import unit_price_words
from pricing.money import show_money


def waterfall_steps(found: Comparison) -> pd.DataFrame:
    """Return the steps from then to now, as charts.waterfall takes them.

    The figures shown add up: the cost then, every step, the cost now.
    """
    money, cost, whole = found.currency, found.corners, shown_comparison(found)
    then, now = show_money(whole.then, money), show_money(whole.now, money)
    rows = [
        _row(f"Then, {day_words(found.then.on)}", TOTAL, 0.0, cost.then_recipe_then,
             then, f"a portion cost {then}"),
    ]  # fmt: skip
    last = now_called(found)
    if found.now.version_in_force:
        last += f", {day_words(found.now.on)}"
    at = cost.then_recipe_then
    for kind, steps in (
        (PRICE, price_steps(found, whole, "all other prices")),
        (RECIPE, recipe_steps(found, whole, "all other recipe changes")),
    ):
        for step in steps:
            if step.others and not step.shown:
                continue
            shown = signed_money(step.shown, money)
            words = f"{shown} by {'prices' if kind == PRICE else 'the recipe'}"
            rows.append(_row(step.words, kind, at, at + step.effect, shown, words))
            at += step.effect
    rows.append(
        _row(last, TOTAL, 0.0, cost.now_recipe_now,
             now, f"a portion costs {now}")
    )  # fmt: skip
    return pd.DataFrame(rows)


def _row(
    step: str, kind: str, start: float, end: float, shown: str, words: str
) -> dict[str, object]:
    said = f"{step}: {words}"
    return {"step": step, "kind": kind, "start": start, "end": end, "shown": shown, "said": said}


def corner_rows(found: Comparison) -> pd.DataFrame:
    """Return the four corners as a table of Markdown: each recipe at each day's prices."""
    corners, money = found.corners, found.currency
    then, now = (f"Prices of {day_words(side.on)}" for side in (found.then, found.now))
    cells = {
        then: (corners.then_recipe_then, corners.now_recipe_then),
        now: (corners.then_recipe_now, corners.now_recipe_now),
    }
    if then == now:  # one day, two versions
        now += " "
        cells[now] = (corners.then_recipe_now, corners.now_recipe_now)
    return pd.DataFrame(
        {
            "Cost per portion": [
                plain(f"{name[:1].upper()}{name[1:]}") for name in recipe_names(found)
            ]
        }
        | {day: [plain(show_money(each, money)) for each in row] for day, row in cells.items()}
    )


def ingredient_rows(found: Comparison, measures: str) -> pd.DataFrame:
    """Return what each ingredient did as a table of Markdown, with links to its prices."""
    money, whole = found.currency, shown_comparison(found)
    rows = pd.DataFrame(
        [
            {
                "Ingredient": ingredient_link(each.ingredient),
                "Then": unbroken(amount_words(each.quantity_then, each.base) or "—"),
                "Now": unbroken(amount_words(each.quantity_now, each.base) or "—"),
                "Price then": unbroken(
                    unit_price_words(each.unit_price_then, each.base or None, money, measures)
                ),
                "Price now": unbroken(
                    unit_price_words(each.unit_price_now, each.base or None, money, measures)
                ),
                "By price": unbroken(_or_dash(whole.prices.get(each.ingredient), money)),
                "By recipe": unbroken(_or_dash(whole.recipes.get(each.ingredient), money)),
                "Remark": plain(change_remark(each, money)),
            }
            for each in found.ingredients
        ]
    )
    return rows if rows["Remark"].any() else rows.drop(columns="Remark")


def _or_dash(amount: Decimal | None, currency: str) -> str:
    return "—" if amount is None else signed_money(amount, currency)


def rebased_rows(found: Comparison, food_series: str | None) -> pd.DataFrame:
    """Return the old cost moved three ways as a table of Markdown, with what each means."""
    return pd.DataFrame(_rebased(found, food_series), columns=["Moved by", "Old cost now", "Means"])


def _rebased(found: Comparison, food_series: str | None) -> Iterator[tuple[str, str, str]]:
    money = found.currency
    for each in found.rebased:
        food = each.series == food_series
        which, title = "Food" if food else "All items", each.title or each.series
        name = title if title.startswith(which) else f"{which}: {title}"
        if each.amount is None:
            yield plain(name), "—", plain(each.reason or "")
            continue
        means = (
            "had this dish become dearer as food bought for home did on average"
            if food
            else "had this dish become dearer as all that households buy did; what the money of "
            "then is worth now"
        )
        last = "" if each.held_at is None else month_words(each.held_at)
        until = f"; held at the last month of the series, {last}" if last else ""
        yield plain(name), unbroken(show_money(each.amount, money)), plain(means + until)
    yield (
        "Its own ingredients",
        unbroken(show_money(found.rebased_own.amount, money)),
        plain(
            f"what the recipe as printed, version {found.then.version}, costs at the prices of "
            f"{day_words(found.now.on)}; what is left to the cost now is the recipe"
        ),
    )
