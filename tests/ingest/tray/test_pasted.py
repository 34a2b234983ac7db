"""A pasted recipe is read into lines that can be mended before anything is stored."""

from __future__ import annotations

from pathlib import Path

import pytest

from ingest.tray.pasted import read_pasted
from pricing.errors import InputRefused
from tests.kitchen import TODAY, make_book

FILES = {"ingredients": "ingredient,base,aliases\nleek,g,leeks\nsmoked salt,g,\n"}
TEXT = """
Leek pie

Serves 4

800 g leeks, sliced
2 tsp smokd salts
a pinch of nutmeg
"""


def test_its_lines_are_read_and_what_is_unknown_is_marked_with_what_it_may_be(
    tmp_path: Path,
) -> None:
    (found,) = read_pasted(make_book(tmp_path, FILES), TEXT, today=TODAY)
    assert found.head == {
        "dish": "Leek pie", "version": "2026-11-24", "effective_from": "2026-11-24",
        "portions": "4", "batch_weight_g": "",
    }  # fmt: skip
    leeks, salt, nutmeg = found.lines
    assert (leeks["ingredient"], leeks["quantity"], leeks["unit"]) == ("leek", "800", "g")
    assert leeks["note"] == "800 g leeks, sliced"
    assert (salt["ingredient"], salt["quantity"]) == ("waiting: smokd salts", "2")
    assert nutmeg["ingredient"] == "waiting: nutmeg"
    assert found.likely["smokd salts"][0] == "smoked salt"
    assert found.likely["nutmeg"] == ()


def test_what_a_recipe_does_not_say_is_blank(tmp_path: Path) -> None:
    (found,) = read_pasted(make_book(tmp_path, FILES), "Pie\n\n800 g leeks\n3 eggs", today=TODAY)
    assert found.head["portions"] == ""


def test_a_text_without_a_recipe_is_refused_in_a_sentence(tmp_path: Path) -> None:
    book = make_book(tmp_path, FILES)
    with pytest.raises(InputRefused, match="expected a web page with a recipe, or a recipe's text"):
        read_pasted(book, "good morning", today=TODAY)
