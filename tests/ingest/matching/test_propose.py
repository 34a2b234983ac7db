"""A description is proposed for what it means, and one that means nothing here is left alone."""

from __future__ import annotations

import csv
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.matching.known import Asked, Decided, KnownIngredient, Proposal
from ingest.matching.propose import Proposer
from pricing.measures.quantities import IngredientFacts
from pricing.reference.table import data_lines

HERE = Path(__file__).parent
SURE = 0.75  # a proposal over this is one that a cook should be able to take unread


def table(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(data_lines((HERE / name).read_text("utf-8"))))


def decimal(text: str) -> Decimal | None:
    return Decimal(text) if text else None


def kitchen() -> list[KnownIngredient]:
    return [
        KnownIngredient(
            ingredient_id=number,
            name=row["name"],
            aliases=tuple(filter(None, row["aliases"].split(";"))),
            facts=IngredientFacts(
                base=row["base"],
                density_g_per_ml=decimal(row["density"]),
                grams_each=decimal(row["grams_each"]),
                grams_by_measure={},
            ),
            expected=float(row["per_kg"]) / (1 if row["base"] == "each" else 1000),
        )
        for number, row in enumerate(table("ingredients.csv"), start=1)
    ]


def names() -> dict[int | None, str]:
    return {None: "", **{each.ingredient_id: each.name for each in kitchen()}}


def in_english() -> list[KnownIngredient]:
    """Return the kitchen with its English names alone."""
    return [replace(each, aliases=()) for each in kitchen()]


def proposed(part: str) -> list[tuple[dict[str, str], Proposal]]:
    """Return rows of one part with their proposals; those from abroad by English names alone."""
    known = in_english() if part == "abroad" else kitchen()
    rows = [row for row in table("described.csv") if row["part"] == part]
    asked = [Asked(words=row["words"], price=Decimal(row["price"])) for row in rows]
    return list(zip(rows, Proposer(known, [], "uk").propose(asked), strict=True))


def shares(part: str) -> tuple[float, float, float]:
    """Print and return the shares: first right, right of the sure ones, sure of all that have one.

    For a description of none of the ingredients, the first is right when no proposal is sure.
    """
    named = names()
    found = proposed(part)
    good = []
    for row, each in found:
        right = named[each.ingredient_id] == row["ingredient"]
        if not row["ingredient"]:
            right = each.score <= SURE
        if not right:
            others = [(named[other], score) for other, score in each.others]
            told = f"{named[each.ingredient_id] or 'none'} {each.score}, others {others}"
            print(f"{row['words']}: {row['ingredient'] or 'none'}, proposed {told}")
        good.append(right)
    sure = [
        named[each.ingredient_id] == row["ingredient"] for row, each in found if each.score > SURE
    ]
    meant = sum(bool(row["ingredient"]) for row, _ in found)
    result = sum(good) / len(good), sum(sure) / len(sure), sum(sure) / meant
    print(
        f"{part}: {result[0]:.1%} of {len(good)} first right, {result[1]:.1%} of {len(sure)} over "
        f"{SURE} right, {result[2]:.1%} of {meant} found and over it"
    )
    return result


@cache
def proposer() -> Proposer:
    return Proposer(kitchen(), [], "uk")


def one(words: str, *decided: Decided, **asked: Any) -> Proposal:
    known = Proposer(kitchen(), decided, "uk") if decided else proposer()
    return known.propose([Asked(words=words, **asked)])[0]


def number(name: str) -> int:
    return next(each.ingredient_id for each in kitchen() if each.name == name)


@pytest.mark.parametrize(
    ("words", "not_this"),
    [
        ("Butter beans 400g", "butter"),
        ("Peanut butter 340g", "butter"),
        ("Coconut milk 400ml", "whole milk"),
        ("Beurre de cacahuète 350g", "butter"),
        ("Lait de coco 400ml", "whole milk"),
        ("Tomato soup 400g", "tomatoes"),
        ("Lemon juice 250ml", "lemons"),
        ("Jus de pomme 1L", "apples"),
        ("Sardines in tomato sauce 120g", "tomatoes"),
    ],
)
def test_a_food_that_only_lends_its_name_is_not_proposed(words: str, not_this: str) -> None:
    found = one(words)
    scores = {found.ingredient_id: found.score, **dict(found.others)}
    assert scores.get(number(not_this), 0.0) < 0.5


def test_the_whole_name_scores_highest() -> None:
    alone, beside = one("Butter beans"), one("Zorvik butter beans")
    assert alone.ingredient_id == beside.ingredient_id == number("butter beans")
    assert alone.score == 1
    assert 0.75 < beside.score < 1


def test_the_same_words_decided_before_are_proposed_with_their_pack_and_product() -> None:
    known = Decided(
        words="ZV 118 YLW", ingredient_id=number("butter"), pack="454 g", product="Zorvik block"
    )
    found = one("zv 118  ylw", known)
    assert (found.ingredient_id, found.pack, found.product, found.score) == (
        number("butter"), "454 g", "Zorvik block", 1,
    )  # fmt: skip
    assert found.why == ("the same words were decided before",)


def test_the_senders_own_decision_goes_before_a_later_one_of_another() -> None:
    own = Decided(words="HOUSE MIX", ingredient_id=number("walnuts"), sender="Brimlow")
    other = Decided(words="HOUSE MIX", ingredient_id=number("almonds"), sender="Zorvik")
    assert one("HOUSE MIX", own, other, sender="Brimlow").ingredient_id == number("walnuts")
    assert one("HOUSE MIX", own, other, sender="Quil").ingredient_id == number("almonds")
    assert one("HOUSE MIX", own, other, sender="Quil").score < 1


def test_what_was_decided_to_be_no_ingredient_is_proposed_as_none() -> None:
    found = one("ZORVIK CLEAR WRAP 45M", Decided(words="ZORVIK CLEAR WRAP 30M", ingredient_id=None))
    assert found.ingredient_id is None
    assert found.score > 0.75


def test_words_like_ones_decided_before_are_proposed() -> None:
    known = Decided(words="ZORVIK GOLDEN SPREADABLE 250G", ingredient_id=number("butter"))
    found = one("ZORVIK GOLDEN SPREADABLE 500G", known)
    assert found.ingredient_id == number("butter")
    assert found.why[0] == "decided before: ZORVIK GOLDEN SPREADABLE 250G"
    peanut = one("ZORVIK GOLDEN PEANUT SPREADABLE 500G", known)
    assert peanut.score < 0.5  # one word more, and it names a food


def test_a_price_within_a_third_and_three_times_speaks_for_it_and_one_outside_against() -> None:
    # butter is expected at 8 a kg: 500 g at 4.00; 12.00 is three times that, 12.10 more
    words = "Zorvik butter 500g"
    without = one(words)
    near, far = (one(words, price=Decimal(price)) for price in ("12.00", "12.10"))
    cheap, too_cheap = (one(words, price=Decimal(price)) for price in ("1.34", "1.33"))
    assert far.score < without.score < near.score
    assert too_cheap.score < without.score < cheap.score
    abroad = one(words, price=Decimal("400"), currency_is_books=False)
    assert abroad.score == without.score


def test_a_pack_that_has_no_way_to_the_base_unit_speaks_against() -> None:
    # an avocado weighs 170 g here; of an iceberg lettuce no weight is known
    assert one("Zorvik avocados 340g").score > one("Zorvik avocados").score
    assert one("Zorvik iceberg lettuce 500g").score < one("Zorvik iceberg lettuce").score


def test_pieces_are_taken_where_only_they_lead_to_the_base_unit() -> None:
    assert one("Iceberg lettuce 2 pcs 900g").pack == "2 each"
    assert one("Carrots 6 pcs 500g").pack == "500 g"


def test_ten_in_a_pack_are_its_pieces_where_only_that_fits_the_price() -> None:
    # cheddar is expected at 8 a kg: 250 g at 2.60 is 10.40 a kg, ten times 250 g only 1.04
    found = one("Cheddar 10PK 250G", price=Decimal("2.60"))
    assert found.pack == "250 g"
    assert "its price is that of 250 g in all" in found.why
    assert one("Cheddar 10PK 250G", price=Decimal("21.00")).pack == "10 x 250 g"
    assert one("Cheddar 10PK 250G").pack == "10 x 250 g"


def test_a_word_taken_back_names_nothing() -> None:
    found = one("Mantequilla sin sal 250g")
    assert found.ingredient_id == number("butter")
    assert number("salt") not in dict(found.others)


def test_two_words_are_one_where_a_name_has_them_so() -> None:
    assert one("CHICK PEAS 400G").ingredient_id == number("chickpeas")


def test_a_pack_stated_elsewhere_is_not_read_from_the_words() -> None:
    assert one("Butter 250g", pack="20 x 250 g").pack == "20 x 250 g"


def test_two_ingredients_as_near_are_not_sure() -> None:
    twins = [replace(each, name="zorvik", aliases=()) for each in kitchen()[:2]]
    found = Proposer(twins, [], "uk").propose([Asked(words="Zorvik")])[0]
    assert found.score <= SURE
    assert found.others


@pytest.mark.parametrize("words", ["", " ", "1234", "%%%", "x" * 100_000, "\x00", "de la"])
def test_nothing_is_proposed_for_words_that_say_nothing(words: str) -> None:
    found = one(words)
    assert (found.ingredient_id, found.score) == (None, 0)


@given(
    words=st.text(max_size=80)
    | st.lists(st.sampled_from(["BTR", "milk", "de", "500g", "in", "x12", "tom.", "soup"])).map(
        " ".join
    )
)
def test_any_words_have_a_score_from_0_to_1_and_others_none_better(words: str) -> None:
    found = one(words, price=Decimal("1.50"))
    assert 0 <= found.score <= 1
    assert all(0 <= score <= found.score for _, score in found.others)
    assert found.ingredient_id not in dict(found.others)


def test_a_food_is_known_by_its_names_in_other_languages() -> None:
    known = Proposer(in_english(), [], "metric")
    found = known.propose([Asked(words="Zwiebeln 1kg"), Asked(words="Milch 1l")])
    assert (found[0].ingredient_id, found[0].score > SURE) == (number("onions"), True)
    assert found[1].score <= SURE  # milk may be another than whole


@pytest.mark.parametrize("part", ["open", "aside", "last", "final", "abroad"])
def test_of_labelled_descriptions_the_sure_proposals_are_right(part: str) -> None:
    first, sure, found = shares(part)
    assert first >= 0.9
    assert sure >= 0.95
    assert found >= 0.6


def test_a_variety_in_another_language_is_proposed_as_its_food() -> None:
    """Reis is German for rice, and basmati is a kind of it."""
    facts = IngredientFacts(base="g", density_g_per_ml=None, grams_each=None, grams_by_measure={})
    rice = KnownIngredient(ingredient_id=1, name="rice", facts=facts)
    (found,) = Proposer([rice], [], "uk").propose([Asked(words="Reis Basmati")])
    assert found.ingredient_id == 1
