"""Swaps as rows of a page's tables, and as tidy frames for its charts."""

from __future__ import annotations

import pandas as pd

from dashboard.words.allergens import allergen_words
from dashboard.words.figures import counted, figure, signed_fine
from dashboard.words.markdown import dish_link, ingredient_link, plain, unbroken
from dashboard.words.swaps import amounts_words, price_words, saving_words, since_words
from pricing.days import day_words
from pricing.measures.unit_price import unit_price_words
from pricing.money import show_money
from pricing.swaps.history import SwapHistory
from pricing.swaps.of_catalogue import CatalogueSwaps
from pricing.swaps.records import SwapChoice, Swaps
from pricing.swaps.swap import DISH, LEAVE_OUT
from pricing.swaps.target import SwapTarget


def swap_rows(found: Swaps) -> list[dict[str, str]]:
    """Return one row a swap, in the words of Markdown."""
    chosen = [each.named() for each in (found.target.chosen if found.target else ())]
    rows = []
    for swap in found.swaps:
        note = f" ({swap.note})" if swap.note else ""
        rows.append(
            {
                "Swap": f"{'✓ chosen: ' if swap.named() in chosen else ''}"
                f"{plain(swap.in_words())}{plain(note)}",
                "Amounts per portion": plain(amounts_words(swap)),
                "Per portion": plain(swap.reason or saving_words(swap, found.currency)),
                "Then costs": unbroken(show_money(swap.cost_per_portion, found.currency)),
                "Since": plain(since_words(swap)),
                "Allergens, by the records": plain(
                    allergen_words(
                        swap.allergens_added, swap.allergens_removed, found.allergen_list
                    )
                ),
            }
        )
    return rows


def evidence_rows(swap: SwapChoice, found: Swaps, measures: str) -> list[dict[str, str]]:
    """Return both prices of a swap and what they rest on; a name leads to its price history."""
    rows = []
    sides = ((swap.ingredient, swap.price), (swap.substitute, swap.substitute_price))
    for name, evidence in sides:
        where = swap.purchase_words() if evidence is swap.substitute_price else ""
        if name.startswith(DISH):
            dish = name.removeprefix(DISH)
            shown = dish_link(dish)
        elif name == LEAVE_OUT:
            shown = plain(name)
        else:
            shown = ingredient_link(name)
        price = "—"
        if evidence is not None:
            price = unit_price_words(evidence.unit_price, evidence.base, found.currency, measures)
        rows.append(
            {
                "Ingredient": shown + (plain(f" ({where})") if where else ""),
                "Price": unbroken(price),
                "Rests on": plain(price_words(evidence, found.on)),
            }
        )
    return rows


def history_frame(found: SwapHistory) -> pd.DataFrame:
    """Return on, saving, run, shown, day, by time; months without a price are left out."""
    frame = pd.DataFrame(
        {
            "on": pd.to_datetime([point.on for point in found.points]),
            "saving": [point.saving for point in found.points],
        }
    )
    frame["saving"] = frame["saving"].astype(float)
    frame["run"] = frame["saving"].isna().cumsum()
    frame = frame.dropna(subset=["saving"]).reset_index(drop=True)
    frame["shown"] = [
        f"{'saves' if each >= 0 else 'costs'} {signed_fine(abs(each), found.currency)[1:]}"
        f"{'' if each >= 0 else ' more'}"
        if abs(each) > 1e-9
        else "makes no difference"
        for each in frame["saving"]
    ]
    frame["day"] = [day_words(each.date()) for each in frame["on"]]
    return frame


def frontier_frame(target: SwapTarget, currency: str) -> pd.DataFrame:
    """Return changes, cost, shown, swaps, said, one row for each number of changes."""
    rows = []
    for point in target.frontier:
        shown = show_money(point.cost_per_portion, currency)
        swaps = ", ".join(each.in_words() for each in point.chosen) or "no change"
        many = counted(point.changes, "change")
        rows.append(
            {
                "changes": point.changes,
                "cost": point.cost_per_portion,
                "shown": shown,
                "swaps": swaps,
                "said": f"With {many} a portion costs {shown} at the lowest: {swaps}",
            }
        )
    return pd.DataFrame(rows)


def catalogue_rows(found: CatalogueSwaps, most: int = 25) -> list[dict[str, str]]:
    """Return the swaps that save something over all dishes, the largest saving first."""
    money = found.currency
    rows = []
    for swap in [each for each in found.swaps if (each.saving or 0.0) > 0][:most]:
        monthly = swap.saving_per_month
        rows.append(
            {
                "Swap": plain(swap.in_words()),
                "Dishes": str(swap.dishes),
                "Each made once": unbroken(signed_fine(-(swap.saving or 0.0), money)),
                "Per month": "—" if monthly is None else unbroken(signed_fine(-monthly, money)),
                "Saves most per portion in": "—"
                if swap.most_in is None
                else dish_link(swap.most_in, "bring-it-down", down="yes"),
            }
        )
    return rows


def over_target_rows(found: CatalogueSwaps) -> list[dict[str, str]]:
    """Return the dishes over their target, furthest over first."""
    money = found.currency
    return [
        {
            "Dish": dish_link(each.dish, "bring-it-down", down="yes"),
            "Target": unbroken(show_money(each.target, money)),
            "Costs": unbroken(figure(each.cost_per_portion, each.complete, money)),
            "Over": unbroken(signed_fine(each.over, money)),
        }
        for each in found.over_target
    ]
