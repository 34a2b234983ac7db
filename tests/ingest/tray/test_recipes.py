"""Recipes of pages and texts become versions of dishes; a line that nobody knows waits."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from ingest.load import FileReport, load_bytes
from ingest.tray.listing import list_tray
from ingest.tray.new_facts import new_facts
from pricing.book.connect import Book
from tests.kitchen import TODAY, load
from tests.loading import ask, only

SOUP = "Leek soup\n\n500 g leeks\n2 bananas\n"


def bring(book: Book, text: str, *, days: int = 0, **more: Any) -> FileReport:
    today = TODAY + timedelta(days=days)
    return load_bytes(book, "dishes", "recipe.txt", text.encode(), today=today, **more)


def versions(book: Book) -> int:
    return int(ask(book, "SELECT count(*) FROM dish_version")[0][0])


def test_portions_that_are_not_said_are_asked(book: Book) -> None:
    before = versions(book)
    report = bring(book, SOUP)
    problem = only(report)
    assert (report.form, problem.line, problem.column) == ("recipe-text", 3, "portions")
    assert problem.remedy == 'Say it with --answer "portions=4".'
    told = bring(book, SOUP, told={"portions": "4"})
    assert (told.problems, told.added, told.waiting) == ((), 2, 1)
    assert any("'bananas'" in each and "at least" in each for each in told.remarks)
    assert versions(book) == before + 1


def test_the_same_file_on_another_day_adds_no_version(book: Book) -> None:
    bring(book, SOUP, told={"portions": "4"})
    held = versions(book)
    later = bring(book, SOUP, days=3, told={"portions": "4"})
    assert (later.load, later.added, later.already, later.problems) == (None, 0, 2, ())
    assert versions(book) == held


def test_an_ingredient_that_cannot_be_converted_waits_and_says_why(book: Book) -> None:
    """Syrup is counted in ml, and the book does not know its density."""
    report = bring(book, "Syrup pie\nServes 4\n\n200 g syrup\n500 g leeks\n")
    assert (report.problems, report.added, report.waiting) == ((), 2, 1)
    assert "'200 g syrup' waits: to count it, syrup needs density_g_per_ml." in report.remarks


def test_several_recipes_in_one_file(book: Book) -> None:
    text = "Leek stew\nServes 4\n\n500 g leeks\n\n\nEgg cups\nServes 2\n\n3 eggs\n2 leeks\n"
    report = bring(book, text)
    assert (report.problems, report.added) == ((), 3)
    names = {name for (name,) in ask(book, "SELECT name FROM dish")}
    assert {"Leek stew", "Egg cups"} <= names


def test_a_dry_run_stores_nothing(book: Book) -> None:
    before = versions(book)
    report = bring(book, SOUP, told={"portions": "4"}, dry_run=True)
    assert (report.form, report.added, report.waiting, report.load) == ("recipe-text", 2, 1, None)
    assert versions(book) == before


def test_a_recipe_whose_every_line_is_no_ingredient_is_refused(book: Book) -> None:
    text = "Table\nServes 4\n\n2 candles\n1 napkin\n"
    load(book, "decisions", """words,ingredient
        candles,not an ingredient
        napkin,not an ingredient""")  # fmt: skip
    held = versions(book)
    assert only(bring(book, text)).sentence() == (
        "line 4: found 'Table', each line of which was decided before to be no ingredient; "
        "expected at least one ingredient. Decide anew what its words are, or leave the recipe "
        "out."
    )
    assert versions(book) == held


def test_salt_and_pepper_are_two_lines_both_to_taste(book: Book) -> None:
    report = bring(book, "Leek mash\nServes 4\n\n500 g leeks\nsalt and pepper to taste\n")
    assert (report.problems, report.added) == ((), 3)
    assert "'salt and pepper to taste' is read as two lines: salt and pepper." in report.remarks
    lines = ask(
        book,
        "SELECT quantity, unit FROM dish_line WHERE note LIKE 'salt and pepper to taste%'",
    )
    assert lines == [("1", "g"), ("1", "g")]  # to taste: 1 g, common practice


def test_a_plural_is_what_its_singular_was_decided_to_be(book: Book) -> None:
    load_bytes(book, "decisions", "d.csv", b"words,ingredient\nporry stem,leek\n", today=TODAY)
    report = bring(book, "Leek mash\nServes 4\n\n500 g porry stems\n300 g cold porry stems\n")
    assert (report.problems, report.waiting) == ((), 1)  # the cold ones are proposed, not taken
    (waits,) = list_tray(book, TODAY)
    assert waits.words == "cold porry stems"
    assert waits.proposal is not None
    assert waits.proposal.ingredient == "leek"


def test_a_decision_on_the_singular_settles_the_plural(book: Book) -> None:
    bring(book, "Leek mash\nServes 4\n\n500 g porry stem\n300 g porry stems\n")
    assert {each.words for each in list_tray(book, TODAY)} == {"porry stem", "porry stems"}
    load_bytes(book, "decisions", "d.csv", b"words,ingredient\nporry stem,leek\n", today=TODAY)
    assert list_tray(book, TODAY) == ()


def test_a_new_ingredient_that_only_recipes_have_is_counted_as_they_count_it(book: Book) -> None:
    bring(book, "Pie\nServes 4\n\n200 g quinces\nsorrel\n")
    waiting = {each.words: each for each in list_tray(book, TODAY)}
    quinces = new_facts(book, waiting["quinces"]).base
    assert quinces is not None
    assert (quinces.value, quinces.source) == ("g", "by its recipes, which take 200 g")
    assert new_facts(book, waiting["sorrel"]).base is None
