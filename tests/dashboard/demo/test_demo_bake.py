"""The mushroom and rye bake of the demo, and what its lines rest on: by hand from the receipts."""

from __future__ import annotations

from datetime import date

import pytest

import pricing
from dashboard.words.change import change_paragraph
from pricing.book.connect import Book
from pricing.swaps.of_dish import find_swaps
from tests.dashboard.demo.by_hand import NEWS, WAREHOUSE, both, mean
from tests.kitchen import TODAY

LB, OZ = 453.59237, 28.349523125  # g
BAKE = "mushroom and rye bake"

# Price of a pound of mushrooms at the warehouse (24 oz at 6.49, 10 November 2026) and the grocer
# (8 oz at 2.59, 17 days before). The wholesaler (10 lb at 28.30, by invoice) is not a shop.
MUSHROOMS = mean(WAREHOUSE, (6.49 / 1.5, WAREHOUSE), (2.59 * 2, date(2026, 10, 24)))
WHOLESALER = 28.30 / 10

# Version 2025, 8 portions, 24 November 2026: how much the batch takes, and the price of that much.
LINES = {
    "mushrooms": (1.25 / 0.97, MUSHROOMS),  # lb, 97 % edible
    # lb, 80 % edible: the mean of 2.39 lb at 1.79 and a head of 1135 g at 1.90
    "green cabbage": (1 / 0.80, (1.79 / 2.39 + 1.90 / (1135 / LB)) / 2),
    "rye bread": (15 * 34 / LB, 4.99),  # 15 slices of 34 g; 16 oz at 4.99
    "eggs": (8, mean(NEWS, (2.49 / 12, NEWS), (2.75 / 12, NEWS), (5.79 / 30, WAREHOUSE))),
    # 16 cups to the gallon: 4.49, and 3.99 of November 2024 moved from 258.013 to 267.921
    "whole milk": (
        3.5 / 16, mean(NEWS, (4.49, NEWS), (3.99 * 267.921 / 258.013, date(2024, 11, 14)))
    ),
    "chicken broth": (12, both(2.79 / 32, 13.99 / 192)),  # fl oz
    # oz: 8 at 4.29, and 16 at 7.99 of July 2023 moved from 267.792 to 258.372
    "parmesan": (
        4, mean(NEWS, (4.29 / 8, NEWS), (7.99 / 16 * 258.372 / 267.792, date(2023, 7, 13)))
    ),
    "sharp cheddar": (2 / 16, both(5.89, 11.49 / 2)),  # lb
    # lb, 90 % edible: and 10 lb at 8.39 of September 2022 moved from 373.516 to 395.023
    "onions": (
        12 / 16 / 0.90,
        mean(
            NEWS, (2.79 / 3, NEWS), (1.10, NEWS),
            (8.39 / 10 * 395.023 / 373.516, date(2022, 9, 8)),
        ),
    ),
    "butter": (3 * 14.19 / LB, both(4.39, 8.19 / 2)),  # tablespoons of 14.19 g
    "garlic": (4 * 3.45 / 41.4, 0.65),  # cloves of a head of twelve
    # Without a series of their own, moved by food at home to 321.500. Sheets, 6.5 % tax: from
    # 318.898
    "baking parchment": (1, 5.49 * 1.065 / 30 * 321.500 / 318.898),
    # oz: from 312.815 of March 2025
    "caraway seeds": (6 / OZ, 4.49 / 1.5 * 321.500 / 312.815),
    # 2 tsp of a cup of 292 g; 3 lb at 3.29 moved from 194.988 to 198.894
    "table salt": (12.17 / LB, 3.29 / 3 * 198.894 / 194.988),
    # half a teaspoon, 1.15 g; 18 oz at 20.49 moved from 194.010 to 198.894
    "black pepper": (1.15 / LB, 20.49 / 18 * 16 * 198.894 / 194.010),
}  # fmt: skip
PANTRY = ("baking parchment", "caraway seeds", "table salt", "black pepper")


def test_the_bake_by_hand(demo: Book) -> None:
    cost = pricing.cost_dish(demo, BAKE, on=TODAY)
    assert (cost.version, cost.portions, cost.complete) == ("2025", 8, True)
    by_hand = {name: amount * price for name, (amount, price) in LINES.items()}
    found = {line.ingredient: line.cost for line in cost.lines}
    assert found == pytest.approx(by_hand, abs=1e-3)
    # demo_prices/README.md: 2.69 a portion
    assert round(sum(by_hand.values()) / 8, 2) == 2.69
    assert cost.cost_per_portion == pytest.approx(sum(by_hand.values()) / 8, abs=1e-3)
    assert cost.pantry_per_portion == pytest.approx(
        sum(by_hand[name] for name in PANTRY) / 8, abs=1e-3
    )


def test_two_swaps_bring_the_bake_under_its_target(demo: Book) -> None:
    found = find_swaps(demo, BAKE, on=TODAY, target=2.35)
    assert found.target is not None
    assert found.target.reached
    # over eight portions: 1.289 lb of mushrooms at 2.83 in place of 4.74 save 0.31; cheddar at 5.82
    # in place of parmesan at 8.57, 4 oz, saves 0.09
    box = LINES["mushrooms"][0] * (MUSHROOMS - WHOLESALER) / 8
    cheddar = (4 * LINES["parmesan"][1] - 4 / 16 * LINES["sharp cheddar"][1]) / 8
    chosen = {(each.ingredient, each.substitute): each.saving for each in found.target.chosen}
    assert chosen == pytest.approx(
        {("mushrooms", "mushrooms"): box, ("parmesan", "sharp cheddar"): cheddar}, abs=1e-5
    )
    whole = sum(amount * price for amount, price in LINES.values()) / 8
    assert whole - box > 2.35  # one alone would not do
    assert found.target.cost_per_portion == pytest.approx(whole - box - cheddar, abs=1e-3)


def test_the_smaller_loaf_by_hand(demo: Book) -> None:
    found = pricing.compare(demo, BAKE, then=(date(2012, 11, 8), "2011"), now=TODAY)
    (bread,) = [each for each in found.ingredients if each.ingredient == "rye bread"]
    # 12 slices of 34 g for six, 15 for eight; 20 oz at 2.59 then, 16 oz at 4.99 now. One product of
    # one shop on both days: 20 oz → 16 oz is a factor 1.25 on the price of an ounce
    a0, a1 = 12 * 34 / 6, 15 * 34 / 8
    u0, u1 = 2.59 / (20 * OZ), 4.99 / (16 * OZ)
    assert (bread.quantity_then, bread.quantity_now) == pytest.approx((a0, a1))
    # a loaf of 2019 from the shop that closed still counts 2^(−2667/180), 35 in a million
    assert bread.price_effect == pytest.approx(a0 * (u1 - u0), abs=2e-5)
    assert bread.price_parts is not None
    pack = a0 * (u1 - u1 / 1.25)
    assert bread.price_parts.pack == pytest.approx(pack, abs=2e-5)
    assert round(pack, 2) == 0.15
    assert "$0.15 is smaller packs: rye bread" in change_paragraph(found)
