"""Laws of then and now, over random recipes, yields, packs, sub-recipes and gaps."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pricing.change.records import IngredientChange
from pricing.dishes.recipes import Line, Recipes
from tests.loops import rounds
from tests.properties.random_changes import DISH, NOW, THEN, Case, random_case

LAWS = settings(max_examples=rounds(120), deadline=None)
SEEDS = st.integers(0, 10**9)
PRICE = ("sticker", "pack"), ("seen", "bridged")
RECIPE = ("amount", "trim", "portions", "added", "dropped", "swapped")


def sums(parts: list[IngredientChange]) -> tuple[float, float]:
    return sum(p.price_effect for p in parts), sum(p.recipe_effect for p in parts)


def test_ten_thousand_comparisons_add_up() -> None:
    chance = Random(20261124)
    seen = {"pack": 0, "bridged": 0, "trim": 0, "portions": 0, "swapped": 0, "marked": 0}
    for _ in range(rounds(10_000)):
        case = random_case(chance)
        parts = case.parts()
        price, recipe = sums(parts)
        # the costs are summed line by line in Case.cost, which knows nothing of effects
        change = case.cost(1, 1) - case.cost(0, 0)
        assert price + recipe == pytest.approx(change, abs=1e-9)
        for part in parts:
            by_price, by_recipe = part.price_parts, part.recipe_parts
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
            seen["marked"] += part.marked
    assert min(seen.values()) > rounds(300), seen  # every kind of change was among them


@LAWS
@given(seed=SEEDS)
def test_turning_round_changes_the_sign_of_every_part(seed: int) -> None:
    case = random_case(Random(seed))
    there, back = case.parts(), case.turned().parts()
    for one, other in zip(there, back, strict=True):
        assert other.price_effect == pytest.approx(-one.price_effect, abs=1e-9)
        assert other.recipe_effect == pytest.approx(-one.recipe_effect, abs=1e-9)
        assert one.price_parts is not None
        assert other.price_parts is not None
        for name in ("sticker", "pack", "seen", "bridged"):
            assert other.price_parts[name] == pytest.approx(-one.price_parts[name], abs=1e-9), name
        assert one.recipe_parts is not None
        assert other.recipe_parts is not None
        swapped = {"added": "dropped", "dropped": "added"}
        for name in RECIPE:
            turned = other.recipe_parts[swapped.get(name, name)]
            assert turned == pytest.approx(-one.recipe_parts[name], abs=1e-9), name


@LAWS
@given(seed=SEEDS)
def test_an_unchanged_dish_has_no_recipe_effect(seed: int) -> None:
    case = random_case(Random(seed))
    version = case.recipes.versions[DISH][0]
    case = replace(case, sides=((version, THEN), (version, NOW)), recipes=frozen(case.recipes))
    for part in case.parts():
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
        assert other.recipe_effect == pytest.approx(part.recipe_effect, rel=1e-9, abs=1e-9)
        assert other.price_effect == pytest.approx(part.price_effect, rel=1e-9, abs=1e-9)
    # and a dish compared with itself times so many has no part of any kind
    version, _ = case.sides[0]
    case = replace(case, sides=((version, THEN), (version, NOW)), recipes=frozen(case.recipes))
    for part in scaled(case, 1, times).parts():
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
