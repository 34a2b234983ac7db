"""Says in plain words why a dish costs more or less than it did, for a cook to read aloud."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import TYPE_CHECKING

from dashboard.words.change_steps import recipe_steps
from dashboard.words.evidence import last_month_words
from dashboard.words.figures import listed, signed_money
from dashboard.words.waiting import waiting_name
from pricing.change.shown import ShownComparison, shown_comparison
from pricing.clock import today
from pricing.days import day_words, month_words
from pricing.money import least_shown, show_money
from pricing.names import waiting_words

if TYPE_CHECKING:
    from pricing.change.records import Comparison, IngredientChange, LeftOut, State

MOST_NAMED = 3  # ingredients named for the prices
NOTABLE = 0.1  # of the prices: from here on it is said that an index moved them


NOTHING_COMPARED = (
    "No figure: nothing of it can be compared between these days, as every ingredient lacks a "
    "price it needs."
)


def change_paragraph(found: Comparison) -> str:
    """Return what a portion cost then, what the old recipe costs now, and what the rework does.

    Each figure is the one in the tables beside it: the differences are those of the costs as shown.
    """
    if not found.compared:
        return NOTHING_COMPARED
    whole = shown_comparison(found)
    sentences = [
        _then(found, whole),
        _as_printed(found, whole),
        _reworked(found, whole),
        *_more_on_prices(found, whole),
    ]
    return " ".join(f"{sentence}." for sentence in sentences if sentence)


def _then(found: Comparison, whole: ShownComparison) -> str:
    words = f"On {day_words(found.then.on)} a portion"
    if found.then.on == found.now.on:
        words += f" of version {found.then.version}"
    if found.left_out:
        words += f", {without_words(found)},"
    return f"{words} cost {show_money(whole.then, found.currency)}"


def _as_printed(found: Comparison, whole: ShownComparison) -> str:
    """Return what the old recipe costs at the prices of now, and which ingredients made it so."""
    if found.then.on == found.now.on:
        return ""
    money = found.currency
    subject = f"{_old_recipe(found)}, {today_words(found)}, costs"
    if whole.by_price:
        more = f"{_more(whole.by_price, money)}{_behind_prices(found)}"
        return f"{subject} {show_money(whole.moved, money)}: {more}"
    still = all(abs(each.price_effect or 0.0) < least_shown(money) for each in found.compared)
    why = "" if still else ": what became dearer and what became cheaper cancel out"
    return f"{subject} the same{why}"


def _old_recipe(found: Comparison) -> str:
    """Return what the old recipe is called; by its version where the other is as printed, too."""
    if found.now.version_in_force:
        return "The recipe as printed"
    then = found.then
    if then.version != found.now.version:
        return f"Version {then.version} as printed"
    return f"Version {then.version}, with the recipes inside it of {day_words(then.recipe_day)}"


def old_called(found: Comparison) -> str:
    """Return what the old recipe at the prices of now is called: "As printed, today"."""
    named = not found.now.version_in_force and found.then.version != found.now.version
    called = f"Version {found.then.version} as printed" if named else "As printed"
    return f"{called}, {today_words(found)}"


def _that_day(found: Comparison) -> str:
    return "today" if found.now.on == today() else "on that day"


def today_words(found: Comparison) -> str:
    """Return the day of the prices of now: "today", or "on 5 May 2026"."""
    return "today" if found.now.on == today() else f"on {day_words(found.now.on)}"


def _reworked(found: Comparison, whole: ShownComparison) -> str:
    """Return what the new recipe saves or adds at the prices of now, and by which changes."""
    same_version = found.then.version == found.now.version
    if same_version and not any(each.recipe_effect for each in found.compared):
        return ""
    if not whole.by_recipe:
        return f"The rework changes nothing of that {_that_day(found)}"
    does, money = "saves" if whole.by_recipe < 0 else "adds", found.currency
    return (
        f"The rework {does} {show_money(abs(whole.by_recipe), money)} {_that_day(found)}: "
        f"{_behind_recipe(found, whole)}. That makes {show_money(whole.now, money)} a portion"
    )


def without_words(found: Comparison) -> str:
    """Return "without lemon and dill": what is left out of every figure; "" when nothing is."""
    names = [waiting_name(each.ingredient) for each in found.left_out]
    more = len(names) - MOST_NAMED
    if more > 1:
        names = [*names[:MOST_NAMED], f"{more} others"]
    return f"without {listed(names)}" if names else ""


def left_out_sentences(left_out: Iterable[LeftOut]) -> list[str]:
    """Return each ingredient that a comparison does without, and why."""
    return [
        f"Without {waiting_name(each.ingredient)}."
        if waiting_words(each.ingredient) is not None
        else f"Without {each.ingredient}: {each.reason}"
        for each in left_out
    ]


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
        f"recipe as printed, version {found.then.version}, at the prices of "
        f"{day_words(found.now.on)}."
    )
    return sentences


def _more(amount: Decimal, currency: str) -> str:
    return f"{show_money(abs(amount), currency)} {'more' if amount > 0 else 'less'}"


def _behind_prices(found: Comparison) -> str:
    """Return ", mostly butter and haddock": those that make up half of the moves that way."""
    sign = 1 if found.price_effect > 0 else -1
    effects = {each.ingredient: sign * (each.price_effect or 0.0) for each in found.compared}
    that_way = sorted((name for name, by in effects.items() if by > 0), key=lambda n: -effects[n])
    whole = sum(effects[name] for name in that_way)
    named: list[str] = []
    covered = 0.0
    for name in that_way[:MOST_NAMED]:
        named.append(name)
        covered += effects[name]
        if covered >= whole / 2:
            break
    if not named:
        return ""
    most = "mostly" if covered >= whole / 2 else "spread over many ingredients, first of all"
    words = f", {most} {listed(named)}"
    against = {name: -by for name, by in effects.items() if by < 0}
    other_way = sum(against.values())
    if other_way >= whole / 4 and other_way >= least_shown(found.currency):
        first = max(against, key=lambda name: against[name])
        words += f", while {first} became {'cheaper' if sign > 0 else 'dearer'}"
    return words


def _behind_recipe(found: Comparison, whole: ShownComparison) -> str:
    """Return the changes of the recipe, the largest first, each with what it did."""
    steps = recipe_steps(found, whole, "other changes")
    if len(steps) == 1 and steps[0].others:
        return "many small changes"
    return ", ".join(
        f"{step.words} ({signed_money(step.shown, found.currency)})"
        for step in steps
        if step.shown or not step.others
    )


def _more_on_prices(found: Comparison, whole: ShownComparison) -> Iterator[str]:
    """Yield what to know of the price effect: smaller packs, prices that a series moved."""
    money = found.currency
    if whole.pack:
        by_pack = [
            (-abs(each.price_parts.pack), each.ingredient)
            for each in found.compared
            if each.price_parts and each.price_parts.pack
        ]
        packs = [name for _, name in sorted(by_pack)[:MOST_NAMED]]
        size = "smaller" if whole.pack > 0 else "larger"
        yield f"Of the prices, {show_money(whole.pack, money)} is {size} packs: {listed(packs)}"
    if whole.bridged and abs(found.price_parts.bridged) >= NOTABLE * abs(found.price_effect):
        yield (
            f"Of the change by prices, {signed_money(whole.bridged, money)} was not seen: official "
            "series moved older or later prices"
        )
    yield from settled_markets(found)


def settled_markets(found: Comparison) -> Iterator[str]:
    """Yield whose prices a comparison takes of an ingredient, where that had to be settled."""
    for each in found.compared:
        if each.marked:
            yield compared_words(each.ingredient, each.market_then, each.market_now)


def state_words(state: State) -> str:
    """Return a version and the day of its prices: "version 1 as printed, on 5 May 2026"."""
    words = version_called(state)
    words += f"{'' if state.version_in_force else ','} on {day_words(state.on)}"
    if state.recipe_day != state.on:
        words += f" (recipe day {day_words(state.recipe_day)})"
    return words


def version_called(state: State) -> str:
    """Return a version, and that it is as printed where another has taken its place."""
    words = f"version {state.version}"
    if state.version_in_force:
        return words
    return f"{words} as printed" if state.recipe_day <= state.on else f"{words}, not in force yet"


def now_called(found: Comparison) -> str:
    """Return "Now", or what the version at the prices of now is when it is not the one in force."""
    if found.now.version_in_force:
        return "Now"
    called = version_called(found.now)
    return f"{called[:1].upper()}{called[1:]}, {today_words(found)}"


def recipe_names(found: Comparison) -> tuple[str, str]:
    """Return what the recipes of the two sides are called; an old one of today is as printed."""
    then, now = found.then, found.now
    called = f"recipe of now, version {now.version}"
    if not now.version_in_force:
        called = version_called(now)
        if then.version == now.version:
            called += f" (recipe day {day_words(now.recipe_day)})"
    return f"recipe of then, version {then.version}", called


def compared_words(ingredient: str, then: str | None, now: str | None) -> str:
    """Return whose prices a comparison takes of an ingredient whose market had to be settled."""
    return f"{ingredient} is compared {market_words(then, now)}"


def market_words(then: str | None, now: str | None) -> str:
    """Return whose prices a comparison takes where it had to be settled."""
    if then == now:
        return f"at {then} prices on both days"
    return f"at a {then} price then and a {now} price now"


def shown_change(found: Comparison) -> tuple[str, str, str]:
    """Return the change and its two parts as signed amounts of money that add up."""
    whole = shown_comparison(found)
    change, by_price, by_recipe = (
        signed_money(each, found.currency)
        for each in (whole.change, whole.by_price, whole.by_recipe)
    )
    return change, by_price, by_recipe


def change_remark(part: IngredientChange, currency: str) -> str:
    """Return what to know of an ingredient's change: left out, a swap, a pack, whose prices."""
    if part.left_out:
        unknown = part.quantity_then is None or part.quantity_now is None
        return "left out: its amount is not known" if unknown else "left out: a price is missing"
    said = []
    if part.recipe_parts and part.recipe_parts.swapped_with:
        way = "for" if part.quantity_now else "swapped for"
        said.append(f"{way} {part.recipe_parts.swapped_with}")
    if part.price_parts and abs(part.price_parts.pack) >= least_shown(currency):
        said.append(f"{'smaller' if part.price_parts.pack > 0 else 'larger'} pack")
    if part.marked:
        said.append(market_words(part.market_then, part.market_now))
    return ", ".join(said)
