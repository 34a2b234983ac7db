"""The two lists of allergens against the laws that name them."""

from __future__ import annotations

import pytest

from pricing.swaps.allergen_words import all_words, standard_names

# Regulation (EU) No 1169/2011, Annex II, items 1 to 14, each with the kinds it names.
ANNEX_II = {
    "cereals containing gluten": "wheat; spelt; khorasan wheat; rye; barley; oats",
    "crustaceans": "",
    "eggs": "",
    "fish": "",
    "peanuts": "",
    "soybeans": "",
    "milk": "lactose",
    "nuts": "almonds; hazelnuts; walnuts; cashews; pecan nuts; Brazil nuts; pistachio nuts; "
    "macadamia nuts; Queensland nuts",
    "celery": "",
    "mustard": "",
    "sesame seeds": "",
    "sulphur dioxide and sulphites": "sulphur dioxide; sulphites",
    "lupin": "",
    "molluscs": "",
}
# 21 U.S.C. 321(qq): FALCPA 2004, with its examples, and the FASTER Act of 2021 for sesame.
US_NINE = {
    "milk": "",
    "egg": "",
    "fish": "bass; flounder; cod",
    "crustacean shellfish": "crab; lobster; shrimp",
    "tree nuts": "almonds; pecans; walnuts",
    "wheat": "",
    "peanuts": "",
    "soybeans": "",
    "sesame": "",
}
LAWS = [("eu", ANNEX_II, 14), ("us", US_NINE, 9)]


@pytest.mark.parametrize(("regime", "law", "count"), LAWS)
def test_the_standard_names_are_those_of_the_law(
    regime: str, law: dict[str, str], count: int
) -> None:
    held = {name for word in all_words() for name in word.names[regime]}
    assert len(held) == count
    assert held == set(law)


@pytest.mark.parametrize(("regime", "law", "count"), LAWS)
def test_what_the_law_names_as_an_example_stands_for_its_allergen(
    regime: str, law: dict[str, str], count: int
) -> None:
    for name, examples in law.items():
        for word in filter(None, examples.split("; ")):
            assert standard_names([word], regime) == (name,)


def test_five_of_the_fourteen_are_not_among_the_nine_nor_are_three_cereals() -> None:
    outside = ["celery", "mustard", "lupin", "molluscs", "sulphites", "rye", "barley", "oats"]
    for word in outside:
        assert len(standard_names([word], "eu")) == 1
        assert standard_names([word], "us") == ()
