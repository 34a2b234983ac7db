"""Rules of a decisions file: what each row may say, and what it is refused for."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ingest.load import load_bytes
from pricing.book.connect import Book
from tests.ingest.tray.bring import bring, decide, decided, line, rows_of, seen, waiting
from tests.ingest.tray.conftest import book, stocked
from tests.kitchen import TODAY, load
from tests.loading import ask, only, places

__all__ = ["book", "stocked"]
NEW = "words,ingredient,pack,base,density_g_per_ml,category"


def test_a_row_without_an_ingredient_is_not_decided_yet(book: Book) -> None:
    bring(book, line("ZRV"))
    report = decide(book, ",ZRV,,", ",QLP,leek,500 g")
    assert (report.added, report.problems) == (1, ())
    assert report.remarks == ("1 row without an ingredient: not decided yet.",)
    assert waiting(book) == ["ZRV"]


def test_a_decision_makes_a_new_ingredient_with_its_facts(book: Book) -> None:
    """6.30 for 1.5 kg of 1.26 g per ml: 6.30 / 1500 × 1.26 = 0.005292 a ml."""
    bring(book, line("ZRV STICKY", "6.30"))
    decided(book, "ZRV STICKY,treacle,1.5 kg,ml,1.26,larder", columns=NEW)
    facts = ask(
        book,
        "SELECT base, density_g_per_ml, category, allergens FROM ingredient_now "
        "WHERE name = 'treacle'",
    )
    assert facts == [("ml", Decimal("1.26"), "larder", None)]  # its allergens are not known
    assert seen(book) == [("treacle", Decimal("6.30"), "1.5 kg", None)]
    ((unit_price,),) = ask(book, "SELECT unit_price FROM observation_priced")
    assert unit_price == pytest.approx(0.005292)


def test_rows_after_the_one_that_makes_an_ingredient_may_name_it(book: Book) -> None:
    bring(book, line("ZRV"), line("QLP", "6", line=3))
    decided(book, "QLP,treacle,1 kg,,,", "ZRV,Treacle,500 g,g,,", columns=NEW)
    assert [row[0] for row in seen(book)] == ["Treacle", "Treacle"]


def test_an_unknown_ingredient_offers_the_nearest_and_the_ways_out(book: Book) -> None:
    problem = only(decide(book, ",ZRV,leak,500 g"))
    assert (problem.line, problem.column, problem.found) == (2, "ingredient", "'leak'")
    assert "Nearest: leek" in problem.sentence()
    assert "state its base (g, ml or each) in the same row" in problem.remedy
    assert "'not an ingredient'" in problem.remedy


def test_a_pack_that_the_ingredient_cannot_be_counted_in(book: Book) -> None:
    """Barley has no density, so that a volume of it says no weight."""
    problem = only(decide(book, ",ZRV,barley,2 l"))
    assert (problem.line, problem.column) == (2, "pack")
    assert "density" in problem.sentence()


def test_rows_that_contradict_each_other_are_both_refused(book: Book) -> None:
    bring(book, line("ZRV"))
    rows = (",ZRV,leek,500 g", ",zrv,barley,1 kg", ",QLP,leek,1 kg")
    report = decide(book, *rows)
    assert places(report) == [(3, "words")]
    assert report.problems[0].expected == "one decision for the same words, as on line 2"
    good = decide(book, *rows, skip_bad=True)
    assert (good.added, waiting(book), seen(book)) == (1, ["ZRV"], [])


def test_the_same_row_twice_counts_once(book: Book) -> None:
    report = decide(book, ",ZRV,leek,500 g", ",ZRV,leek,500 g")
    assert (report.added, report.already, report.problems) == (1, 1, ())


def test_a_file_of_decisions_again_adds_nothing(book: Book) -> None:
    bring(book, line("ZRV"))
    decided(book, ",ZRV,leek,500 g")
    again = decide(book, ",ZRV,leek,500 g")
    assert (again.load, again.added, again.already, again.problems) == (None, 0, 1, ())


def test_what_was_decided_otherwise_is_refused_unless_it_takes_its_place(book: Book) -> None:
    bring(book, line("ZRV"))
    decided(book, ",ZRV,leek,500 g")
    problem = only(decide(book, ",ZRV,barley,500 g"))
    assert problem.sentence() == (
        "line 2, column ingredient: found 'barley'; expected 'leek', pack 500 g, as these words "
        "were decided before. Correct the row, or load the file with --replace: the new decision "
        "counts from now on, and prices that came by the old one stay until its load is undone."
    )
    decided(book, ",ZRV,barley,500 g", replace=True)
    bring(book, line("ZRV", "4"))
    assert [row[:2] for row in seen(book)] == [("leek", Decimal(5)), ("pearl barley", Decimal(4))]


def test_a_refused_decision_settles_nothing_even_with_skip_bad(book: Book) -> None:
    """The words wait at another sender; the row is refused, so that they go on waiting."""
    decided(book, ",ZRV,leek,")
    bring(book, line("ZRV", "4", supplier="Shop A"))
    report = decide(book, ",ZRV,barley,500 g", skip_bad=True)
    assert places(report) == [(2, "ingredient")]
    assert (waiting(book), seen(book)) == (["ZRV"], [])


def test_an_ingredient_of_a_refused_row_is_not_made(book: Book) -> None:
    bring(book, line("ZRV"), line("QLP", line=3))
    rows = ("ZRV,treacle,,g,,", "QLP,leek,1 kg,,,")
    report = decide(book, *rows, columns=NEW, skip_bad=True)
    assert (places(report), report.added) == ([(2, "pack")], 1)
    assert ask(book, "SELECT count(*) FROM ingredient_now WHERE name = 'treacle'") == [(0,)]
    assert waiting(book) == ["ZRV"]


def test_the_product_of_the_decision_names_the_price(book: Book) -> None:
    bring(book, line("ZRV"), line("QLP", "6", line=3))
    decided(
        book,
        "ZRV,leek,500 g,Best leeks",
        "QLP,leek,500 g,",
        columns="words,ingredient,pack,product",
    )
    assert ask(book, "SELECT product FROM observation_now ORDER BY row_id") == [
        ("Best leeks",), ("QLP",),
    ]  # fmt: skip


def test_an_ingredient_cannot_be_called_like_a_line_that_waits(book: Book) -> None:
    problem = only(load(book, "ingredients", "ingredient,base\nWaiting: x,g"))
    assert problem.sentence() == (
        "line 2, column ingredient: found 'Waiting: x'; expected a name that does not begin with "
        "'waiting:'. That beginning marks a line that waits for a decision in a dish; choose "
        "another name."
    )


def test_words_that_a_spreadsheet_would_run_stay_text(book: Book) -> None:
    """A ' before the sign, as tray --write puts it, is no part of the words."""
    bring(book, line("=cmd|' /C calc'!A0"), line("'-1", "6", line=3))
    decided(
        book,
        "\"'=cmd|' /C calc'!A0\",leek,500 g",
        "''-1,leek,500 g",
        columns="words,ingredient,pack",
    )
    assert waiting(book) == []
    assert ask(book, "SELECT words FROM decision ORDER BY row_id") == [
        ("=cmd|' /C calc'!A0",), ("'-1",),
    ]  # fmt: skip
    assert rows_of(book, ["tray_settled"]) == {"tray_settled": 2}


def test_facts_of_a_new_ingredient_are_taken_once_and_the_others_named(book: Book) -> None:
    """As a tray is written: each row proposes facts by its own words, some none."""
    bring(book, line("ZRV", "6"), line("QLP", "6", line=3), line("MUK", "6", line=4))
    report = decide(
        book, "ZRV,treacle,1 kg,g,1.4,larder", "QLP,treacle,1 kg,,,", "MUK,Treacle,2 kg,g,1.3,",
        columns=NEW,
    )  # fmt: skip
    assert report.problems == ()
    assert (
        "treacle is made with density g per ml 1.4, as line 2 says; left aside: 1.3 (line 4)."
        in report.remarks
    )
    assert [row[0] for row in seen(book)] == ["treacle"] * 3


def test_a_pack_where_none_was_adds_to_a_decision(book: Book) -> None:
    decided(book, ",ZRV,leek,")
    decided(book, ",ZRV,leek,500 g")
    assert ask(book, "SELECT pack FROM decision_now") == [("500 g",)]
    assert decide(book, ",ZRV,leek,").already == 1  # an empty cell says nothing
    problem = only(decide(book, ",ZRV,leek,1 kg"))
    assert (problem.column, problem.found) == ("pack", "'1 kg'")
    assert problem.expected.startswith("'500 g', as these words were decided before")


def test_all_that_an_amount_lacks_is_said_at_once(book: Book) -> None:
    text = "Pie\nServes 2\n\n500 g leeks\n2 cloves zorvik\n"
    load_bytes(book, "dishes", "pie.txt", text.encode(), today=TODAY)
    report = decide(book, "zorvik,Zorvik bulb,each", columns="words,ingredient,base")
    assert any("needs its measure 'clove' and its grams_each" in each for each in report.remarks)
