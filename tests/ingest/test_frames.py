"""A DataFrame goes in as a CSV file of our columns does, and comes out so that it goes in again."""

from __future__ import annotations

import importlib
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

import pricing
from ingest.frames import load_frame
from pricing.book.connect import Book
from pricing.errors import InputRefused
from pricing.frames import cost_all, dishes_frame, ingredients_frame, prices_frame, printed_frame
from tests.kitchen import TODAY, load, make_book
from tests.loading import ask, only

DAY = date(2026, 11, 20)


def prices(**columns: list[Any]) -> pd.DataFrame:
    row = {"ingredient": ["leek"], "date": [DAY], "price": [1.89], "currency": ["USD"]}
    return pd.DataFrame({**row, "pack": ["500 g"], **columns})


def stored(book: Book) -> list[tuple[Any, ...]]:
    return ask(book, "SELECT observed_on, price, currency, pack FROM observation")


@pytest.mark.parametrize("day", [DAY, datetime(2026, 11, 20), pd.Timestamp(DAY), "2026-11-20"])  # noqa: DTZ001
@pytest.mark.parametrize("price", [1.89, Decimal("1.89"), "1.89", np.float32(1.89)])
def test_days_and_amounts_of_several_types(book: Book, day: Any, price: Any) -> None:
    report = load_frame(book, "prices", prices(date=[day], price=[price]), today=TODAY)
    assert (report.added, report.problems, report.form) == (1, (), "frame")
    assert stored(book) == [(DAY, Decimal("1.89"), "USD", "500 g")]


def test_it_is_already_there_when_its_csv_was_loaded(book: Book) -> None:
    load(book, "prices", "ingredient,date,price,currency,pack\nleek,2026-11-20,1.89,USD,500 g")
    report = load_frame(book, "prices", prices(), today=TODAY)
    assert (report.added, report.already) == (0, 1)


def test_a_float_with_noise_is_refused_with_the_sentence_of_a_file(book: Book) -> None:
    problem = only(load_frame(book, "prices", prices(price=[0.1 + 0.2]), today=TODAY))
    assert (problem.line, problem.column) == (2, "price")
    head = "ingredient,date,price,currency,pack\n"
    file = load(book, "prices", f"{head}leek,2026-11-20,0.30000000000000004,USD,500 g")
    assert problem == only(file)
    assert "0.30000000000000004" in problem.found


@pytest.mark.parametrize("endless", [float("inf"), Decimal("-Infinity")])
def test_an_amount_without_end_is_refused(book: Book, endless: Any) -> None:
    problem = only(load_frame(book, "prices", prices(price=[endless]), today=TODAY))
    assert (problem.line, problem.column) == (2, "price")


@pytest.mark.parametrize("empty", [None, float("nan"), pd.NaT, pd.NA, ""])
def test_what_is_missing_is_an_empty_cell(book: Book, empty: Any) -> None:
    frame = prices(supplier=pd.Series([empty], dtype=object))
    assert load_frame(book, "prices", frame, today=TODAY).added == 1
    assert ask(book, "SELECT supplier FROM observation") == [(None,)]
    problem = only(load_frame(book, "prices", prices(price=[empty]), today=TODAY))
    assert problem.found == "an empty cell"


def test_a_problem_names_the_row_as_the_line_after_a_header(book: Book) -> None:
    """Row 0 is line 2, whatever the index says, and however many lines a note has."""
    frame = pd.concat([prices(note=["two\r\nlines\n"]), prices(pack=["a lot"])])
    report = load_frame(book, "prices", frame, today=TODAY)
    assert [(each.line, each.column) for each in report.problems] == [(3, "pack")]
    hidden = pd.concat([prices(note=["two\nlines"]), prices(note=["\0"])])
    assert only(load_frame(book, "prices", hidden, today=TODAY)).line == 3


def test_the_good_rows_go_in_with_skip_bad(book: Book) -> None:
    frame = pd.concat([prices(), prices(ingredient=["leak"])])
    report = load_frame(book, "prices", frame, today=TODAY, skip_bad=True)
    assert (report.added, [each.line for each in report.problems]) == (1, [3])
    assert report.refused_text is not None
    assert "leak" in report.refused_text


def test_nothing_is_stored_in_a_dry_run(book: Book) -> None:
    report = load_frame(book, "prices", prices(), today=TODAY, dry_run=True)
    assert (report.added, report.load, stored(book)) == (1, None, [])


def test_a_column_that_is_missing(book: Book) -> None:
    report = load_frame(book, "prices", prices().drop(columns="pack"), today=TODAY)
    assert [(each.line, each.column) for each in report.problems] == [(1, "pack")]


def test_what_is_no_frame(book: Book) -> None:
    with pytest.raises(InputRefused, match="Found list; expected a pandas DataFrame"):
        load_frame(book, "prices", [], today=TODAY)  # type: ignore[arg-type]


def test_months_of_an_index(book: Book) -> None:
    months = [date(2020, 1, 1), pd.Period("2020-02", "M"), "2020-03"]
    frame = pd.DataFrame({"series": ["own:X"] * 3, "month": months, "value": [100, 101.5, 102]})
    assert load_frame(book, "index", frame, today=TODAY).added == 3


@pytest.fixture
def priced(book: Book) -> Book:
    load(
        book, "prices",
        """ingredient,date,price,currency,pack,supplier,note
        leek,2026-11-01,2.10,USD,1 kg,Vorbel,"a ""good"" one"
        whole milk,2026-11-20,1.20,USD,1 l,,
        leek,2026-11-20,2.1150,USD,2 bunch,,""",
    )  # fmt: skip
    load(
        book, "printed",
        """dish,version,published_on,cost_per_portion,currency
        leek bake,1,2026-11-10,0.50,USD""",
    )  # fmt: skip
    return book


def test_frames_go_into_a_new_book_which_then_answers_the_same(
    priced: Book, tmp_path: Path
) -> None:
    new = make_book(tmp_path / "new", series=("us-bls:SEFL04", "us-bls:SEFJ01"))
    bunch = pd.DataFrame({"ingredient": ["leek"], "measure": ["bunch"], "grams": [640]})
    for kind, frame in (
        ("ingredients", ingredients_frame(priced)),
        ("measures", bunch),
        ("prices", prices_frame(priced)),
        ("dishes", dishes_frame(priced)),
        ("printed", printed_frame(priced)),
    ):
        report = load_frame(new, kind, frame, today=TODAY, accept_unusual=True)
        assert [each.sentence() for each in report.problems] == []
        assert report.added > 0
    for day in (date(2026, 11, 5), TODAY):
        pd.testing.assert_frame_equal(cost_all(new, on=day), cost_all(priced, on=day))
    pd.testing.assert_frame_equal(prices_frame(new), prices_frame(priced))


def test_the_types_of_the_columns(priced: Book) -> None:
    """The price is exact, the day a day, and the rest as it was written."""
    frame = prices_frame(priced)
    first = ["ingredient", "date", "price", "currency", "pack"]
    assert list(frame.columns[:5]) == first
    assert frame["date"].dtype.kind == "M"
    assert set(frame["price"]) == {Decimal("2.10"), Decimal("1.20"), Decimal("2.115")}
    assert set(frame["pack"]) == {"1 kg", "1 l", "2 bunch"}


def test_what_every_dish_costs(priced: Book) -> None:
    """Leek: 2.10 a kg on 1 November. A stock of 10 takes one bunch of 640 g: 1.344 / 10."""
    frame = cost_all(priced, on=date(2026, 11, 1)).set_index("dish")
    assert frame.loc["stock", "cost_per_portion"] == pytest.approx(0.1344)
    assert frame.loc["stock", "currency"] == "USD"
    assert frame.loc["stock", "complete"]


def test_the_short_names_last_whatever_is_imported(priced: Book) -> None:
    """Three of them are packages, which are attributes of `pricing` once something imports them."""
    for name in ("prices", "dishes", "printed"):
        importlib.import_module(f"pricing.{name}")
        frame = getattr(pricing, name)(priced)
        pd.testing.assert_frame_equal(frame, getattr(pricing, f"{name}_frame")(priced))
    pd.testing.assert_frame_equal(pricing.ingredients(priced), ingredients_frame(priced))
    assert pricing.load_frame is load_frame
