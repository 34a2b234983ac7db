"""Printed figures checked: a small kitchen worked out by pencil."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book, writing
from pricing.errors import DateRefused, InputRefused
from pricing.printed.records import CheckedFigure
from pricing.printed.verdict import verdict_now, verdict_then
from tests.kitchen import load, make_book

ON = date(2022, 1, 20)
FILES = {
    "ingredients": """
        ingredient,base
        flour,g
        butter,g
        saffron,g
    """,
    "prices": """
        ingredient,date,price,currency,pack
        flour,2020-01-10,1.00,USD,1 kg
        flour,2022-01-10,1.20,USD,1 kg
        butter,2020-01-10,8.00,USD,1 kg
        butter,2022-01-10,10.00,USD,1 kg
        flour,2020-01-10,0.90,EUR,1 kg
        flour,2022-01-10,0.90,EUR,1 kg
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        loaf,1,2019-01-01,1,flour,1,kg
        loaf,2,2021-01-01,1,flour,500,g
        tart,1,2019-01-01,1,dish:pastry,1,portion
        pastry,1,2019-01-01,1,butter,100,g
        pastry,2,2021-01-01,1,butter,50,g
        paella,1,2019-01-01,1,flour,100,g
        paella,1,2019-01-01,1,saffron,1,g
    """,
    "printed": """
        dish,version,published_on,cost_per_portion,currency,where,note
        loaf,1,2020-01-20,1.00,USD,Sheet 1,
        loaf,2,2021-12-20,0.60,USD,Sheet 2,
        loaf,1,2020-01-21,1.30,USD,Sheet 3,
        loaf,1,2020-01-22,0.90,EUR,Sheet 4,
        tart,1,2020-01-20,0.80,USD,Sheet 5,
        paella,1,2020-01-20,2.00,USD,,
        loaf,1,2026-11-20,1.20,USD,later,
    """,
}
# BLS, CPI-U, US city average, not seasonally adjusted: food at home (SAF11) in January 2020,
# December 2021 and January 2022; all items (SA0) in the first and the last
FOOD, ALL = (243.110, 267.555, 270.711), (257.971, 281.148)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("printed"), FILES)


@pytest.fixture(scope="module")
def by(book: Book) -> dict[str | None, CheckedFigure]:
    """Every figure of that day, by where it was printed."""
    return {each.where: each for each in pricing.check_printed(book, on=ON).figures}


def test_a_figure_that_was_right_and_is_stale(by: dict[str | None, CheckedFigure]) -> None:
    assert len(by) == 6  # the last is costed for a later day
    first = by["Sheet 1"]  # 1 kg at 1.00, ten days old; now at 1.20: +20 %
    assert (first.known_then, first.recosted_then, first.recosted_now) == (
        pytest.approx(1.0), pytest.approx(1.0), pytest.approx(1.2),
    )  # fmt: skip
    assert (first.off_then_pct, first.off_now_pct) == (pytest.approx(0.0), pytest.approx(20.0))
    assert (first.then, first.now) == ("agrees", "stale")


def test_what_was_known_then_is_not_what_is_known_now(by: dict[str | None, CheckedFigure]) -> None:
    second = by["Sheet 2"]  # 500 g of flour on 20 December 2021
    # known then: the 1.00 of January 2020, moved by food at home (flour names no series)
    assert second.known_then == pytest.approx(0.5 * FOOD[1] / FOOD[0])
    # known now: bent from day 45 on towards the 1.20 of 10 January 2022; the day asked about is
    # 710 days after the first sighting, the second 731
    bend = (1.20 / (FOOD[2] / FOOD[0])) ** ((710 - 45) / (731 - 45))
    assert second.recosted_then == pytest.approx(0.5 * FOOD[1] / FOOD[0] * bend)
    # 0.5503 is 8.3 % under 0.60; 0.5916, by what is known now, would be 1.4 % under
    assert (second.then, second.off_then_pct) == ("differs", pytest.approx(-8.287, abs=0.001))
    assert (second.now, second.recosted_now) == ("holds", pytest.approx(0.6))


def test_a_figure_in_another_currency(by: dict[str | None, CheckedFigure]) -> None:
    euros = by["Sheet 4"]  # costed in its own currency; the book's series say nothing of it
    assert (euros.recosted_now, euros.then, euros.now) == (pytest.approx(0.9), "agrees", "holds")
    assert (euros.rebased_food, euros.rebased_all) == (None, None)


def test_sub_recipes_are_those_of_the_day_it_was_costed_for(
    by: dict[str | None, CheckedFigure],
) -> None:
    # the pastry of 2020 in both costings: 100 g at 8.00 a kilo = 0.80, at 10.00 = 1.00
    tart = by["Sheet 5"]
    assert (tart.known_then, tart.recosted_now) == (pytest.approx(0.8), pytest.approx(1.0))
    assert (tart.recipe_day, tart.off_now_pct) == (date(2020, 1, 20), pytest.approx(25.0))


def test_a_figure_that_cannot_be_priced(book: Book, by: dict[str | None, CheckedFigure]) -> None:
    paella = by[None]
    assert (paella.then, paella.now) == ("cannot price", "cannot price")
    assert (paella.known_then, paella.recosted_now, paella.off_now_pct) == (None, None, None)
    assert {(gap.ingredient, gap.on) for gap in paella.gaps} == {
        ("saffron", date(2020, 1, 20)),
        ("saffron", ON),
    }
    assert "No price of saffron" in paella.gaps[0].reason
    assert pricing.check_printed(book, on=ON).complete is False


def test_rebased_by_the_series_of_the_book(by: dict[str | None, CheckedFigure]) -> None:
    first = by["Sheet 1"]
    assert first.rebased_food == pytest.approx(1.00 * FOOD[2] / FOOD[0], rel=1e-12)
    assert first.rebased_all == pytest.approx(1.00 * ALL[1] / ALL[0], rel=1e-12)


def test_a_figure_is_superseded_by_a_later_one_of_the_dish_in_its_currency(book: Book) -> None:
    found = pricing.check_printed(book, on=ON)
    assert {each.where: each.superseded_by for each in found.figures} == {
        "Sheet 1": date(2020, 1, 21),  # the next one
        "Sheet 3": date(2021, 12, 20),
        "Sheet 2": None,  # the next is of 2026
        "Sheet 4": None,  # the only one in euros
        "Sheet 5": None,
        None: None,
    }
    assert {each.where for each in found.superseded} == {"Sheet 1", "Sheet 3"}
    # the day before Sheet 3 was out, nothing was superseded
    earlier = pricing.check_printed(book, on=date(2020, 1, 20))
    assert [each.superseded_by for each in earlier.figures] == [None] * 3


def test_what_misleads_most_comes_first_and_what_is_superseded_last(book: Book) -> None:
    found = pricing.check_printed(book, on=ON)
    # in force: off by 25 % (tart), 8.3 % (Sheet 2), no price, right; superseded: 1.00 for 1.30 is
    # off by 23.1 %, 1.20 for 1.00 by 20 %
    assert [each.where for each in found.figures] == [
        "Sheet 5", "Sheet 2", None, "Sheet 4", "Sheet 3", "Sheet 1",
    ]  # fmt: skip


def test_tolerance_is_of_the_printed_figure() -> None:
    # 5 % of 1.00 is 0.05, to the last digit: 1.05 and 0.95 are within it, although 1.05 − 1.00 is
    # 0.050000000000000044 in binary
    assert (verdict_then(1.00, 1.05), verdict_now(1.00, 0.95)) == ("agrees", "holds")
    assert (verdict_then(1.00, 1.0501), verdict_now(1.00, 0.9499)) == ("differs", "stale")
    # 5 % of the costing would be more than 5 % of the figure
    assert (verdict_then(1.00, 1.052), verdict_now(1.00, 1.052)) == ("differs", "stale")
    assert (verdict_then(1.00, 1.10, 10), verdict_now(1.00, 1.10, 10)) == ("agrees", "holds")
    assert (verdict_then(1.00, None), verdict_now(1.00, None)) == ("cannot price", "cannot price")


def test_tolerance_of_the_command(book: Book) -> None:
    wide = pricing.check_printed(book, on=ON, tolerance_pct=40)
    assert {each.then for each in wide.figures} == {"agrees", "cannot price"}
    assert {each.now for each in wide.figures} == {"holds", "cannot price"}
    for wrong in (-1, float("nan"), float("inf")):
        with pytest.raises(InputRefused, match="from 0 up"):
            pricing.check_printed(book, tolerance_pct=wrong)


def test_dates(book: Book) -> None:
    with pytest.raises(DateRefused, match="after today"):
        pricing.check_printed(book, on=date(2026, 11, 25))
    today = pricing.check_printed(book)  # 24 November 2026
    assert (today.on, len(today.figures)) == (date(2026, 11, 24), 7)
    assert pricing.check_printed(book, on=date(2019, 1, 1)).figures == ()


def test_a_figure_for_an_issue_not_out_yet(tmp_path: Path) -> None:
    """Listed from the day it was costed for; it replaces no other before it is out."""
    book = make_book(tmp_path, FILES)
    head = "dish,version,published_on,cost_per_portion,currency,costed_on,where"
    rows = ["loaf,1,2027-03-01,1.30,USD,2022-01-15,spring", "tart,1,2027-03-02,1.00,USD,,summer"]
    assert load(book, "printed", "\n".join([head, *rows])).problems == ()
    by = {each.where: each for each in pricing.check_printed(book).figures}
    spring, summer = by["spring"], by["summer"]
    assert (spring.costed_on, spring.published_on) == (date(2022, 1, 15), date(2027, 3, 1))
    assert spring.known_then == pytest.approx(1.2)  # 1 kg, seen five days before
    assert spring.superseded_by is None
    assert by["later"].superseded_by is None  # the spring issue is not out yet
    assert summer.costed_on == date(2026, 11, 24)  # the day it was loaded
    assert by["Sheet 5"].superseded_by is None
    listed = {each.where for each in pricing.check_printed(book, on=date(2022, 1, 15)).figures}
    assert "spring" in listed
    before = {each.where for each in pricing.check_printed(book, on=date(2022, 1, 14)).figures}
    assert not before & {"spring", "summer"}


def test_json_has_the_keys_that_were_promised(book: Book) -> None:
    found = pricing.check_printed(book, on=ON).as_json()
    assert found["on"] == "2022-01-20"
    assert isinstance(found["figures"], list)
    assert found["figures"][0].keys() >= {
        "dish", "version", "published_on", "costed_on", "printed", "currency", "recipe_day",
        "known_then", "recosted_then", "recosted_now", "off_then_pct", "off_now_pct", "then", "now",
        "rebased_food", "rebased_all",
    }  # fmt: skip


def test_a_book_without_figures(tmp_path: Path) -> None:
    assert pricing.check_printed(make_book(tmp_path)).figures == ()


def test_a_version_that_was_lost_is_said(tmp_path: Path) -> None:
    book = make_book(tmp_path, FILES)
    with writing(book) as con:  # `undo` would refuse, since the figures need it
        con.execute(
            "INSERT INTO retraction SELECT row_id, '2022-01-01', 'gone' FROM dish_version "
            "WHERE version = '1' AND dish_id = (SELECT dish_id FROM dish WHERE name = 'tart')"
        )
    found = pricing.check_printed(book, on=ON)
    tart = next(each for each in found.figures if each.dish == "tart")
    assert (tart.then, tart.now, tart.known_then, tart.gaps[0].ingredient) == (
        "cannot price", "cannot price", None, None,
    )  # fmt: skip
    assert "no version 1 of 'tart'" in tart.gaps[0].reason


def test_an_amount_that_is_not_known_is_told_as_in_a_comparison(tmp_path: Path) -> None:
    files = {
        "ingredients": "ingredient,base\nleek,g",
        "measures": "ingredient,measure,grams\nleek,stalk,150",
        "prices": "ingredient,date,price,currency,pack\nleek,2020-01-10,2.00,USD,1 kg",
        "dishes": """
            dish,version,effective_from,portions,ingredient,quantity,unit
            soup,1,2019-01-01,1,leek,1,stalk
        """,
        "printed": """
            dish,version,published_on,cost_per_portion,currency
            soup,1,2020-01-20,0.30,USD
        """,
    }
    book = make_book(tmp_path, files, series=())
    with writing(book) as con:  # a load would not let the measure go
        con.execute("INSERT INTO retraction SELECT row_id, '2020-01-01', 'undone' FROM measure")
    (figure,) = pricing.check_printed(book, on=ON).figures
    (left_out,) = pricing.compare(book, "soup", then=date(2020, 1, 20), now=ON).left_out
    assert {gap.reason for gap in figure.gaps} == {left_out.reason}
    assert left_out.reason.startswith("An amount of leek cannot be turned into g:")
    assert (figure.then, figure.now) == ("cannot price", "cannot price")
