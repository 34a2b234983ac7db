"""Says in plain words why a dish costs more or less than it did, for a cook to read aloud."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from dashboard.words.evidence import last_month_words
from dashboard.words.figures import NOTHING, listed, plain_number, signed_money
from pricing.days import day_words, month_words
from pricing.money import apportion, least_shown, round_money, show_money

if TYPE_CHECKING:
    from pricing.change.records import Comparison, IngredientChange

MOST_NAMED = 3  # ingredients named for the prices
MOST_CHANGES = 4  # changes of the recipe told one by one
NOTABLE = 0.1  # of the prices: from here on it is said that an index moved them


def change_paragraph(found: Comparison) -> str:
    """Return what of the change is prices and what the recipe, with the ingredients behind each.

    The two parts are rounded as everywhere (`shown_change`): they add up to the difference
    of the two costs as shown.
    """
    money = found.currency
    change, prices, recipe = (float(part) for part in rounded_change(found))
    by_price = f"{_behind_prices(found)}" if prices else ""
    by_recipe = f": {_behind_recipe(found, recipe)}" if recipe else ""
    if not prices and not recipe:
        words = f"A portion costs what it cost on {day_words(found.then.on)}"
        words += "" if _still(found) else ": what became dearer and what became cheaper cancel out"
    elif not recipe:
        words = f"All of the {_more(change, money)} per portion is prices{by_price}"
    elif not prices:
        words = f"All of the {_more(change, money)} per portion is the recipe{by_recipe}"
    elif (prices > 0) == (recipe > 0):
        words = (
            f"Of the {_more(change, money)} per portion, {show_money(abs(prices), money)} is prices"
            f"{by_price}; {show_money(abs(recipe), money)} is the recipe{by_recipe}"
        )
    else:
        left = f"{_more(change, money)} per portion" if change else "the same cost as before"
        words = (
            f"Prices {_did(prices, money)} per portion{by_price}; the recipe "
            f"{_did(recipe, money)}{by_recipe}. That leaves {left}"
        )
    return f"{'. '.join([words, *_more_on_prices(found)])}."


def rebased_sentences(found: Comparison) -> list[str]:
    """Return the old cost moved by official series and by the dish's own ingredients, and why."""
    money, old = found.currency, found.corners.then_recipe_then
    start = f"{show_money(old, money)} of {month_words(found.then.on)}"
    sentences = []
    for figure in found.rebased:
        if figure.reason is not None:
            sentences.append(figure.reason)
            continue
        until = last_month_words(figure.held_at).removeprefix(", ")
        by = f"{figure.title} ({until})" if until else figure.title
        sentences.append(f"{start} is {show_money(figure.amount, money)} by {by}.")
    sentences.append(
        f"{start} is {show_money(found.rebased_own.amount, money)} by its own ingredients: the "
        f"recipe of version {found.then.version} at the prices of {day_words(found.now.on)}."
    )
    return sentences


def _more(amount: float, currency: str) -> str:
    return f"{show_money(abs(amount), currency)} {'more' if amount > 0 else 'less'}"


def _did(amount: float, currency: str) -> str:
    return f"{'added' if amount > 0 else 'took off'} {show_money(abs(amount), currency)}"


def _still(found: Comparison) -> bool:
    least = least_shown(found.currency)
    parts = found.ingredients
    return all(abs(each.price_effect) + abs(each.recipe_effect) < least for each in parts)


def _behind_prices(found: Comparison) -> str:
    """Return ", mostly butter and haddock": those that make up half of the moves that way."""
    sign = 1 if found.price_effect > 0 else -1
    that_way = sorted(
        (each for each in found.ingredients if sign * each.price_effect > 0),
        key=lambda each: -abs(each.price_effect),
    )
    whole = sum(abs(each.price_effect) for each in that_way)
    named: list[str] = []
    covered = 0.0
    for each in that_way[:MOST_NAMED]:
        named.append(each.ingredient)
        covered += abs(each.price_effect)
        if covered >= whole / 2:
            break
    if not named:
        return ""
    most = "mostly" if covered >= whole / 2 else "spread over many ingredients, first of all"
    words = f", {most} {listed(named)}"
    against = [each for each in found.ingredients if sign * each.price_effect < 0]
    other_way = sum(abs(each.price_effect) for each in against)
    if other_way >= whole / 4 and other_way >= least_shown(found.currency):
        first = max(against, key=lambda each: abs(each.price_effect)).ingredient
        words += f", while {first} became {'cheaper' if sign > 0 else 'dearer'}"
    return words


@dataclass(frozen=True, kw_only=True)
class Said:
    """One change of the recipe in words."""

    words: str
    effect: float  # per portion
    others: bool = False  # all that are not told one by one


def _behind_recipe(found: Comparison, rounded: float) -> str:
    """Return the changes of the recipe, the largest first, each with what it did."""
    whole, money = Decimal(str(rounded)), found.currency
    steps = largest(list(recipe_changes(found)), "other changes", found.recipe_effect, money)
    if len(steps) == 1 and steps[0].words == "other changes":
        return "many small changes"
    return ", ".join(
        f"{step.words} ({signed_money(float(rounded), money)})"
        for step, rounded in zip(steps, rounded_steps(steps, whole, money), strict=True)
        if rounded or not step.others
    )


def largest(steps: Sequence[Said], others: str, whole: float, currency: str) -> list[Said]:
    """Return the largest steps of an effect, then one of all others where there are any."""
    ranked = sorted(steps, key=lambda each: -abs(each.effect))
    least = least_shown(currency)
    kept = [each for each in ranked[:MOST_CHANGES] if abs(each.effect) >= least]
    rest = whole - sum(each.effect for each in kept)
    if abs(rest) >= NOTHING:
        kept.append(Said(words=others, effect=rest, others=True))
    return kept


def rounded_steps(steps: Sequence[Said], whole: Decimal, currency: str) -> list[Decimal]:
    """Round the steps so that they add up to `whole`, the effect as it is shown.

    What rounding took elsewhere goes to all the others, where there are any.
    """
    effects = [each.effect for each in steps]
    if steps and steps[-1].others:
        effects[-1] += float(whole - round_money(sum(effects), currency))
    return apportion(effects, currency, whole) if effects else []


def recipe_changes(found: Comparison) -> Iterator[Said]:
    """Yield every change of the recipe; their effects add up to the recipe effect."""
    done: set[str] = set()
    by_name = {each.ingredient: each for each in found.ingredients}
    for each in found.ingredients:
        parts = each.recipe_parts
        if parts is None or each.ingredient in done:
            continue
        if parts.swapped_with is not None:
            other = by_name[parts.swapped_with]
            done |= {each.ingredient, other.ingredient}
            yield _swap(each, other)
            continue
        if parts.amount:
            less = "fewer" if each.base == "each" else "less"
            more = "more" if parts.amount > 0 else less
            yield Said(words=f"{more} {each.ingredient}", effect=parts.amount)
        if parts.trim:
            yield Said(words=f"the trim of {each.ingredient}", effect=parts.trim)
        if parts.added:
            yield Said(words=f"{each.ingredient} added", effect=parts.added)
        if parts.dropped:
            yield Said(words=f"{each.ingredient} left out", effect=parts.dropped)
    if found.recipe_parts.portions:
        then, now = (plain_number(side.portions) for side in (found.then, found.now))
        words = f"{now} portions to the batch instead of {then}"
        yield Said(words=words, effect=found.recipe_parts.portions)


def _swap(one: IngredientChange, other: IngredientChange) -> Said:
    new, old = (one, other) if one.quantity_now > 0 else (other, one)
    effect = sum(each.recipe_parts.swapped for each in (one, other) if each.recipe_parts)
    return Said(words=f"{new.ingredient} instead of {old.ingredient}", effect=effect)


def _more_on_prices(found: Comparison) -> Iterator[str]:
    """Yield what to know of the price effect: smaller packs, bridges, prices of one day only."""
    money, parts = found.currency, found.price_parts
    least = least_shown(money)
    if abs(parts.pack) >= least:
        packs = [
            each.ingredient
            for each in found.ingredients
            if each.price_parts and abs(each.price_parts.pack) >= least / 10
        ]
        size = "smaller" if parts.pack > 0 else "larger"
        yield f"Of the prices, {show_money(parts.pack, money)} is {size} packs: {listed(packs)}"
    if abs(parts.bridged) >= max(least, NOTABLE * abs(found.price_effect)):
        yield (
            f"{show_money(parts.bridged, money)} of the prices was not seen: official series moved "
            "older or later prices"
        )
    marked = [each.ingredient for each in found.ingredients if each.marked]
    if marked:
        yield f"Priced on one of the days only, or on neither: {listed(marked)}"


def rounded_change(found: Comparison) -> tuple[Decimal, Decimal, Decimal]:
    """Return the change and its two parts, by prices and by the recipe, as a reader adds them up.

    The change is the difference of the two figures as they are shown, and the parts add up to it:
    at most one smallest unit from each one's own rounding.
    """
    money, corners = found.currency, found.corners
    change = round_money(corners.now_recipe_now, money) - round_money(
        corners.then_recipe_then, money
    )
    by_price, by_recipe = apportion([found.price_effect, found.recipe_effect], money, change)
    return change, by_price, by_recipe


def shown_change(found: Comparison) -> tuple[str, str, str]:
    """Return `rounded_change` as signed amounts of money."""
    change, by_price, by_recipe = (
        signed_money(each, found.currency) for each in rounded_change(found)
    )
    return change, by_price, by_recipe


def change_remark(part: IngredientChange, currency: str) -> str:
    """Return what to know of an ingredient's change: a swap, a pack, a price of one day only."""
    if part.marked:
        alone = part.unit_price_now is not None
        return "no price on one day: the other's is used" if alone else "no price on either day"
    said = []
    if part.recipe_parts and part.recipe_parts.swapped_with:
        way = "for" if part.quantity_now > 0 else "swapped for"
        said.append(f"{way} {part.recipe_parts.swapped_with}")
    if part.price_parts and abs(part.price_parts.pack) >= least_shown(currency):
        said.append(f"{'smaller' if part.price_parts.pack > 0 else 'larger'} pack")
    return ", ".join(said)
