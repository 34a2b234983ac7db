"""Laws of then and now, over random recipes, yields, packs, sub-recipes and gaps."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pricing.change.effects import corners
from pricing.change.records import IngredientChange
from pricing.dishes.recipes import Line, Recipes
from tests.loops import rounds
from tests.properties.random_changes import DISH, INGREDIENTS, NOW, THEN, Case, random_case

LAWS = settings(max_examples=rounds(120), deadline=None)
SEEDS = st.integers(0, 10**9)
PRICE = ("sticker", "pack"), ("seen", "bridged")
RECIPE = ("amount", "trim", "portions", "added", "dropped", "swapped")


def sums(parts: list[IngredientChange]) -> tuple[float, float]:
    return sum(p.price_effect or 0.0 for p in parts), sum(p.recipe_effect or 0.0 for p in parts)


def test_ten_thousand_comparisons_add_up() -> None:
    chance = Random(20261124)
    seen = {"pack": 0, "bridged": 0, "trim": 0, "portions": 0, "swapped": 0, "left out": 0}
    for _ in range(rounds(10_000)):
        case = random_case(chance)
        parts = case.parts()
        price, recipe = sums(parts)
        # the costs are summed line by line in Case.cost, which knows nothing of effects
        then, moved, now = case.cost(0, 0), case.cost(0, 1), case.cost(1, 1)
        assert price == pytest.approx(moved - then, abs=1e-9)
        assert recipe == pytest.approx(now - moved, abs=1e-9)
        cost = corners(parts)
        assert (cost.then_recipe_then, cost.then_recipe_now, cost.now_recipe_now) == pytest.approx(
            (then, moved, now), abs=1e-9
        )
        if cost.now_recipe_then is not None:
            assert cost.now_recipe_then == pytest.approx(case.cost(1, 0), abs=1e-9)
        for part in parts:
            seen["left out"] += part.left_out
            by_price, by_recipe = part.price_parts, part.recipe_parts
            if part.left_out:
                assert (by_price, by_recipe, part.price_effect) == (None, None, None)
                continue
            assert by_price is not None
            assert by_recipe is not None
            for names in PRICE:
                split = sum(by_price[name] for name in names)
                assert split == pytest.approx(part.price_effect, abs=1e-9)
            split = sum(by_recipe[name] for name in RECIPE)
            assert split == pytest.approx(part.recipe_effect, abs=1e-9)
            seen["pack"] += abs(by_price.pack) > 1e-6
            seen["bridged"] += abs(by_price.bridged) > 1e-6
            seen["trim"] += abs(by_recipe.trim) > 1e-6
            seen["portions"] += abs(by_recipe.portions) > 1e-6
            seen["swapped"] += by_recipe.swapped_with is not None
    assert min(seen.values()) > rounds(300), seen  # every kind of change was among them


@LAWS
@given(seed=SEEDS)
def test_turning_round_changes_the_sign_of_the_whole_change(seed: int) -> None:
    case = random_case(Random(seed))
    for one, other in zip(case.parts(), case.turned().parts(), strict=True):
        if one.left_out or other.left_out:  # what is new one way is missing a price the other
            continue
        there, back = (sum(sums([part])) for part in (one, other))
        assert back == pytest.approx(-there, abs=1e-9)


@LAWS
@given(seed=SEEDS, side=st.sampled_from([0, 1]))
def test_no_price_of_one_day_stands_in_for_the_other(seed: int, side: int) -> None:
    chance = Random(seed)
    case = random_case(chance)
    taken0, taken1 = (case.recipes.per_portion(*each) for each in case.sides)
    gone = chance.choice(sorted(taken0.keys() | taken1.keys()))
    pair = gone, case.on[side]
    missing = replace(case.prices[pair], unit_price=None, basis="missing", observed=(), market=None)
    before = {part.ingredient: part for part in case.parts()}
    after = {p.ingredient: p for p in replace(case, prices={**case.prices, pair: missing}).parts()}
    name = INGREDIENTS[gone][0]
    part = after.pop(name)
    one = before.pop(name)
    assert part[("unit_price_then", "unit_price_now")[side]] is None
    if side == 1 or gone in taken0:
        assert part.left_out
    else:  # new in the recipe of now: it costs what it costs now
        assert (part.left_out, part.price_effect) == (one.left_out, one.price_effect)
        assert part.recipe_effect == one.recipe_effect
    for each, other in after.items():
        assert (other.price_effect, other.left_out) == (
            before[each].price_effect, before[each].left_out,
        )  # fmt: skip
        assert other.recipe_effect == before[each].recipe_effect


@LAWS
@given(seed=SEEDS, times=st.floats(0.1, 10))
def test_what_was_paid_then_moves_no_recipe_effect(seed: int, times: float) -> None:
    case = random_case(Random(seed))
    prices = {
        pair: price
        if price.unit_price is None or pair[1] == NOW
        else replace(price, unit_price=price.unit_price * times)
        for pair, price in case.prices.items()
    }
    for part, other in zip(case.parts(), replace(case, prices=prices).parts(), strict=True):
        assert (other.recipe_effect, other.recipe_parts) == (part.recipe_effect, part.recipe_parts)


@LAWS
@given(seed=SEEDS)
def test_an_unchanged_dish_has_no_recipe_effect(seed: int) -> None:
    case = random_case(Random(seed))
    version = case.recipes.versions[DISH][0]
    case = replace(case, sides=((version, THEN), (version, NOW)), recipes=frozen(case.recipes))
    for part in case.parts():
        if part.left_out:
            continue
        assert part.recipe_effect == 0
        assert part.recipe_parts is not None
        assert all(part.recipe_parts[name] == pytest.approx(0, abs=1e-12) for name in RECIPE)


def frozen(recipes: Recipes) -> Recipes:
    """Return the dishes each with its first version only."""
    return replace(recipes, versions={d: each[:1] for d, each in recipes.versions.items()})


@LAWS
@given(seed=SEEDS)
def test_equal_prices_have_no_price_effect(seed: int) -> None:
    case = random_case(Random(seed), gaps=False)
    prices = dict(case.prices)
    for ingredient, day in case.prices:
        then = prices[ingredient, THEN]
        prices[ingredient, day] = replace(then, on_date=day)
    for part in replace(case, prices=prices).parts():
        assert part.price_effect == 0
        assert part.price_parts is not None
        assert part.price_parts.bridged == pytest.approx(0, abs=1e-12)


@LAWS
@given(seed=SEEDS, times=st.floats(0.1, 10))
def test_scaling_the_batch_changes_nothing(seed: int, times: float) -> None:
    case = random_case(Random(seed))
    before = case.parts()
    for part, other in zip(before, scaled(case, 1, times).parts(), strict=True):
        assert other.left_out == part.left_out
        if part.left_out:
            continue
        assert other.recipe_effect == pytest.approx(part.recipe_effect, rel=1e-9, abs=1e-9)
        assert other.price_effect == pytest.approx(part.price_effect, rel=1e-9, abs=1e-9)
    # and a dish compared with itself times so many has no part of any kind
    version, _ = case.sides[0]
    case = replace(case, sides=((version, THEN), (version, NOW)), recipes=frozen(case.recipes))
    for part in scaled(case, 1, times).parts():
        if part.left_out:
            continue
        assert part.recipe_parts is not None
        for name in RECIPE:
            assert part.recipe_parts[name] == pytest.approx(0, abs=1e-9), name


def scaled(case: Case, side: int, times: float) -> Case:
    """Return the case with one side's batch and portions `times` over, as a version of its own."""
    version, day = case.sides[side]
    copy = replace(version, row=99, portions=version.portions * times)
    lines = [
        replace(
            line,
            amount=line.amount * times,
            as_purchased=None if line.as_purchased is None else line.as_purchased * times,
        )
        for line in case.recipes.lines[version.row]
    ]
    recipes = replace(case.recipes, lines={**case.recipes.lines, 99: lines})
    sides = [*case.sides]
    sides[side] = (copy, day)
    return replace(case, recipes=recipes, sides=(sides[0], sides[1]))


@LAWS
@given(seed=SEEDS, order=st.randoms(use_true_random=False))
def test_splitting_and_shuffling_lines_changes_nothing(seed: int, order: object) -> None:
    case = random_case(Random(seed))
    lines = {}
    for row, those in case.recipes.lines.items():
        halves = [half for line in those for half in split(line)]
        order.shuffle(halves)  # type: ignore[attr-defined]
        lines[row] = halves
    other = replace(case, recipes=replace(case.recipes, lines=lines))
    for part, again in zip(case.parts(), other.parts(), strict=True):
        assert again.left_out == part.left_out
        if part.left_out:
            continue
        assert again.price_effect == pytest.approx(part.price_effect, rel=1e-9, abs=1e-9)
        assert again.recipe_effect == pytest.approx(part.recipe_effect, rel=1e-9, abs=1e-9)
        assert part.recipe_parts is not None
        assert again.recipe_parts is not None
        for name in RECIPE:
            expected = pytest.approx(part.recipe_parts[name], rel=1e-9, abs=1e-9)
            assert again.recipe_parts[name] == expected, name


def split(line: Line) -> list[Line]:
    bought = None if line.as_purchased is None else line.as_purchased / 2
    return [replace(line, amount=line.amount / 2, as_purchased=bought)] * 2
