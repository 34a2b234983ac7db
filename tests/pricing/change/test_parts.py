"""The parts of a price effect and of a recipe effect, by pencil."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.change.records import Comparison, IngredientChange
from tests.kitchen import make_book

THEN, NOW = date(2020, 1, 20), date(2022, 1, 20)


def compared(folder: Path, files: dict[str, str]) -> tuple[Comparison, dict[str, IngredientChange]]:
    book = make_book(folder, files, series=())  # without a food series nothing moves unasked
    found = pricing.compare(book, "dish", then=THEN, now=NOW)
    return found, {part.ingredient: part for part in found.ingredients}


def test_sticker_and_pack(tmp_path: Path) -> None:
    found, parts = compared(
        tmp_path,
        {
            "ingredients": "ingredient,base\ncoffee,g\ntea,g\ncocoa,g",
            "prices": """
                ingredient,date,price,currency,pack,supplier,product
                coffee,2020-01-10,4.00,USD,400 g,Quay,Gull roast
                coffee,2022-01-10,5.00,USD,250 g,Quay,gull  ROAST
                tea,2020-01-10,4.00,USD,400 g,Quay,
                tea,2022-01-10,4.00,USD,250 g,Quay,
                cocoa,2020-01-10,4.00,USD,400 g,Quay,Bar
                cocoa,2022-01-10,4.00,USD,200 g,Mill,Bar
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                dish,1,2019-01-01,1,coffee,100,g
                dish,1,2019-01-01,1,tea,100,g
                dish,1,2019-01-01,1,cocoa,100,g
            """,
        },
    )
    coffee = parts["coffee"].price_parts
    assert coffee is not None
    # A gram: 0.010 → 0.020. First the sticker, 4 → 5, in the old pack: 5/400 − 4/400 = 0.0025; then
    # the pack, at the sticker of now: 5/250 − 5/400 = 0.0075; times 100 g
    assert coffee.sticker == pytest.approx(0.25)
    assert coffee.pack == pytest.approx(0.75)
    assert parts["coffee"].price_effect == pytest.approx(1.0)
    # without a product name, or at another supplier, another pack is not a shrunken one
    for name in ("tea", "cocoa"):
        split = parts[name].price_parts
        assert split is not None
        assert split.pack == 0
        assert split.sticker == pytest.approx(parts[name].price_effect)
    assert found.price_parts.pack == pytest.approx(0.75)


def test_a_smaller_pack_of_one_shop_counts_by_its_part_of_all_prices(tmp_path: Path) -> None:
    _, parts = compared(
        tmp_path,
        {
            "ingredients": "ingredient,base\ncoffee,g\ntea,g",
            "prices": """
                ingredient,date,price,currency,pack,supplier,product
                coffee,2020-01-10,4.00,USD,400 g,Quay,Gull roast
                coffee,2020-01-10,5.00,USD,500 g,Mill,Mill roast
                coffee,2022-01-10,4.00,USD,250 g,Quay,Gull roast
                coffee,2022-01-10,5.00,USD,500 g,Mill,Mill roast
                coffee,2022-01-10,6.00,USD,500 g,Lane,Lane roast
                tea,2020-01-10,4.00,USD,400 g,Quay,Leaf
                tea,2020-01-10,5.00,USD,500 g,Mill,Leaf
                tea,2022-01-10,4.00,USD,250 g,Quay,Leaf
                tea,2022-01-10,5.00,USD,500 g,Mill,Leaf
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                dish,1,2019-01-01,1,coffee,100,g
                dish,1,2019-01-01,1,tea,100,g
            """,
        },
    )
    # Coffee: two prices then, both 0.010 a g; three now, 0.016, 0.010 and 0.012, in the mean
    # 0.0126667. One pack shrank, 400 to 250 g, half of the price then and a third now, 5/12 in the
    # mean: all packs together raised the price by 1.6^(5/12) = 1.216326. The pack of then would
    # cost 0.0126667 ÷ 1.216326 = 0.01041387 a g now; pack (0.0126667 − 0.01041387) × 100 g.
    coffee = parts["coffee"].price_parts
    assert coffee is not None
    assert parts["coffee"].price_effect == pytest.approx(0.266667, abs=1e-6)
    assert coffee.pack == pytest.approx(0.225279, abs=1e-6)
    assert coffee.sticker == pytest.approx(0.266667 - 0.225279, abs=2e-6)
    # Tea: two prices on both days; now the mean of 0.016 and 0.010. 1.6^(1/2) = 1.264911;
    # 0.013 ÷ 1.264911 = 0.01027740; (0.013 − 0.01027740) × 100
    tea = parts["tea"].price_parts
    assert tea is not None
    assert tea.pack == pytest.approx(0.272260, abs=1e-6)


def test_seen_and_bridged(tmp_path: Path) -> None:
    _, parts = compared(
        tmp_path,
        {
            "index": """
                series,month,value,title
                t:x,2019-01,100,X
                t:x,2020-01,110,X
                t:x,2022-01,143,X
            """,
            "ingredients": "ingredient,base,series\nflour,g,t:x\nrice,g,t:x\noats,g,",
            "prices": """
                ingredient,date,price,currency,pack
                flour,2019-01-10,1.00,USD,1 kg
                flour,2022-01-10,1.50,USD,1 kg
                rice,2022-01-10,2.60,USD,1 kg
                oats,2020-01-10,1.00,USD,1 kg
                oats,2022-01-10,1.20,USD,1 kg
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                dish,1,2019-01-01,1,flour,1,kg
                dish,1,2019-01-01,1,rice,1,kg
                dish,1,2019-01-01,1,oats,1,kg
            """,
        },
    )
    # rice then: 2.60 moved back by 110/143 = 2.00. Both ends rest on the one price that was seen,
    # so nothing of the rise of 0.60 was seen.
    rice = parts["rice"]
    assert rice.price_parts is not None
    assert rice.price_effect == pytest.approx(0.60)
    assert (rice.price_parts.seen, rice.price_parts.bridged) == (
        pytest.approx(0, abs=1e-12),
        pytest.approx(0.60),
    )
    # flour then lies between 1.00 (10 January 2019) and 1.50: seen, from the one to the other, is
    # 0.50; the path lay above the first end by what is bridged, counted the other way
    flour = parts["flour"]
    assert flour.price_parts is not None
    days, of = (THEN - date(2019, 1, 10)).days, (date(2022, 1, 10) - date(2019, 1, 10)).days
    # the path of the index, bent from the 46th day on so that it meets 1.50
    then = 1.00 * 1.10 * (1.5 / 1.43) ** ((days - 45) / (of - 45))
    assert flour.unit_price_then == pytest.approx(then / 1000)
    assert flour.price_parts.seen == pytest.approx(0.50)
    assert flour.price_parts.bridged == pytest.approx(-(then - 1.00))
    oats = parts["oats"].price_parts
    assert oats is not None
    assert (oats.seen, oats.bridged) == (pytest.approx(0.20), 0)


RECIPE = {
    "ingredients": """
        ingredient,base,yield_pct
        beef,g,
        leek,g,50
        stock,g,
        salt,g,
        cream,g,
        milk,g,
    """,
    # 5.00 a kg then, 10.00 now: the recipe's part is at prices of now
    "prices": """
        ingredient,date,price,currency,pack
        beef,2020-01-10,5.00,USD,1 kg
        leek,2020-01-10,5.00,USD,1 kg
        salt,2020-01-10,5.00,USD,1 kg
        cream,2020-01-10,5.00,USD,1 kg
        beef,2022-01-10,10.00,USD,1 kg
        leek,2022-01-10,10.00,USD,1 kg
        stock,2022-01-10,10.00,USD,1 kg
        salt,2022-01-10,10.00,USD,1 kg
        cream,2022-01-10,10.00,USD,1 kg
        milk,2022-01-10,10.00,USD,1 kg
    """,
}


def test_more_or_less_trim_added_dropped(tmp_path: Path) -> None:
    found, parts = compared(
        tmp_path,
        {
            **RECIPE,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit,state
                dish,1,2019-01-01,2,beef,600,g,
                dish,1,2019-01-01,2,leek,100,g,edible
                dish,1,2019-01-01,2,salt,10,g,
                dish,2,2021-01-01,2,beef,400,g,
                dish,2,2021-01-01,2,leek,100,g,
                dish,2,2021-01-01,2,stock,50,g,
            """,
        },
    )
    by = {name: part.recipe_parts for name, part in parts.items()}
    beef, leek, stock, salt = (by[name] for name in ("beef", "leek", "stock", "salt"))
    assert beef is not None
    assert leek is not None
    assert stock is not None
    assert salt is not None
    # a portion: 300 → 200 g beef at 0.01; leek 100 edible of 50 % = 200 bought → 100 bought: the
    # amount needed is the same, the trim went from 2 to 1; 25 g stock new; 5 g salt gone
    assert beef.amount == pytest.approx(-1.00)
    assert (leek.amount, leek.trim) == (0, pytest.approx(-0.50))
    assert stock.added == pytest.approx(0.25)
    assert salt.dropped == pytest.approx(-0.05)
    total = found.recipe_parts
    assert (total.amount, total.trim, total.added, total.dropped) == (
        pytest.approx(-1.0), pytest.approx(-0.5), pytest.approx(0.25), pytest.approx(-0.05),
    )  # fmt: skip
    assert (total.portions, total.swapped) == (0, 0)


def test_the_same_batch_for_more_people(tmp_path: Path) -> None:
    found, parts = compared(
        tmp_path,
        {
            **RECIPE,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                dish,1,2019-01-01,4,beef,400,g
                dish,1,2019-01-01,4,leek,400,g
                dish,1,2019-01-01,4,salt,40,g
                dish,2,2021-01-01,8,beef,400,g
                dish,2,2021-01-01,8,leek,400,g
                dish,2,2021-01-01,8,salt,20,g
            """,
        },
    )
    # beef and leek, two of three, are as before: the batch has not grown, it serves 8 instead of 4.
    # Each of them: 100 → 50 g at 0.01, all of it by the portions.
    for name in ("beef", "leek"):
        split = parts[name].recipe_parts
        assert split is not None
        assert (split.amount, split.portions) == (0, pytest.approx(-0.50))
    # salt: 40/4 → 20/8 g. Half as much in the batch and half as much of the batch, each weighted by
    # the mean of the other: −20 · ½(1/4 + 1/8) and 30 · (1/8 − 1/4), at 0.01
    salt = parts["salt"].recipe_parts
    assert salt is not None
    assert salt.amount == pytest.approx(-20 * 0.1875 * 0.01)
    assert salt.portions == pytest.approx(30 * -0.125 * 0.01)
    assert found.recipe_parts.portions == pytest.approx(-1.0375)


def test_a_batch_for_twice_as_many_is_the_same_recipe(tmp_path: Path) -> None:
    found, parts = compared(
        tmp_path,
        {
            **RECIPE,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                dish,1,2019-01-01,4,beef,400,g
                dish,1,2019-01-01,4,leek,400,g
                dish,1,2019-01-01,4,salt,40,g
                dish,2,2021-01-01,8,beef,800,g
                dish,2,2021-01-01,8,leek,800,g
                dish,2,2021-01-01,8,salt,40,g
            """,
        },
    )
    beef, salt = parts["beef"].recipe_parts, parts["salt"].recipe_parts
    assert beef is not None
    assert salt is not None
    assert (beef.amount, beef.portions) == (0, 0)
    # the salt stayed: in a batch twice the size that is half as much, 10 → 5 g a portion
    assert (salt.amount, salt.portions) == (pytest.approx(-0.05), 0)
    assert found.recipe_effect == pytest.approx(-0.05)


@pytest.mark.parametrize("swap", ["cream,milk,2", "milk,cream,0.5"])
def test_a_named_swap_pairs_what_went_with_what_came(tmp_path: Path, swap: str) -> None:
    found, parts = compared(
        tmp_path,
        {
            **RECIPE,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                dish,1,2019-01-01,1,cream,100,g
                dish,1,2019-01-01,1,salt,10,g
                dish,2,2021-01-01,1,milk,150,g
                dish,2,2021-01-01,1,stock,10,g
            """,
            "swaps": f"ingredient,substitute,ratio\n{swap}",
        },
    )
    cream, milk = parts["cream"].recipe_parts, parts["milk"].recipe_parts
    assert cream is not None
    assert milk is not None
    assert (cream.swapped, cream.swapped_with, cream.dropped) == (pytest.approx(-1.0), "milk", 0)
    assert (milk.swapped, milk.swapped_with, milk.added) == (pytest.approx(1.5), "cream", 0)
    assert found.recipe_parts.swapped == pytest.approx(0.5)
    assert found.recipe_parts.dropped == pytest.approx(-0.1)  # salt, which nothing stands in for
    assert found.recipe_parts.added == pytest.approx(0.1)


def test_the_dishs_own_ingredients_move_the_old_figure(tmp_path: Path) -> None:
    found, _ = compared(
        tmp_path,
        {
            "ingredients": "ingredient,base\nflour,g\nbutter,g",
            "prices": """
                ingredient,date,price,currency,pack
                flour,2020-01-10,1.00,USD,1 kg
                butter,2020-01-10,8.00,USD,1 kg
                flour,2022-01-10,2.00,USD,1 kg
                butter,2022-01-10,10.00,USD,1 kg
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                dish,1,2019-01-01,1,flour,1,kg
                dish,1,2019-01-01,1,butter,250,g
                dish,2,2021-01-01,1,flour,1,kg
            """,
        },
    )
    # 1.00 + 2.00 = 3.00 then; the same at the prices of now: 2.00 + 2.50 = 4.50, a factor of 1.5
    assert found.rebased_own.amount == pytest.approx(4.50)
    assert found.rebased_own.factor == pytest.approx(1.5)
