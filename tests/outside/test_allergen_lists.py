"""The two lists of allergens against the laws that name them."""

from __future__ import annotations

import pytest

from pricing.contents.allergen_words import all_words, is_known, standard_names

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


# FDA, Questions and Answers Regarding Food Allergens, Edition 5, January 2025, Appendix I: the tree
# nuts it holds to be major food allergens, each under its common or usual names (read in copies).
FDA_TREE_NUTS = (
    "Almond", "Black walnut", "Brazil nut", "California walnut", "Cashew", "Filbert/Hazelnut",
    "Heartnut/Japanese walnut", "Macadamia nut/Bush nut", "Pecan", "Pine nut/Pinon nut",
    "Pistachio", "English walnut/Persian walnut",
)  # fmt: skip
FDA_STRUCK_OFF = ("beech nut", "butternut", "chestnut", "coconut", "ginkgo nut", "hickory nut")
NOT_EU = ("black walnut", "California walnut", "heartnut", "Japanese walnut", "pine nut")


def test_the_twelve_tree_nuts_of_the_guidance_of_2025() -> None:
    assert len(FDA_TREE_NUTS) == 12
    for names in FDA_TREE_NUTS:
        for word in names.split("/"):
            assert standard_names([word], "us") == ("tree nuts",)


def test_a_nut_that_neither_list_names_is_not_known() -> None:
    assert not any(map(is_known, FDA_STRUCK_OFF))


def test_the_annex_names_eight_nuts_and_no_pine_nut() -> None:
    for word in NOT_EU:
        assert standard_names([word], "eu") == ()


@pytest.mark.parametrize("bird", ["hen", "duck", "quail", "goose"])
def test_eggs_of_all_birds(bird: str) -> None:
    assert standard_names([f"{bird} eggs"], "us") == ("egg",)
    assert standard_names([f"{bird} egg"], "eu") == ("eggs",)


@pytest.mark.parametrize("animal", ["cow's", "goat's", "sheep's", "ewe's", "buffalo"])
def test_milk_of_all_ruminants(animal: str) -> None:
    assert standard_names([f"{animal} milk"], "us") == ("milk",)
    assert standard_names([f"{animal} milk"], "eu") == ("milk",)


@pytest.mark.parametrize(
    "word", ["durum", "spelt", "semolina", "einkorn", "emmer", "kamut", "triticale"]
)
def test_the_species_of_wheat(word: str) -> None:
    assert standard_names([word], "us") == ("wheat",)
    assert standard_names([word], "eu") == ("cereals containing gluten",)
