"""An unknown name is answered with near ones: by their words as well as by their letters."""

from __future__ import annotations

from pathlib import Path

import pytest

from pricing.names import nearest
from tests.kitchen import make_book
from tests.terminal import run

HELD = [
    "goat's cheese", "cream cheese", "rye flour", "bread flour", "leek", "leaf gelatine", "butter",
    "pearl barley", "olive oil", "brown rice", "cherry tomatoes",
]  # fmt: skip


@pytest.mark.parametrize(
    ("asked", "near"),
    [
        ("cheese", ["cream cheese", "goat's cheese"]),
        ("flour", ["bread flour", "rye flour"]),
        ("chese", ["cream cheese", "goat's cheese"]),
        ("barley", ["pearl barley"]),
        ("tomato", ["cherry tomatoes"]),
        ("salted butter", ["butter"]),
        ("oil of olive", ["olive oil"]),
        ("rye flour, dark", ["rye flour", "bread flour"]),
        ("the", []),
        ("", []),
        ("quinoa", []),
    ],
)
def test_names_are_near_by_their_words(asked: str, near: list[str]) -> None:
    assert nearest(asked, HELD) == near


def test_names_are_near_by_their_letters() -> None:
    assert nearest("leak", HELD)[0] == "leek"
    assert nearest("buttr", HELD) == ["butter"]
    assert nearest("perl barly", HELD) == ["pearl barley"]


def test_the_nearer_name_comes_first_and_no_more_than_asked_for() -> None:
    assert nearest("flour", [*HELD, "flours"])[0] == "flours"
    assert nearest("flour", HELD, most=1) == ["bread flour"]


def test_the_order_of_the_names_does_not_matter() -> None:
    assert nearest("cheese", HELD[::-1]) == nearest("cheese", HELD)


def test_the_terminal_offers_what_has_the_word(tmp_path: Path) -> None:
    rows = "".join(f"\n{name},g" for name in ("goat's cheese", "rye flour", "bread flour", "leek"))
    book = make_book(tmp_path, {"ingredients": f"ingredient,base{rows}"}, series=())
    for asked, near in (
        ("cheese", "goat's cheese"), ("flour", "bread flour, rye flour"), ("leak", "leek"),
    ):  # fmt: skip
        done = run("price", asked, "2", "--pack", "1 kg", book=book.path)
        assert f"Nearest: {near}" in done.stderr + done.stdout
