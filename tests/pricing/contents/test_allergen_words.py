"""Allergens: what entered words stand for, and what a change adds and removes."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from pricing.contents.allergen_words import (
    LISTS,
    UNKNOWN,
    AllergenChange,
    all_words,
    allergen_change,
    is_known,
    nearest_words,
)
from pricing.contents.allergen_words import standard_names as names
from pricing.names import name_key

DEMO = Path(__file__).parents[3] / "demo_prices" / "ingredients.csv"


def change(before: dict, after: dict, replaced: str, substitute: str | None) -> AllergenChange:
    put = [] if substitute is None else [substitute]
    return allergen_change(before, after, gone=[replaced], put=put)


def swap(dish: dict, replaced: str, substitute: str | None, entered: object = None) -> tuple:
    """Return what is added and removed when one ingredient takes another's place, or none does."""
    after = {each: kept for each, kept in dish.items() if each != replaced}
    if substitute is not None:
        after[substitute] = entered
    found = change(dish, after, replaced, substitute)
    return found.added, found.removed


@pytest.mark.parametrize(
    ("entered", "eu", "us"),
    [
        ("eggs", ("eggs",), ("egg",)),
        ("Dairy", ("milk",), ("milk",)),
        ("wheat", ("cereals containing gluten",), ("wheat",)),
        ("barley", ("cereals containing gluten",), ()),
        ("oats", ("cereals containing gluten",), ()),
        ("walnut", ("nuts",), ("tree nuts",)),
        ("peanut", ("peanuts",), ("peanuts",)),
        ("prawn", ("crustaceans",), ("crustacean shellfish",)),
        ("mussels", ("molluscs",), ()),  # molluscs are not among the nine
        ("squid", ("molluscs",), ()),
        ("shellfish", ("crustaceans", "molluscs"), ("crustacean shellfish",)),
        ("sulfites", ("sulphur dioxide and sulphites",), ()),
        ("  SULPHUR   dioxide ", ("sulphur dioxide and sulphites",), ()),
        ("soya", ("soybeans",), ("soybeans",)),
        ("sesame", ("sesame seeds",), ("sesame",)),
        ("strawberry", (), ()),
    ],
)
def test_an_entered_word_stands_for_the_standard_name_of_each_list(
    entered: str, eu: tuple[str, ...], us: tuple[str, ...]
) -> None:
    assert names([entered], "eu") == eu
    assert names([entered], "us") == us
    assert is_known(entered) == bool(eu)


def test_several_words_give_each_standard_name_once_and_sorted() -> None:
    assert names(["walnuts", "egg", "almonds", "eggs"], "eu") == ("eggs", "nuts")
    assert names([], "us") == ()


def test_another_list_is_refused() -> None:
    with pytest.raises(ValueError, match="expected one of eu, us"):
        names(["egg"], "UK")


def test_every_standard_name_is_a_word_of_its_own_that_means_the_whole() -> None:
    for regime in LISTS:
        for each in {name for word in all_words() for name in word.names[regime]}:
            assert names([each], regime) == (each,)
            (word,) = [word for word in all_words() if name_key(each) in word.spellings]
            assert regime in word.whole


def test_a_spelling_stands_in_one_row_and_in_no_row_without_a_list() -> None:
    spellings = [each for word in all_words() for each in word.spellings]
    assert len(spellings) == len(set(spellings))
    for word in all_words():
        assert any(word.names[each] for each in LISTS)
        assert all(word.names[each] for each in word.whole)


def test_every_allergen_of_the_demo_kitchen_is_known() -> None:
    with DEMO.open(encoding="utf-8", newline="") as file:
        entered = {
            name
            for row in csv.DictReader(file)
            for name in row["allergens"].split(";")
            if name not in ("", "none")
        }
    assert len(entered) > 10
    assert [each for each in sorted(entered) if not is_known(each)] == []


# What a swap does. The dishes are made up; what is expected follows from the contract's sentences.


def test_what_the_substitute_brings_is_added_and_what_goes_is_removed() -> None:
    dish = {"chocolate chips": ("milk", "soybeans"), "flour": ("wheat",)}
    assert swap(dish, "chocolate chips", "walnuts", ("tree nuts",)) == (
        ("tree nuts",),
        ("milk", "soybeans"),
    )


def test_what_was_there_before_is_not_added_and_what_is_still_there_not_removed() -> None:
    dish = {"cream": ("milk",), "cheddar": ("milk",), "flour": ("wheat",)}
    assert swap(dish, "cream", "white sauce", ("wheat", "milk")) == ((), ())


def test_the_replaced_ingredient_counts_as_there_before() -> None:
    assert swap({"butter": ("milk",)}, "butter", "margarine", ("milk", "soybeans")) == (
        ("soybeans",),
        (),
    )


def test_names_come_back_as_they_were_entered_and_by_name() -> None:
    dish = {"malt": ("Barley",)}
    assert swap(dish, "malt", "broth", ("Mustard", "Celery", "celery")) == (
        ("Celery", "Mustard"),
        ("Barley",),
    )


def test_leaving_out_adds_nothing() -> None:
    dish = {"parsley": (), "prawns": ("crustaceans",)}
    assert swap(dish, "prawns", None) == ((), ("crustaceans",))


def test_stated_none_is_not_unknown() -> None:
    assert swap({"cod": ("fish",)}, "cod", "chickpeas", ()) == ((), ("fish",))


def test_an_unknown_substitute_leaves_both_unknown() -> None:
    assert swap({"broth": ("celery",), "rice": ()}, "broth", "bouillon", None) == (UNKNOWN, UNKNOWN)


def test_an_unknown_replaced_ingredient_leaves_what_is_removed_unknown() -> None:
    assert swap({"bouillon": None, "rice": ()}, "bouillon", "broth", ("celery",)) == (
        ("celery",),
        UNKNOWN,
    )


def test_any_unknown_ingredient_after_leaves_what_is_removed_unknown() -> None:
    dish = {"olives": None, "cod": ("fish",)}
    assert swap(dish, "cod", "beans", ()) == ((), UNKNOWN)
    assert swap(dish, "cod", None) == ((), UNKNOWN)


def test_an_unknown_ingredient_that_is_gone_too_does_not_count() -> None:
    # two swaps at once: the olives, unknown, have gone as well
    dish = {"olives": None, "cod": ("fish",)}
    assert change(dish, {"beans": (), "capers": ()}, "cod", "beans").removed == ("fish",)


@pytest.mark.parametrize(
    ("gone", "left"),
    [
        ("egg", "eggs"),  # two spellings
        ("Sulfites", "sulphur dioxide"),
        ("soya", "soybeans"),
        ("wheat", "gluten"),  # one means the whole of what the other may be
        ("gluten", "wheat"),
        ("rye", "cereals containing gluten"),
        ("walnuts", "nuts"),
        ("tree nuts", "almonds"),
        ("spelt", "wheat"),  # by the us list, where wheat is the whole
        ("prawns", "shellfish"),
        ("shellfish", "mussels"),
        ("seafood", "cod"),
        ("lactose", "milk"),
        ("milk", "goat's cheese"),
        ("butter", "goat\u2019s cheese"),  # milk has no kinds
        ("cream", "yoghurt"),
        ("wheat", "bulgur"),
        ("semolina", "couscous"),
        ("nuts", "pine nuts"),
        ("eggs", "duck eggs"),
        ("shrimp", "prawns"),  # two words of one kind
        ("almonds", "marzipan"),
        ("walnuts", "black walnuts"),
        ("wheat", "bread"),
        ("rye", "bread"),  # which may be of rye
    ],
)
def test_a_word_is_not_told_as_removed_while_one_that_may_mean_the_same_stands(
    gone: str, left: str
) -> None:
    assert swap({"a": (gone,), "b": (left,)}, "a", None) == ((), ())


@pytest.mark.parametrize(
    ("gone", "left"),
    [
        ("barley", "wheat"),  # two kinds: what is left is told by its own name
        ("walnuts", "almonds"),
        ("prawns", "crab"),
        ("peanuts", "nuts"),
        ("fish", "crustaceans"),
        ("walnuts", "pine nuts"),
        ("cod", "salmon"),
    ],
)
def test_another_allergen_or_another_kind_does_not_hide_what_is_removed(
    gone: str, left: str
) -> None:
    assert swap({"a": (gone,), "b": (left,)}, "a", None) == ((), (gone,))


@pytest.mark.parametrize(
    ("gone", "left"),
    [
        ("milk", "strawberry"),  # which may mean anything
        ("strawberry", "milk"),
        ("strawberry", "strawberry"),
        ("nuts", "mayonnaise"),  # of many makes: the table does not guess
        ("nuts", "chestnuts"),  # on neither list
    ],
)
def test_a_word_the_table_does_not_know_leaves_what_is_removed_unknown(
    gone: str, left: str
) -> None:
    assert swap({"a": (gone,), "b": (left,)}, "a", None) == ((), UNKNOWN)


def test_a_word_the_table_does_not_know_is_added_under_its_own_name() -> None:
    assert swap({"a": ("milk",)}, "a", "c", ("Strawberry",)) == (("Strawberry",), UNKNOWN)


def test_nothing_is_removed_where_nothing_has_gone_whatever_is_unknown() -> None:
    before, after = {"a": None}, {"a": None, "b": ("egg",)}
    assert allergen_change(before, after, gone=[], put=["b"]) == AllergenChange(
        added=("egg",), removed=()
    )


@pytest.mark.parametrize(
    ("entered", "near"),
    [("goats chese", "goats cheese"), ("yogurd", "yogurt"), ("pine nutt", "pine nut")],
)
def test_an_unknown_word_is_offered_the_known_ones_like_it(entered: str, near: str) -> None:
    assert near in nearest_words(entered)
    assert nearest_words("qqqq") == []


@pytest.mark.parametrize(
    ("there", "comes", "added"),
    [
        ("egg", "Eggs", ()),  # another spelling alone is not new
        ("dairy", "milk", ()),
        ("walnuts", "almonds", ("almonds",)),
        ("gluten", "wheat", ("wheat",)),  # the gluten may have been of rye
        ("nuts", "walnuts", ("walnuts",)),
        ("wheat", "cereals containing gluten", ("cereals containing gluten",)),
        ("kiwi", "KIWI", ()),
        ("kiwi", "kiwis", ("kiwis",)),  # the table does not know it: told
    ],
)
def test_every_name_that_was_not_there_is_told_as_added(
    there: str, comes: str, added: tuple[str, ...]
) -> None:
    assert swap({"a": (), "b": (there,)}, "a", "c", (comes,))[0] == added


def test_a_substitute_that_the_dish_already_takes_adds_nothing() -> None:
    dish = {"cod": ("fish",), "shrimp": ("crustacean shellfish",)}
    assert change(dish, {"shrimp": ("crustacean shellfish",)}, "cod", "shrimp") == AllergenChange(
        added=(), removed=("fish",)
    )
