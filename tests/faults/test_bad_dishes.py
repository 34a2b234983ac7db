"""A recipe that could not be costed is refused, whole, with the line that is wrong."""

from __future__ import annotations

import pytest

from pricing.book.connect import Book
from pricing.errors import Problem
from tests.kitchen import load
from tests.loading import ask, only, places

HEADER = (
    "dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,state,yield_pct"
)


def refused(book: Book, ingredient: str = "leek", **changed: str) -> Problem:
    cells = {
        "dish": "soup",
        "version": "1",
        "effective_from": "2020-01-01",
        "portions": "4",
        "batch_weight_g": "",
        "ingredient": ingredient,
        "quantity": "500",
        "unit": "g",
        "state": "",
        "yield_pct": "",
        **changed,
    }
    problem = only(load(book, "dishes", f"{','.join(cells)}\n{','.join(cells.values())}"))
    assert problem.line == 2
    assert ask(book, "SELECT count(*) FROM dish_version_now WHERE dish = 'soup'") == [(0,)]
    return problem


@pytest.mark.parametrize("portions", ["0", "-4", "four", "4-6"])
def test_portions_that_are_no_number_over_0(book: Book, portions: str) -> None:
    problem = refused(book, portions=portions)
    assert (problem.column, problem.expected) == ("portions", "a number over 0, written like 1.5")


@pytest.mark.parametrize("yield_pct", ["0", "130"])
def test_a_yield_of_0_or_130_percent(book: Book, yield_pct: str) -> None:
    assert refused(book, yield_pct=yield_pct).column == "yield_pct"


def test_a_dish_with_no_lines(book: Book) -> None:
    report = load(book, "dishes", f"{HEADER}\nsoup,1,2020-01-01,4,,,,,,")
    assert places(report) == [(2, "ingredient"), (2, "quantity"), (2, "unit")]
    assert report.problems[0].expected == (
        "an ingredient in every row: a dish has at least one line"
    )


@pytest.mark.parametrize(
    ("quantity", "unit", "column"),
    [
        ("500", "grms", "unit"),
        ("500", "pint", "unit"),  # of leek, which has no density
        ("0", "g", "quantity"),
        ("a few", "g", "quantity"),
        ("1,5", "kg", "quantity"),
        ("2-3", "each", "quantity"),
    ],
)
def test_a_quantity_that_cannot_be_read_or_converted(
    book: Book, quantity: str, unit: str, column: str
) -> None:
    assert refused(book, quantity=f'"{quantity}"', unit=unit).column == column


def test_a_cup_in_a_book_of_uk_measures_is_refused_with_the_choices(tmp_path: object) -> None:
    from pathlib import Path

    from tests.kitchen import make_book

    assert isinstance(tmp_path, Path)
    uk = make_book(
        tmp_path,
        {"ingredients": "ingredient,base\nwhole milk,ml"},
        currency="GBP",
        measures="uk",
    )
    problem = refused(uk, "whole milk", quantity="1", unit="cup")
    assert "us cup" in problem.expected


def test_edible_without_a_yield(book: Book) -> None:
    problem = refused(book, "pearl barley", state="edible")
    assert (problem.column, problem.expected) == (
        "yield_pct",
        "a yield on the line, or one of the ingredient",
    )


def test_edible_on_an_own_measure(book: Book) -> None:
    problem = refused(book, quantity="1", unit="bunch", state="edible")
    assert problem.column == "state"
    assert problem.found == "edible for bunch, an own measure of leek"


def test_an_unknown_state_and_an_unknown_pantry_word(book: Book) -> None:
    assert refused(book, state="raw").expected == "one of as_purchased, edible"
    assert refused(book, pantry="maybe").expected == "one of yes, no"


def test_an_unknown_ingredient_with_the_nearest_names(book: Book) -> None:
    assert refused(book, "pearl barly").remedy.startswith("Nearest: pearl barley. ")


def test_an_unknown_sub_recipe_with_the_nearest_names(book: Book) -> None:
    problem = refused(book, "dish:whit sauce", quantity="1", unit="batch")
    assert problem.remedy.startswith("Nearest: white sauce. ")


def test_a_sub_recipe_without_a_name(book: Book) -> None:
    assert refused(book, "dish: ", quantity="1", unit="batch").expected == (
        "the name of a dish after 'dish:'"
    )


@pytest.mark.parametrize("unit", ["ml", "each", "cup", "pot"])
def test_a_sub_recipe_in_another_unit(book: Book, unit: str) -> None:
    problem = refused(book, "dish:white sauce", quantity="1", unit=unit)
    assert (problem.column, problem.expected) == ("unit", "portion, batch or g")


def test_a_sub_recipe_with_a_state(book: Book) -> None:
    problem = refused(book, "dish:white sauce", quantity="1", unit="batch", state="edible")
    assert problem.found == "edible for a sub-recipe"


def test_a_sub_recipe_by_weight_of_a_dish_without_a_batch_weight(book: Book) -> None:
    problem = refused(book, "dish:stock")
    assert problem.found == "500 g of 'stock', which has a version without batch weight"


def test_rows_of_a_version_that_do_not_agree(book: Book) -> None:
    report = load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit
        soup,1,2020-01-01,4,1200,leek,500,g
        soup,1,2020-01-01,6,1200,pearl barley,100,g
        soup,1,2020-01-02,4,,egg,1,each
        """,
    )
    assert [(p.line, p.column, p.found, p.expected.split(",")[0]) for p in report.problems] == [
        (3, "portions", "6", "4"),
        (4, "effective_from", "2020-01-02", "2020-01-01"),
        (4, "batch_weight_g", "nothing", "1200"),
    ]


def test_a_version_that_differs_from_the_book_s(book: Book) -> None:
    report = load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit
        white sauce,1,2012-01-01,5,900,whole milk,900,ml
        stock,1,2012-01-01,10,,leek,2,bunch
        leek bake,1,2012-01-01,6,,leek,800,g
        """,
    )
    assert [(p.line, p.column) for p in report.problems] == [
        (2, "portions"),
        (3, "ingredient"),
        (4, "ingredient"),
    ]
    assert report.problems[2].found == "1 line"  # the book's has two
    assert "--replace" in report.problems[0].remedy


def test_a_dish_that_takes_itself(book: Book) -> None:
    problem = refused(book, "dish:Soup", quantity="1", unit="portion")
    assert problem.found == "a dish that takes itself: soup → soup"


def test_dishes_of_a_file_that_take_each_other(book: Book) -> None:
    report = load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit
        Pie,1,2020-01-01,4,,dish:filling,1,batch
        filling,1,2020-01-01,4,,dish:gravy,1,batch
        gravy,1,2020-01-01,4,,dish:pie,1,batch
        gravy,1,2020-01-01,4,,leek,100,g
        salad,1,2020-01-01,4,,dish:pie,1,portion
        """,
    )
    assert [(p.line, p.found.partition(": ")[2]) for p in report.problems] == [
        (2, "Pie → filling → gravy → Pie"),
        (3, "filling → gravy → Pie → filling"),
        (4, "gravy → Pie → filling → gravy"),
    ]


def test_a_new_version_that_closes_a_circle_with_the_book(book: Book) -> None:
    report = load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit
        white sauce,2,2020-01-01,4,900,dish:leek bake,1,portion
        """,
    )
    assert only(report).found == "a dish that takes itself: white sauce → leek bake → white sauce"


def test_a_replaced_version_that_loses_the_weight_another_dish_needs(book: Book) -> None:
    report = load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,ingredient,quantity,unit
        white sauce,1,2012-01-01,4,whole milk,900,ml
        """,
        replace=True,
    )
    problem = only(report)
    assert (problem.line, problem.column) == (2, "batch_weight_g")
    assert problem.expected == "one, because 'leek bake' takes this dish by weight"


def test_problems_of_every_sort_are_named_at_once(book: Book) -> None:
    report = load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit
        soup,1,2020-01-01,0,,leek,500,g
        soup,1,2020-01-01,0,,dish:soup,1,batch
        stew,1,2020-01-01,4,,leek,500
        stew,1,2020-01-01,4,,dish:sop,1,batch
        pie,1,2020-01-01,4,,dish:stock,100,g
        """,
    )
    assert places(report) == [
        (2, "portions"),
        (3, "portions"),
        (3, "ingredient"),
        (4, None),
        (5, "ingredient"),
        (6, "unit"),
    ]
