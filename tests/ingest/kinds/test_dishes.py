"""Dishes are stored as printed, version by version, with their quantities read."""

from __future__ import annotations

from decimal import Decimal

from pricing.book.connect import Book
from tests.kitchen import load
from tests.loading import ask

LINES = (
    "SELECT v.dish, v.version, l.position, coalesce(i.name, 'dish:' || d.name), l.amount, "
    "l.dimension, l.measure_key, l.state, l.pantry "
    "FROM dish_version_now v JOIN dish_line l ON l.version_row = v.row_id "
    "LEFT JOIN ingredient i USING (ingredient_id) LEFT JOIN dish d ON d.dish_id = l.sub_dish_id "
    "WHERE v.dish = 'soup' ORDER BY ALL"
)


def test_lines_are_read_into_exact_amounts(book: Book) -> None:
    """1 lb = 453.59237 g; a US cup = 236.5882365 ml (NIST Handbook 44, appendix C)."""
    report = load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,state,yield_pct,pantry
        soup,1,2020-01-01,4,1200,Leeks,2,bunches,,,
        soup,1,2020-01-01,4.0,1200,barley,1/2,lb,,,YES
        Soup,1,2020-01-01,4,1200,whole milk,1 1/2,cups,,,no
        soup,1,2020-01-01,4,1200,egg,100,g,edible,88,
        soup,1,2020-01-01,4,1200,dish:White  Sauce,1½,portions,,,
        soup,1,2020-01-01,4,1200,dish:stock,2,batches,,,
        soup,1,2020-01-01,4,1200,dish:white sauce,0.3,kg,,,
        """,
    )
    assert (report.problems, report.added) == ((), 7)
    assert ask(book, LINES) == [
        ("soup", "1", 1, "leek", Decimal(2), "measure", "bunch", "as_purchased", False),
        ("soup", "1", 2, "pearl barley", Decimal("226.796185"), "g", None, "as_purchased", True),
        ("soup", "1", 3, "whole milk", Decimal("354.88235475"), "ml", None, "as_purchased", False),
        ("soup", "1", 4, "egg", Decimal(100), "g", None, "edible", False),
        (
            "soup",
            "1",
            5,
            "dish:white sauce",
            Decimal("1.5"),
            "portion",
            None,
            "as_purchased",
            False,
        ),
        ("soup", "1", 6, "dish:stock", Decimal(2), "batch", None, "as_purchased", False),
        ("soup", "1", 7, "dish:white sauce", Decimal(300), "g", None, "as_purchased", False),
    ]


def test_a_file_may_define_a_sub_recipe_after_the_dish_that_takes_it(book: Book) -> None:
    report = load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit
        pie,1,2020-01-01,4,,dish:Filling,200,g
        filling,1,2020-01-01,4,800,leek,500,g
        """,
    )
    assert (report.problems, report.added) == ((), 2)


def test_a_new_version_is_added_beside_the_old_one(book: Book) -> None:
    report = load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,ingredient,quantity,unit
        Stock,2,2020-01-01,12,leek,1,bunch
        stock,2,2020-01-01,12,pearl barley,50,g
        """,
    )
    assert report.added == 2
    assert ask(
        book, "SELECT dish, version FROM dish_version_now WHERE dish_key = 'stock' ORDER BY 2"
    ) == [("stock", "1"), ("stock", "2")]


def test_version_labels_compare_exactly(book: Book) -> None:
    row = "stock,1.0,2020-01-01,10,leek,1,bunch"
    header = "dish,version,effective_from,portions,ingredient,quantity,unit"
    assert load(book, "dishes", f"{header}\n{row}").added == 1


def test_a_replaced_version_takes_the_place_of_the_old_one(book: Book) -> None:
    header = "dish,version,effective_from,portions,ingredient,quantity,unit"
    report = load(book, "dishes", f"{header}\nstock,1,2012-01-01,8,leek,900,g", replace=True)
    assert report.added == 1
    assert ask(book, "SELECT portions FROM dish_version_now WHERE dish = 'stock'") == [
        (Decimal(8),)
    ]
    assert ask(
        book, "SELECT count(*) FROM dish_version JOIN dish USING (dish_id) WHERE name = 'stock'"
    ) == [(2,)]


def test_two_versions_from_one_day_are_remarked(book: Book) -> None:
    header = "dish,version,effective_from,portions,ingredient,quantity,unit"
    report = load(book, "dishes", f"{header}\nstock,2,2012-01-01,8,leek,900,g")
    assert report.remarks == (
        "Versions 1 and 2 of 'stock' take effect on the same day, 2012-01-01; name the version "
        "when you cost that dish.",
    )


def test_the_same_quantity_in_another_unit_is_the_same_line(book: Book) -> None:
    header = "dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit"
    report = load(book, "dishes", f"{header}\nwhite sauce,1,2012-01-01,4,900,whole milk,0.9,l")
    assert (report.added, report.already) == (0, 1)
