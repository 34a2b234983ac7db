"""`dishes`, `ingredients` and `prices` list what the book holds."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.kitchen import make_book
from tests.terminal import answer, run

KITCHEN = {
    "ingredients": "ingredient,category,base\nrye flour,baking,g\nleek,greens,g",
    "prices": """
        ingredient,date,price,currency,pack,supplier,kind
        leek,2026-11-10,3.00,USD,1 kg,Quay,shelf
        leek,2026-06-10,2.00,USD,1 kg,Quay,shelf
        leek,2026-11-12,2.40,USD,500 g,Mill,offer
        leek,2026-11-13,1.50,EUR,1 kg,Mill,shelf
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        soup,1,2026-01-01,4,leek,400,g
        soup,2,2026-06-01,6,leek,500,g
        bread,1,2026-02-01,2,rye flour,500,g
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_book(tmp_path_factory.mktemp("holds"), KITCHEN, series=()).path


def test_dishes_with_their_versions(book: Path) -> None:
    found = answer("dishes", "--json", book=book)["dishes"]
    assert [each["dish"] for each in found] == ["bread", "soup"]
    assert found[1]["versions"] == [
        {"version": "1", "effective_from": "2026-01-01", "portions": 4.0, "target": None},
        {"version": "2", "effective_from": "2026-06-01", "portions": 6.0, "target": None},
    ]
    said = run("dishes", book=book).stdout
    assert "2 dishes" in said
    assert "2026-06-01" in said


def test_ingredients_with_how_much_is_known_of_their_prices(book: Path) -> None:
    leek, rye = answer("ingredients", "--json", book=book)["ingredients"]
    # of four prices one is in another currency
    assert (leek["ingredient"], leek["prices"], leek["last_on"]) == ("leek", 3, "2026-11-12")
    assert (rye["category"], rye["prices"], rye["last_on"]) == ("baking", 0, None)
    said = run("ingredients", book=book).stdout
    assert "never priced" in said
    assert "2 ingredients" in said


def test_prices_of_an_ingredient_the_newest_first(book: Path) -> None:
    found = answer("prices", "leek", "--json", book=book)
    seen = [(each["observed_on"], each["price"], each["kind"]) for each in found["observations"]]
    assert seen == [
        ("2026-11-13", 1.5, "shelf"), ("2026-11-12", 2.4, "offer"), ("2026-11-10", 3.0, "shelf"),
        ("2026-06-10", 2.0, "shelf"),
    ]  # fmt: skip
    assert found["observations"][1]["unit_price"] == pytest.approx(2.4 / 500)
    assert found["unit_price"] == pytest.approx(0.003)  # one shop, seen 14 days ago; no offer
    said = run("prices", "leek", book=book).stdout
    assert said.startswith("leek on 24 November 2026: $")
    assert "500 g" in said


def test_what_is_empty_says_what_to_do(book: Path, tmp_path: Path) -> None:
    empty = make_book(tmp_path, series=()).path
    assert "Load them with" in run("dishes", book=empty).stdout
    assert "Load them with" in run("ingredients", book=empty).stdout
    assert "Log one with" in run("prices", "rye flour", book=book).stdout
    done = run("prices", "flour", book=book)
    assert (done.returncode, "Nearest: rye flour" in done.stderr) == (2, True)
