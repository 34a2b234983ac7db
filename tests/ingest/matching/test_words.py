"""Decisions compare by exact words; proposals by what the words say."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.matching.words import content_words, name_words, words_key


def test_case_spaces_and_the_form_of_accents_do_not_matter_to_a_decision() -> None:
    assert words_key("  CRÈME\u00a0 fraîche 50cl") == words_key("Cre\u0300me FRAÎCHE 50cl")


def test_a_digit_an_accent_or_a_mark_does_matter_to_a_decision() -> None:
    assert len({words_key(each) for each in ("Butter 250g", "Butter 500g", "Butter-250g")}) == 3
    assert words_key("pâté") != words_key("pate")


@pytest.mark.parametrize(
    ("words", "content"),
    [
        ("ZORVIK BTR UNSLTD 454G 2PK", "zorvik butter unsalted"),
        ("100234 CHKN BRST SKNLS 1KG", "chicken breast skinless"),
        ("Milk fat 3.5% 1L", "milk fat"),
        ("S/R FLR 1.5KG", "self raising flour"),
        ("Huile d'olive 75 cl", "huile d olive"),
        ("Own brand everyday value carrots", "carrots"),
    ],
)
def test_what_a_description_says_without_pack_numbers_and_noise(words: str, content: str) -> None:
    assert content_words(words) == content


def test_names_compare_in_the_singular_and_without_accents() -> None:
    assert name_words("Cherry Tomatoes") == ("cherry", "tomato")
    assert name_words("Crème fraîche") == ("creme", "fraiche")


@given(st.text(max_size=300))
def test_any_text_has_words(words: str) -> None:
    assert words_key(words_key(words)) == words_key(words)
    content_words(words)
    name_words(words)
