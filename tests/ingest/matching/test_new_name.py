"""A new ingredient's name is proposed by the words of a description; goods are no food."""

from __future__ import annotations

import pytest

from ingest.matching.new_name import is_no_food, proposed_name, two_foods
from ingest.matching.words import number_key


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("ZORVIK BTR 454G", "butter"),
        ("Markenbutter 250g", "butter"),
        ("Chicken thighs, boneless", "chicken thighs"),
        ("Tomatoes, canned", "canned tomatoes"),
        ("Huile d'olive vierge extra 1 L", "huile d'olive vierge extra"),
        ("Crème fraîche", "crème fraîche"),  # here fraîche is part of the name, and no freshness
        ("cold butter", "butter"),
        ("2 large eggs", "eggs"),
        ("Olive oil £4.50", "olive oil"),
        ("Wild Rice, Hand Harvested, 1 lb", "wild rice"),
        ("LAMB CHOPS", "lamb chops"),
        ("GLIMPFEN 12", "glimpfen"),  # no food is known in it: all of its words stay
        ("12.99", "12.99"),
    ],
)
def test_a_name_has_no_pack_price_brand_or_size(words: str, name: str) -> None:
    assert proposed_name(words) == name


def test_what_no_kitchen_eats_is_told_from_food() -> None:
    assert all(map(is_no_food, ("PAPER TOWELS 6PK", "Küchenrolle 4er", "Delivery crate")))
    assert not any(map(is_no_food, ("rice paper", "bread rolls", "GLIMPFEN")))


def test_one_and_many_are_the_same_but_where_the_plural_is_another_good() -> None:
    assert number_key("Olives") == number_key("olive")
    assert number_key("large EGGS") == number_key("large egg")
    assert number_key("peppers") != number_key("pepper")
    assert number_key("Type 405") != number_key("Type 550")


def test_two_foods_are_told_from_one_with_two_words() -> None:
    assert two_foods("Salz und Pfeffer") == ("Salz", "Pfeffer")
    assert two_foods("sel et poivre") == ("sel", "poivre")
    assert two_foods("half and half") == two_foods("macaroni and cheese") == ()
