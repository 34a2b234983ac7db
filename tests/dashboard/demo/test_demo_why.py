"""What the demo kitchen teaches about its costs: checked by hand from its receipts."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

import pricing
from dashboard.words.change import change_paragraph
from pricing.book.connect import Book, reading
from pricing.prices.packs_changed import packs_changed
from tests.kitchen import TODAY

LB, CUP, QUART_OZ = 453.59237, 236.5882365, 29.5735295625  # g; ml; ml in a fl oz


def between(u0: float, u1: float, i: float, i0: float, i1: float, days: int, of: int) -> float:
    """Return a price between two observations, on the path of an index bent to meet both."""
    return u0 * i / i0 * ((u1 / u0) / (i1 / i0)) ** (days / of)


# Beef and oat meatloaf, 8 portions, 13 September 2012 → 24 November 2026. Per line: how much the
# batch takes then and now, price of that much then and now, from the receipts of
# demo_prices/prices_*.csv; index values: BLS, as bundled. Fresh: within 45 days.
MEATLOAF = {
    # lb: 3.19 on 14 July and 24 November 2012 (133 days apart; 61 gone), ground beef 245.052,
    # 244.391, 245.080; 5.79 on 14 November 2026
    "ground beef": (2.25, 1.0, between(3.19, 3.19, 244.391, 245.052, 245.080, 61, 133), 5.79),
    # lb: 3.09 on 12 February 2011, 3.49 on 20 October 2012 (616 days; 579 gone), other poultry
    # 134.897, 153.536, 153.465; now 5.19 of 28 March 2026 moved from 215.987 to 226.446
    "ground turkey": (0.0, 0.75, None, 5.19 * 226.446 / 215.987),
    # half a cup of 192 g = 96 g; 1.49 a lb on 23 July 2016, moved back from 203.644 to 200.561;
    # 1.79 on 24 October 2026
    "brown lentils": (0.0, 96 / LB, None, 1.79),
    # 81 g: 42 oz at 3.39 (4 February 2012), 10 lb at 11.99 (19 September 2013; 593 days, 222 gone),
    # cereal 227.984, 224.227, 227.447; now the mean of 10 lb at 14.49 and 42 oz at 4.49
    "rolled oats": (
        81 / LB, 81 / LB,
        between(3.39 / 2.625, 11.99 / 10, 224.227, 227.984, 227.447, 222, 593),
        (14.49 / 10 + 4.49 / 2.625) / 2,
    ),
    # each: mean of 2.25 and 1.89 a dozen; now the middle one of 5.79/30, 2.49/12, 2.75/12
    "eggs": (2, 2, (2.25 + 1.89) / 24, 2.49 / 12),
    # a large one, 150 g of 90 % = 166.67 g: 3 lb at 2.19; now the mean of 2.79/3 and 1.10
    "onions": (166.67 / LB, 166.67 / LB, 2.19 / 3, (2.79 / 3 + 1.10) / 2),
    # half a cup: a gallon at 3.39, now 4.49
    "whole milk": (CUP / 2, CUP / 2, 3.39 / (128 * QUART_OZ), 4.49 / (128 * QUART_OZ)),
    # a can of 170 g, priced by 6 oz (170.097 g): 0.69; now 0.95 moved from 225.310 to 251.674
    "tomato paste": (170 / 170.097, 170 / 170.097, 0.69, 0.95 * 251.674 / 225.310),
    # 2 tbsp of a cup of 220 g = 27.5 g: 2 lb at 1.89, now 2.59
    "brown sugar": (27.5 / LB, 27.5 / LB, 1.89 / 2, 2.59 / 2),
    # a tablespoon, half a fl oz: 32 fl oz at 3.09; now 16 at 2.19 moved from 315.203 to 331.591
    "cider vinegar": (0.5, 0.5, 3.09 / 32, 2.19 / 16 * 331.591 / 315.203),
    # 2 tsp of a cup of 292 g = 12.17 g: 3 lb at 2.29 (25 February) and 2.19 (3 November 2012; 252
    # days, 201 gone), seasonings 139.874, 136.876, 134.127; now 3.29 moved from 194.988 to 198.894
    "kosher salt": (
        12.17 / LB, 12.17 / LB,
        between(2.29 / 3, 2.19 / 3, 136.876, 139.874, 134.127, 201, 252),
        3.29 / 3 * 198.894 / 194.988,
    ),
    # a teaspoon, 2.3 g: 4 oz at 3.79; now 18 oz at 20.49 moved from 194.010 to 198.894
    "black pepper": (2.3 / LB, 2.3 / LB, 3.79 * 4, 20.49 / 18 * 16 * 198.894 / 194.010),
}  # fmt: skip


def test_the_paragraph_of_the_meatloaf_by_hand(demo: Book) -> None:
    lines = {name: list(line) for name, line in MEATLOAF.items()}
    lines["ground turkey"][2] = between(3.09, 3.49, 153.536, 134.897, 153.465, 579, 616)
    lines["brown lentils"][2] = 1.49 * 200.561 / 203.644
    prices = {n: (a0 + a1) / 2 * (u1 - u0) / 8 for n, (a0, a1, u0, u1) in lines.items()}
    recipe = {n: (u0 + u1) / 2 * (a1 - a0) / 8 for n, (a0, a1, u0, u1) in lines.items()}
    # by hand: prices 0.715 (beef alone 0.53), recipe −0.70 beef, +0.42 turkey, +0.04 lentils
    assert round(sum(prices.values()), 3) == 0.715
    assert round(prices["ground beef"], 2) == 0.53
    assert [round(recipe[n], 2) for n in ("ground beef", "ground turkey", "brown lentils")] == [
        -0.70, 0.42, 0.04,
    ]  # fmt: skip
    found = pricing.compare(
        demo, "beef and oat meatloaf", then=(date(2012, 9, 13), "2012"), now=TODAY
    )
    assert found.price_effect == pytest.approx(sum(prices.values()), abs=2e-4)
    assert found.recipe_effect == pytest.approx(sum(recipe.values()), abs=2e-4)
    assert change_paragraph(found) == (
        "Prices added $0.72 per portion, mostly ground beef; the recipe took off $0.24: less "
        "ground beef (−$0.70), ground turkey added (+$0.42), brown lentils added (+$0.04). That "
        "leaves $0.48 more per portion."
    )


def test_the_paragraph_of_the_macaroni_by_hand(demo: Book) -> None:
    # 6 portions, 12 January 2012 → 24 November 2026. The bake takes one and a half batches of white
    # sauce; a rework of the sauce took its butter from 4 to 3 tablespoons: 6 → 4.5, and 2 more on
    # top: 8 → 6.5 tablespoons of 14.19 g. Butter 3.19 a lb then; now the mean of 8.19/2 and 4.39.
    butter = 14.19 / LB
    lines = [
        # macaroni, 1 lb: 1.19; now the mean of 8.49/6 and 1.49
        (1, 1, 1.19, (8.49 / 6 + 1.49) / 2),
        # cheddar, 12 oz: 2.79 for 8 oz; now the mean of 11.49 for 2 lb and 5.89 for 16 oz
        (0.75, 0.75, 2.79 * 2, (11.49 / 2 + 5.89) / 2),
        (8 * butter, 6.5 * butter, 3.19, (8.19 / 2 + 4.39) / 2),
        # flour, 46.87 g: 5 lb at 2.49; now the mean of 25 lb at 13.99 and 5 lb at 3.39
        (46.87 / LB, 46.87 / LB, 2.49 / 5, (13.99 / 25 + 3.39 / 5) / 2),
        # milk, 3 3/8 cups of the 16 in a gallon: 3.59, now 4.49
        (3.375 / 16, 3.375 / 16, 3.59, 4.49),
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
    prices = [(a0 + a1) / 2 * (u1 - u0) / 6 for a0, a1, u0, u1 in lines]
    recipe = [(u0 + u1) / 2 * (a1 - a0) / 6 for a0, a1, u0, u1 in lines]
    assert round(sum(prices), 3) == 0.185
    assert round(sum(recipe), 3) == -0.029
    # butter 0.040, macaroni 0.044 and milk 0.032 make up more than half of 0.185, in falling order:
    # macaroni, butter, milk
    assert [round(prices[n], 3) for n in (0, 2, 4)] == [0.044, 0.040, 0.032]
    found = pricing.compare(
        demo, "macaroni and cheddar bake", then=(date(2012, 1, 12), "2011"), now=TODAY
    )
    assert found.price_effect == pytest.approx(sum(prices), abs=2e-4)
    assert found.recipe_effect == pytest.approx(sum(recipe), abs=2e-4)
    assert change_paragraph(found) == (
        "Prices added $0.19 per portion, mostly elbow macaroni, butter and whole milk; the recipe "
        "took off $0.03: less butter (−$0.03). That leaves $0.16 more per portion."
    )


def test_every_paragraph_adds_up_as_it_is_read(demo: Book) -> None:
    import re

    from pricing.contents.printed import first_claims

    with reading(demo):  # opened once for all
        changes = [
            pricing.compare(demo, claim.dish, then=(claim.published_on, claim.version), now=TODAY)
            for claim in first_claims(demo)
        ]
    for found in changes:
        words = change_paragraph(found)
        assert words.endswith(".")
        told = re.search(r"the recipe (added|took off) \$([\d.]+): (.*?)\. That", words)
        if told is None:
            assert "is prices" in words
            continue
        amounts = [
            float(amount) * (-1 if sign == "−" else 1)
            for sign, amount in re.findall(r"\(([+−])\$([\d.]+)\)", told[3])
        ]
        whole = float(told[2]) * (-1 if told[1] == "took off" else 1)
        assert round(sum(amounts), 2) == whole, words


def test_the_figure_that_was_wrong_when_printed_is_found(demo: Book) -> None:
    found = pricing.check_claims(demo)
    wrong = [claim for claim in found.claims if claim.status == "was wrong"]
    # demo_prices/README.md: printed 3.48 in November 2014, 4.97 by the book
    assert [(claim.dish, claim.claimed) for claim in wrong] == [("cod and mussel stew", 3.48)]
    assert wrong[0].published_on == date(2014, 11, 13)
    assert round(wrong[0].recosted_then or 0, 2) == 4.97
    assert all(claim.status != "cannot price" for claim in found.claims)
    # the README's other figures: still true (2023, 2024), too high now (baked eggs of 2025)
    status = {(claim.dish, claim.published_on.year): claim for claim in found.claims}
    assert status["macaroni and cheddar bake", 2023].status == "holds"
    assert status["peanut noodles with cabbage", 2024].status == "holds"
    eggs = status["baked eggs in tomato and pepper sauce", 2025]
    assert eggs.status == "drifted"
    assert (eggs.drift_pct or 0) < 0


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
    # 6 oz → 5 oz is a factor 1.2 on the unit price of the grocer's can. One shop is behind the
    # price then, two behind that of now (the warehouse's cans have no product name), so the typical
    # price moved by 1.2^(1/1.5) = 1.1292. Sticker then u0, now u1 ÷ 1.1292, weighted by the mean
    # of the other factor: pack = a · ½(u0 + u1/1.1292) · 0.1292
    u0, u1 = tuna.unit_price_then, tuna.unit_price_now
    assert u0 is not None
    assert u1 is not None
    smaller = 1.2 ** (1 / 1.5)
    pack = tuna.quantity_now * 0.5 * (u0 + u1 / smaller) * (smaller - 1)
    assert tuna.price_parts.pack == pytest.approx(pack, rel=1e-6)
    assert "$0.09 is smaller packs: canned tuna" in change_paragraph(found)


def test_drivers_of_the_demo(demo: Book) -> None:
    found = pricing.rank_drivers(demo, then=date(2014, 1, 1), now=TODAY)
    assert found.dishes == 24  # 23 dishes and the draft
    total = sum(each.contribution for each in found.ingredients)
    assert total == pytest.approx(found.mean_now - found.mean_then, abs=1e-9)
    with reading(demo):  # opened once for all
        costs = [
            [pricing.cost_dish(demo, dish, on=day).cost_per_portion for dish in _dishes(demo)]
            for day in (date(2014, 1, 1), TODAY)
        ]
    assert found.mean_then == pytest.approx(sum(costs[0]) / 24)
    assert found.mean_now == pytest.approx(sum(costs[1]) / 24)


def _dishes(book: Book) -> list[str]:
    from pricing.contents.choices import list_dishes

    return [each.dish for each in list_dishes(book)]


def test_a_figure_of_the_demo_is_recorded_with_its_evidence(demo: Book) -> None:
    made = pricing.record_claim(demo, "harbor fish pie", on=TODAY, where="a book")
    (said,) = pricing.said_and_known(demo)
    assert made.claimed == Decimal("3.24")
    assert (said.change, said.lines) == (0.0, ())
