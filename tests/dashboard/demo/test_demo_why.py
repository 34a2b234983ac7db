"""What the demo kitchen teaches about its costs: checked by hand from its receipts."""

from __future__ import annotations

import csv
from datetime import date
from decimal import Decimal

import pytest

import pricing
from dashboard.demo import FOLDER
from dashboard.words.change import change_paragraph
from pricing.book.connect import Book, reading
from pricing.prices.packs_changed import packs_changed
from tests.dashboard.demo.by_hand import NEWS, WAREHOUSE, between, both, mean
from tests.dashboard.demo.by_oracle import cost
from tests.kitchen import TODAY

LB, CUP, QUART_OZ = 453.59237, 236.5882365, 29.5735295625  # g; ml; ml in a fl oz

# Beef and oat meatloaf, 8 portions, 13 September 2012 → 24 November 2026. Per line: how much the
# batch takes then and now, price of that much then (None: only the recipe of now takes it) and now,
# from the receipts of demo_prices/prices_*.csv; index values: BLS, as bundled, August's held.
MEATLOAF = {
    # lb: 3.19 on 14 July and 24 November 2012 (133 days apart; 61 gone), ground beef 245.052,
    # 244.391, 245.080; now 5.79, and 5.18 lb at 25.33 of September 2025, 419.692 to 447.876
    "ground beef": (
        2.25, 1.0,
        between(3.19, 3.19, 244.391, 245.052, 245.080, 61, 133),
        mean(NEWS, (5.79, NEWS), (25.33 / 5.18 * 447.876 / 419.692, date(2025, 9, 18))),
    ),
    # lb: on 28 March 2026 5.19, and 60 oz at 14.99 of September 2022 moved from 197.642 to 215.987;
    # the mean moved on to 226.446
    "ground turkey": (
        0.0, 0.75, None,
        mean(
            date(2026, 3, 28),
            (5.19, date(2026, 3, 28)),
            (14.99 / 3.75 * 215.987 / 197.642, date(2022, 9, 8)),
        ) * 226.446 / 215.987,
    ),
    # half a cup of 192 g = 96 g, 1.79 a lb on 24 October 2026
    "brown lentils": (0.0, 96 / LB, None, 1.79),
    # 81 g: 42 oz at 3.39 (4 February 2012); on 19 September 2013 10 lb at 11.99, and the 42 oz
    # moved (593 days, 222 gone; cereal 227.984, 224.227, 227.447); now 42 oz at 4.49 and 10 lb at
    # 14.49
    "rolled oats": (
        81 / LB, 81 / LB,
        between(
            3.39 / 2.625,
            mean(
                date(2013, 9, 19),
                (11.99 / 10, date(2013, 9, 19)),
                (3.39 / 2.625 * 227.447 / 227.984, date(2012, 2, 4)),
            ),
            224.227, 227.984, 227.447, 222, 593,
        ),
        mean(NEWS, (4.49 / 2.625, NEWS), (14.49 / 10, date(2026, 10, 21))),
    ),
    # each: 1.89 and, five weeks older, 2.25 a dozen; now 2.49 and 2.75 a dozen and 5.79 for 30
    "eggs": (
        2, 2,
        mean(date(2012, 9, 8), (1.89 / 12, date(2012, 9, 8)), (2.25 / 12, date(2012, 8, 4))),
        mean(NEWS, (2.49 / 12, NEWS), (2.75 / 12, NEWS), (5.79 / 30, WAREHOUSE)),
    ),
    # a large one, 150 g of 90 % = 166.67 g: 3 lb at 2.19; now 2.79/3 and 1.10, and 10 lb at 8.39 of
    # September 2022 moved from 373.516 to 395.023
    "onions": (
        166.67 / LB, 166.67 / LB, 2.19 / 3,
        mean(
            NEWS, (2.79 / 3, NEWS), (1.10, NEWS),
            (8.39 / 10 * 395.023 / 373.516, date(2022, 9, 8)),
        ),
    ),
    # half a cup: a gallon at 3.39; now at 4.49, and 3.99 of November 2024 moved from 258.013 to
    # 267.921
    "whole milk": (
        CUP / 2, CUP / 2, 3.39 / (128 * QUART_OZ),
        mean(NEWS, (4.49, NEWS), (3.99 * 267.921 / 258.013, date(2024, 11, 14)))
        / (128 * QUART_OZ),
    ),
    # a can of 170 g, priced by 6 oz (170.097 g): 0.69; now 0.95 moved from 225.310 to 251.674
    "tomato paste": (170 / 170.097, 170 / 170.097, 0.69, 0.95 * 251.674 / 225.310),
    # 2 tbsp of a cup of 220 g = 27.5 g: 2 lb at 1.89, now 2.59
    "brown sugar": (27.5 / LB, 27.5 / LB, 1.89 / 2, 2.59 / 2),
    # a tablespoon, half a fl oz: 32 fl oz at 3.09; now 16 at 2.19 moved from 315.203 to 331.591
    "cider vinegar": (0.5, 0.5, 3.09 / 32, 2.19 / 16 * 331.591 / 315.203),
    # 2 tsp of a cup of 292 g = 12.17 g: 3 lb at 2.29 (25 February) and 2.19 (3 November 2012; 252
    # days, 201 gone), seasonings 139.874, 136.876, 134.127; now 3.29 moved from 194.988 to 198.894
    "table salt": (
        12.17 / LB, 12.17 / LB,
        between(2.29 / 3, 2.19 / 3, 136.876, 139.874, 134.127, 201, 252),
        3.29 / 3 * 198.894 / 194.988,
    ),
    # a teaspoon, 2.3 g: 4 oz at 3.79; on 19 March 2026 18 oz at 20.49, and 4 oz at 5.09 of May 2023
    # moved from 187.003 to 194.010; the mean moved on to 198.894
    "black pepper": (
        2.3 / LB, 2.3 / LB, 3.79 * 4,
        mean(
            date(2026, 3, 19),
            (20.49 / 18 * 16, date(2026, 3, 19)),
            (5.09 * 4 * 194.010 / 187.003, date(2023, 5, 27)),
        ) * 198.894 / 194.010,
    ),
}  # fmt: skip


def test_the_paragraph_of_the_meatloaf_by_hand(demo: Book) -> None:
    # first prices, a0 (u1 − u0), then the recipe, (a1 − a0) u1
    then = sum(a0 * (u0 or 0.0) / 8 for a0, _, u0, _ in MEATLOAF.values())
    prices = {n: a0 * (u1 - (u0 or 0.0)) / 8 for n, (a0, _, u0, u1) in MEATLOAF.items()}
    recipe = {n: u1 * (a1 - a0) / 8 for n, (a0, a1, _, u1) in MEATLOAF.items()}
    # by hand: 1.12 then, prices 0.80 (beef alone 0.71), recipe −0.89 beef, +0.51 turkey, +0.05
    # lentils: 1.12 + 0.80 = 1.92, and 1.59 now
    assert (round(then, 2), round(sum(prices.values()), 2)) == (1.12, 0.80)
    assert round(prices["ground beef"], 2) == 0.71
    assert [round(recipe[n], 2) for n in ("ground beef", "ground turkey", "brown lentils")] == [
        -0.89, 0.51, 0.05,
    ]  # fmt: skip
    found = pricing.compare(
        demo, "beef and oat meatloaf", then=(date(2012, 9, 13), "2012"), now=TODAY
    )
    assert found.price_effect == pytest.approx(sum(prices.values()), abs=2e-4)
    assert found.recipe_effect == pytest.approx(sum(recipe.values()), abs=2e-4)
    assert change_paragraph(found) == (
        "On 13 September 2012 a portion cost $1.12. The recipe as printed, today, costs $1.92: "
        "$0.80 more, mostly ground beef. The rework saves $0.33 today: less ground beef (−$0.89), "
        "ground turkey added (+$0.51), brown lentils added (+$0.05). That makes $1.59 a portion."
    )


def test_the_paragraph_of_the_macaroni_by_hand(demo: Book) -> None:
    # 6 portions, 12 January 2012 → 24 November 2026. The bake takes one and a half batches of white
    # sauce; a rework of the sauce took its butter from 4 to 3 tablespoons: 6 → 4.5, and 2 more on
    # top: 8 → 6.5 tablespoons of 14.19 g. Grocer and warehouse count almost alike now.
    butter = 14.19 / LB

    lines = [
        # macaroni, 1 lb: 1.19; now 1.49, and 6 at 8.49
        (1, 1, 1.19, both(1.49, 8.49 / 6)),
        # cheddar, 12 oz: 2.79 for 8 oz; now 5.89 for 16 oz and 11.49 for 2 lb
        (0.75, 0.75, 2.79 * 2, both(5.89, 11.49 / 2)),
        # butter 3.19 a lb then; now 4.39, and 2 lb at 8.19
        (8 * butter, 6.5 * butter, 3.19, both(4.39, 8.19 / 2)),
        # flour, 46.87 g: 5 lb at 2.49; now 5 lb at 3.39 and 25 lb at 13.99
        (46.87 / LB, 46.87 / LB, 2.49 / 5, both(3.39 / 5, 13.99 / 25)),
        # milk, 3 3/8 cups of the 16 in a gallon: 3.59, now as in the meatloaf
        (3.375 / 16, 3.375 / 16, 3.59, MEATLOAF["whole milk"][3] * 128 * QUART_OZ),
        # salt, 4.56 g: 3 lb at 2.29 moved back from 139.874 to 138.383; 3.29 moved on as above
        (4.56 / LB, 4.56 / LB, 2.29 / 3 * 138.383 / 139.874, 3.29 / 3 * 198.894 / 194.988),
        # nutmeg, 0.4375 g of 1.1 oz: 3.09 (28 May 2011), 3.29 (24 November 2012; 546 days, 229
        # gone), seasonings 126.809, 138.383, 134.127; 3.79 moved from 154.680 to 198.894
        (
            0.4375 / 31.184, 0.4375 / 31.184,
            between(3.09, 3.29, 138.383, 126.809, 134.127, 229, 546),
            3.79 * 198.894 / 154.680,
        ),
        # breadcrumbs, 54 g of 15 oz: 1.79 moved from 306.093 to 299.362; 2.69, August's index held
        (54 / 425.243, 54 / 425.243, 1.79 * 299.362 / 306.093, 2.69),
        # mustard, 15.56 g of 12 oz: 2.69, now 3.99
        (15.56 / 340.194, 15.56 / 340.194, 2.69, 3.99),
        # smoked paprika, 1.133 g of 2 oz: 3.39 moved from 138.294 to 138.383, now 4.79
        (1.133 / 56.699, 1.133 / 56.699, 3.39 * 138.383 / 138.294, 4.79),
    ]  # fmt: skip
    prices = [a0 * (u1 - u0) / 6 for a0, _, u0, u1 in lines]
    recipe = [(a1 - a0) * u1 / 6 for a0, a1, _, u1 in lines]
    # 1.24 then; by hand 0.189 by prices to 1.43, and −0.033 by the recipe to 1.40
    assert round(sum(a0 * u0 / 6 for a0, _, u0, _ in lines), 3) == 1.242
    assert round(sum(prices), 3) == 0.189
    assert round(sum(recipe), 3) == -0.033
    # butter, macaroni and milk make up more than half of 0.189, in falling order
    assert [round(prices[n], 3) for n in (2, 0, 4)] == [0.044, 0.044, 0.031]
    assert prices[2] > prices[0]
    found = pricing.compare(
        demo, "macaroni and cheddar bake", then=(date(2012, 1, 12), "2011"), now=TODAY
    )
    assert found.price_effect == pytest.approx(sum(prices), abs=2e-4)
    assert found.recipe_effect == pytest.approx(sum(recipe), abs=2e-4)
    assert change_paragraph(found) == (
        "On 12 January 2012 a portion cost $1.24. The recipe as printed, today, costs $1.43: $0.19 "
        "more, mostly butter, elbow macaroni and whole milk. The rework saves $0.03 today: less "
        "butter (−$0.03). That makes $1.40 a portion."
    )


def test_every_paragraph_adds_up_as_it_is_read(demo: Book) -> None:
    import re

    from pricing.contents.printed import first_printed, list_printed

    with reading(demo):  # opened once for all
        changes = [
            pricing.compare(demo, each.dish, then=(each.costed_on, each.version), now=TODAY)
            for each in first_printed(list_printed(demo)).values()
        ]
    for found in changes:
        words = change_paragraph(found)
        assert words.endswith(".")
        money = r"\$([\d.]+)"
        then = Decimal(re.search(rf"a portion cost {money}\.", words)[1])  # type: ignore[index]
        moved = then
        if told := re.search(rf"today, costs {money}: {money} (more|less)", words):
            moved = Decimal(told[1])
            assert moved - then == Decimal(told[2]) * (1 if told[3] == "more" else -1), words
        else:
            assert "today, costs the same" in words
        told = re.search(
            rf"The rework (adds|saves) {money} today: (.*?)\. That makes {money}", words
        )
        if told is None:
            assert "The rework changes nothing" in words or "rework" not in words
            continue
        amounts = [
            Decimal(amount) * (-1 if sign == "−" else 1)
            for sign, amount in re.findall(rf"\(([+−]){money}\)", told[3])
        ]
        whole = Decimal(told[2]) * (-1 if told[1] == "saves" else 1)
        assert sum(amounts) == whole, words
        assert moved + whole == Decimal(told[4]), words


def test_the_figure_that_was_wrong_when_printed_is_found(demo: Book) -> None:
    found = pricing.check_printed(demo)
    wrong = [each for each in found.figures if each.then == "differs"]
    # demo_prices/README.md: printed 3.48 in November 2014, 5.00 by what was known then; 5.01 by all
    # that the book knows now
    assert [(each.dish, each.printed) for each in wrong] == [("cod and mussel stew", 3.48)]
    assert wrong[0].published_on == date(2014, 11, 13)
    by_oracle = cost(demo, "cod and mussel stew", date(2014, 11, 13), "2014")
    assert round(by_oracle, 2) == 5.01
    assert wrong[0].recosted_then == pytest.approx(by_oracle, rel=1e-9)
    assert found.complete
    # the README's other figures: still true (2023, 2024), too high now (baked eggs of 2025)
    by = {(each.dish, each.published_on.year): each for each in found.figures}
    assert by["macaroni and cheddar bake", 2023].now == "holds"
    assert by["peanut noodles with cabbage", 2024].now == "holds"
    eggs = by["baked eggs in tomato and pepper sauce", 2025]
    assert (eggs.then, eggs.now) == ("agrees", "stale")
    assert (eggs.off_now_pct or 0) < 0
    # right by what was known; a later price of vanilla tells that it was less
    cake = by["cocoa and coffee sheet cake", 2025]
    assert (cake.then, cake.printed) == ("agrees", 0.55)
    assert (cake.recosted_then or 1) < (cake.known_then or 0) - 0.02


def test_figures_that_were_replaced_stand_apart_and_one_is_not_out_yet(demo: Book) -> None:
    found = pricing.check_printed(demo)
    with (FOLDER / "printed.csv").open(newline="") as text:
        rows = [row for row in csv.DictReader(text) if row["published_on"] <= str(TODAY)]
    last = dict(sorted((row["dish"], row["published_on"]) for row in rows))
    assert {(each.dish, str(each.published_on)) for each in found.in_force} - set(last.items()) == {
        ("squash and rye hand pies", "2027-02-11")
    }
    assert len(found.superseded) == len(rows) - len(last) == 11
    (pies,) = (each for each in found.figures if each.published_on > TODAY)
    assert (pies.then, pies.costed_on) == ("agrees", date(2026, 11, 20))


def test_the_shrunken_packs_are_found(demo: Book) -> None:
    found = packs_changed(demo, first=date(2011, 1, 1), last=TODAY)
    # demo_prices/README.md, "Smaller packs, same sticker"
    told = {
        (each.ingredient, each.pack_before, each.pack_after, each.after_on.year) for each in found
    }
    assert told == {
        ("peanut butter", "18 oz", "16 oz", 2013),
        ("ground coffee", "16 oz", "14 oz", 2014),
        ("ground coffee", "14 oz", "12 oz", 2022),
        ("chocolate chips", "12 oz", "11.5 oz", 2016),
        ("chocolate chips", "11.5 oz", "10 oz", 2024),
        ("rye bread", "20 oz", "16 oz", 2017),
        ("canned tuna", "6 oz", "5 oz", 2019),
    }
    assert all(each.sticker_relative == 1 for each in found)


def test_the_pack_effect_of_the_tuna_by_hand(demo: Book) -> None:
    found = pricing.compare(
        demo, "green bean, potato and tuna salad", then=date(2013, 8, 8), now=TODAY
    )
    tuna = next(each for each in found.ingredients if each.ingredient == "canned tuna")
    assert tuna.price_parts is not None
    # 6 oz → 5 oz is a factor 1.2 on the unit price of the grocer's can. That shop alone is behind
    # the price then; now, seen on 24 October, it counts 1 to the 2^(−3/180) of the warehouse three
    # days before, whose cans have no product name: 0.50289 of the price, 0.75144 on average. Packs
    # alone moved the typical price by 1.2^0.75144 = 1.14684: pack = a · (u1 − u1/1.14684)
    can = 170.097 / 1.2  # g
    grocer = 1 / (1 + 2 ** (-3 / 180))
    u1 = (grocer * 1.49 + (1 - grocer) * 10.99 / 8) / can
    smaller = 1.2 ** ((1 + grocer) / 2)
    assert tuna.quantity_then is not None
    pack = tuna.quantity_then * (u1 - u1 / smaller)
    assert round(pack, 2) == 0.11
    assert tuna.price_parts.pack == pytest.approx(pack, rel=1e-5)
    assert "$0.11 is smaller packs: canned tuna" in change_paragraph(found)


def test_drivers_of_the_demo(demo: Book) -> None:
    found = pricing.rank_drivers(demo, then=date(2014, 1, 1), now=TODAY)
    # 24 dishes: one is a draft, and three (the bases) are taken by others alone
    assert found.dishes == 20
    (draft,) = found.drafts
    assert len(found.half_products) == 3
    total = sum(each.contribution for each in found.ingredients)
    assert total == pytest.approx(found.mean_now - found.mean_then, abs=1e-9)
    assert found.complete
    dishes = [dish for dish in _dishes(demo) if dish not in {draft, *found.half_products}]
    with reading(demo):  # opened once for all
        costs = [
            [pricing.cost_dish(demo, dish, on=day).cost_per_portion for dish in dishes]
            for day in (date(2014, 1, 1), TODAY)
        ]
    assert found.mean_then == pytest.approx(sum(costs[0]) / 20)
    assert found.mean_now == pytest.approx(sum(costs[1]) / 20)


def _dishes(book: Book) -> list[str]:
    from pricing.contents.choices import list_dishes

    return [each.dish for each in list_dishes(book)]


def test_a_figure_of_the_demo_is_recorded_with_its_evidence(demo: Book) -> None:
    made = pricing.record_printed(demo, "harbor fish pie", on=TODAY, where="a book")
    (said,) = pricing.said_and_known(demo)
    by_oracle = cost(demo, "harbor fish pie", TODAY)
    assert made.printed == Decimal("3.26") == round(Decimal(by_oracle), 2)
    assert (said.change, said.lines) == (0.0, ())
