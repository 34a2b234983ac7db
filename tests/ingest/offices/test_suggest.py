"""Suggestions find an ingredient's series by its name, and change nothing."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

import demo_prices
from dashboard.cli import app
from ingest.offices.facts.ladders import ladder
from ingest.offices.suggest import suggest
from ingest.offices.title_fit import score_of, words
from pricing.book.connect import Book
from pricing.errors import UnknownName
from tests.kitchen import load, make_book

CLASSES = "series,month,value,title\n" + "".join(
    f'uk-ons:{rung.key},2026-08,100,"{rung.title}, UK"\n'
    for rung in ladder("uk-ons").values()
    if rung.coicop and len(rung.coicop) <= 6  # the classes that every file has
)
NAMES = {  # ingredient → UK class, from the class titles of COICOP 1999
    "butter": "D7D9", "cheddar": "D7D8", "large eggs": "D7D8", "leeks": "D7DB",
    "plain flour": "D7D5", "beef mince": "D7D6", "smoked haddock": "D7D7",
    "caster sugar": "D7DC", "apples": "D7DA", "thyme": "D7DD", "strong black coffee": "D7DE",
    "red wine": "D7DH", "sultanas": "D7DA", "olive oil": "D7D9", "whole milk": "D7D8",
    "chicken thighs": "D7D6", "potatoes": "D7DB", "orange juice": "D7DF",
    "dark chocolate": "D7DC", "spaghetti": "D7D5",
}  # fmt: skip


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    book = make_book(tmp_path_factory.mktemp("suggest"), currency="GBP", measures="uk")
    load(book, "index", CLASSES)
    load(book, "ingredients", "ingredient,base\n" + "".join(f"{name},g\n" for name in NAMES))
    return book


def test_british_ingredients_find_their_class_first(book: Book) -> None:
    found = {each.ingredient: each.suggestions for each in suggest(book)}
    first = {name: suggestions[0].series for name, suggestions in found.items() if suggestions}
    wrong = {
        name: first.get(name) for name, key in NAMES.items() if first.get(name) != f"uk-ons:{key}"
    }
    assert wrong == {}


def test_series_of_the_book_s_own_money_come_before_others(book: Book) -> None:
    # the bundled series are American; a British book that has British ones is not offered them
    for each in suggest(book):
        assert all(one.series.startswith("uk-ons:") for one in each.suggestions)
    (american,) = suggest(book, "butter", office="us-bls")
    assert american.suggestions[0].series == "us-bls:SS10011"


def test_a_norwegian_book_is_offered_norwegian_series(tmp_path: Path) -> None:
    book = make_book(tmp_path, currency="NOK")  # with the bundled American series
    load(book, "index", "series,month,value,title\nno-ssb:01.1.5,2026-08,100,Butter\n")
    load(book, "ingredients", "ingredient,base\nbutter,g\n")
    (found,) = suggest(book, "butter", weak=True)
    assert [each.series for each in found.suggestions] == ["no-ssb:01.1.5"]


def test_american_ingredients_of_the_demo_find_their_own_series(tmp_path: Path) -> None:
    # what the demo kitchen chose by hand, against three suggestions each
    text = (Path(demo_prices.__path__[0]) / "ingredients.csv").read_text(encoding="utf-8")
    chosen = {row["ingredient"]: row["series"] for row in csv.DictReader(io.StringIO(text))}
    # into the book without their series, so that all of them are asked about at once
    without = text.replace(",series,", ",series chosen,", 1)
    book = make_book(tmp_path, {"ingredients": without})
    found = {each.ingredient: each.suggestions for each in suggest(book)}
    assert found.keys() == chosen.keys()
    among = [
        name for name, series in chosen.items() if series in [one.series for one in found[name]]
    ]
    assert len(among) / len(chosen) > 0.8


def test_an_unknown_ingredient_is_refused_with_the_nearest(book: Book) -> None:
    with pytest.raises(UnknownName, match="Nearest: cheddar"):
        suggest(book, "cheder")


def test_a_title_counts_without_what_it_excepts() -> None:
    assert "potato" not in words("Fresh vegetables other than potatoes and other tubers")
    assert score_of("potatoes", None, "Vegetables other than potatoes, IE")[1] != "its name"


def test_a_suggestion_is_taken_only_when_its_file_is_loaded(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    before = book.path.read_bytes()
    file = tmp_path / "look.csv"
    with pytest.raises(SystemExit) as ended:
        app(["index", "suggest", "cheddar", "--write", str(file)])
    assert ended.value.code == 0
    assert book.path.read_bytes() == before
    assert file.read_text().splitlines()[1].startswith("cheddar,g,uk-ons:D7D8,")
    assert "uk-ons:D7D8" in capsys.readouterr().out

    report = load(book, "ingredients", file.read_text(), replace=True)
    assert (report.added, report.problems) == (1, ())
    (after,) = suggest(book, "cheddar")
    assert after.series == "uk-ons:D7D8"
