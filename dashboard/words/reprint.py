"""A reprint round in words: why a figure is another one now, and what is to be printed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from dashboard.words.figures import counted, listed, signed_rate
from dashboard.words.printed import printed_words
from pricing.days import day_words
from pricing.money import apportion, round_money, show_money

if TYPE_CHECKING:
    from pricing.reprint.records import Correction, DishToReprint, Part, PriceToCheck, Reprint

MOST_NAMED = 3  # ingredients named for prices, and for the recipe
CHECK_MEANS = (
    "Worth: what a fresh price might change, in percent of a figure, summed over the printed "
    "figures that rest on it: its share of their cost × how far off the price may be. Half of such "
    "prices held out were nearer than that."
)


def reprint_answer(found: Reprint) -> dict[str, Any]:
    """Return the round as `reprint --json` tells it, each dish with why."""
    answer = found.as_json()
    answer["dishes"] = [
        {**each.as_json(), "stands": each.stands, "why": why_words(each, found.on)}
        for each in found.dishes
    ]
    return answer


def why_words(dish: DishToReprint, on: date) -> str:
    """Return in one sentence why a dish costs another amount than was printed.

    The amounts in it add up as they are shown.
    """
    if dish.recosted_now is None:
        what = f"no price of {listed(dish.missing)}" if dish.missing else "an amount is not known"
        return f"Cannot be priced on {day_words(on)}: {what}."
    money = dish.currency
    if dish.printed is None:
        return f"Not in print; it costs {show_money(dish.recosted_now, money)} now."
    difference = round_money(dish.recosted_now, money) - round_money(dish.printed, money)
    more = f"{show_money(abs(difference), money)} {'more' if difference > 0 else 'less'}"
    start = f"It costs {more} than printed" if difference else "It costs what is printed"
    reasons = _reasons(dish, difference)
    joint = ": " if difference else ", though "
    return f"{start}{joint if reasons else ''}{listed(reasons) if reasons else ''}{_but(dish)}."


def _reasons(dish: DishToReprint, difference: Decimal) -> list[str]:
    """Return what made the difference, in amounts that add up to it."""
    money = dish.currency
    if dish.price_effect is None or dish.recipe_effect is None:
        return []
    parts = [dish.price_effect, dish.recipe_effect]
    if dish.printed_off is None or dish.left_out:
        prices, recipe = (round_money(each, money) for each in parts)
        off = Decimal(0)
    else:
        prices, recipe, off = apportion([*parts, dish.printed_off], money, difference)
    told = []
    if prices:
        told.append(f"prices {_did(prices, money)}{_by(dish.by_price, prices)}")
    if recipe:
        told.append(f"the recipe {_did(recipe, money)}{_by(dish.by_recipe, recipe)}")
    if off and dish.costed_on is not None:
        way = "under" if off > 0 else "over"
        told.append(
            f"the printed figure was {show_money(abs(off), money)} {way} what it cost on "
            f"{day_words(dish.costed_on)}"
        )
    return told


def _did(amount: Decimal, currency: str) -> str:
    return f"{'added' if amount > 0 else 'took off'} {show_money(abs(amount), currency)}"


def _by(parts: Sequence[Part], whole: Decimal) -> str:
    """Return " (mostly butter, haddock and peas)": the largest parts that go the same way."""
    names = [each.ingredient for each in parts if (each.effect > 0) == (whole > 0)]
    if not names:
        return ""
    most = "mostly " if len(names) > MOST_NAMED else ""
    return f" ({most}{listed(names[:MOST_NAMED])})"


def _but(dish: DishToReprint) -> str:
    """Return what to know of the comparison."""
    words = ""
    if dish.left_out:
        words += f"; {listed(dish.left_out)} cannot be compared"
    if dish.other_market:
        words += f"; of {listed(dish.other_market)} shop and trade prices are compared"
    return words


def reprint_head(found: Reprint) -> str:
    """Return what the round is about: its day, its deadline, how many figures."""
    due = f", to print by {day_words(found.by)}" if found.by else ""
    stand = sum(each.stands for each in found.dishes)
    lack = sum(each.recosted_now is None for each in found.dishes)
    many = counted(len(found.dishes), "figure")
    said = f"{many} at prices of {day_words(found.on)}{due}"
    said += f"; {stand} {'stands' if stand == 1 else 'stand'} as printed" if stand else ""
    return said + (f"; {lack} cannot be priced" if lack else "")


def last_words(price: PriceToCheck) -> str:
    """Return the last price seen and its day, or that there is none."""
    if price.last_price is None or price.seen_on is None:
        return "never seen"
    amount = show_money(price.last_price, price.currency)
    tax = f" + {price.tax_pct.normalize():f} % tax" if price.tax_pct else ""
    return f"{amount}{tax} on {day_words(price.seen_on)}"


def correction_words(each: Correction, on: date) -> str:
    """Return a figure that was wrong when costed, for an editor to act on."""
    money = each.currency
    where = f" ({each.where})" if each.where else ""
    verb = "printed" if each.published_on <= on else "to be printed"
    return (
        f"{each.dish}{where}: {verb} at {printed_words(each.printed, each.as_printed, money)} on "
        f"{day_words(each.published_on)}; by what was known on {day_words(each.costed_on)} a "
        f"portion cost {show_money(each.known_then, money)} ({signed_rate(each.off_then_pct)})."
    )
