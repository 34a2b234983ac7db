"""Tables with headings of any sender: read by a layout that is kept, or asked about once."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from ingest.load import FileReport, load_bytes, undo
from ingest.tray.listing import list_tray
from pricing.book.connect import Book
from tests.kitchen import TODAY, load
from tests.loading import ask, only
from tests.workbook import workbook

FIRST = "Datum;Artikel;Preis;Inhalt\n13.10.2026;leek;1,20;500 g\n14.10.2026;Zorvik;2,00;1 kg\n"
SECOND = "Datum;Artikel;Preis;Inhalt\n03.11.2026;leek;1,30;500 g\n04.11.2026;Zorvik;2,10;1 kg\n"
DOUBTFUL = "Date;Article;Price;Pack\n03/{0}/2026;leek;1.20;500 g\n04/{0}/2026;leek;1.25;500 g\n"


def bring(book: Book, text: str | bytes, kind: str = "prices", **more: Any) -> FileReport:
    data = text if isinstance(text, bytes) else text.encode()
    return load_bytes(book, kind, "table.csv", data, today=TODAY, **more)


def layouts(book: Book) -> int:
    sql = "SELECT count(*) FROM layout WHERE load_id NOT IN (SELECT load_id FROM retraction)"
    return int(ask(book, sql)[0][0])


def prices(book: Book) -> list[tuple[Any, ...]]:
    return ask(book, "SELECT observed_on, price, supplier FROM observation ORDER BY row_id")


def test_the_second_month_needs_nothing(book: Book) -> None:
    """13 October settles the order of the first table; the dates of the second could be two."""
    first = bring(book, FIRST)
    assert (first.form, first.added, first.waiting, first.problems) == ("table", 1, 1, ())
    assert ask(book, "SELECT count(*) FROM layout") == [(1,)]
    second = bring(book, SECOND)
    assert (second.added, second.waiting, second.problems) == (1, 1, ())
    assert prices(book) == [
        (date(2026, 10, 13), Decimal("1.20"), None),
        (date(2026, 11, 3), Decimal("1.30"), None),
    ]
    assert ask(book, "SELECT count(*) FROM layout") == [(1,)]
    again = bring(book, SECOND)
    assert (again.load, again.added, again.already) == (None, 0, 2)


def test_a_dry_run_says_form_and_waiting_and_stores_nothing(book: Book) -> None:
    report = bring(book, FIRST, dry_run=True)
    assert (report.form, report.added, report.waiting, report.load) == ("table", 1, 1, None)
    for table in ("layout", "tray_line", "observation"):
        assert ask(book, f"SELECT count(*) FROM {table}") == [(0,)]


def test_undo_takes_the_layout_back(book: Book) -> None:
    load_number = bring(book, FIRST).load
    assert load_number is not None
    undo(book, load_number)
    assert [each.name for each in bring(book, SECOND).questions] == ["date"]


def test_a_date_that_may_be_two_is_asked_once(book: Book) -> None:
    report = bring(book, DOUBTFUL.format("10"))
    problem = only(report)
    assert "'03/10/2026', can be read in more than one order" in problem.found
    assert problem.remedy == 'Load it again with --answer "date=day-first".'
    assert [(each.name, each.choices) for each in report.questions] == [
        ("date", ("day-first", "month-first"))
    ]
    assert len(report.preview) == 2
    assert ask(book, "SELECT count(*) FROM layout") == [(0,)]
    assert bring(book, DOUBTFUL.format("10"), told={"date": "month-first"}).added == 2
    assert bring(book, DOUBTFUL.format("11")).added == 2
    assert [day for day, *_ in prices(book)] == [
        date(2026, 3, 10), date(2026, 4, 10), date(2026, 3, 11), date(2026, 4, 11),
    ]  # fmt: skip


def test_another_sender_with_the_same_headings_is_told(book: Book) -> None:
    bring(book, DOUBTFUL.format("10"), told={"date": "day-first", "sender": "Pimpel"})
    bring(book, DOUBTFUL.format("09"), told={"sender": "Vorbel"})
    assert [supplier for *_, supplier in prices(book)] == ["Pimpel"] * 2 + ["Vorbel"] * 2
    assert [day.month for day, *_ in prices(book)] == [10, 10, 9, 9]  # the order was kept


def test_a_table_without_a_header_asks_once_with_its_first_five_rows(book: Book) -> None:
    rows = "".join(f"{day:02}.10.2026;leek;1.2{day};500 g\n" for day in range(1, 8))
    report = bring(book, rows)
    only(report)
    assert {"words", "price"} <= {each.name for each in report.questions}
    assert len(report.preview) == 5
    assert "1.21 USD" in report.preview[0]


def test_what_a_row_says_is_in_the_refused_file(book: Book) -> None:
    """A row that cannot be read, and one that a check refuses: neither is lost."""
    head = "ingredient,date,price,currency,pack,kind\n"
    load(book, "prices", f"{head}leek,2026-10-01,2.40,USD,1 kg,shelf")
    text = f"{FIRST}xx;leek;1,30;500 g\n15.10.2026;leek;99,00;500 g\n"
    assert [each.line for each in bring(book, text).problems] == [4, 5]
    report = bring(book, text, skip_bad=True)
    assert (report.added, report.waiting) == (1, 1)
    assert report.refused_text is not None
    header, unread, unusual = report.refused_text.splitlines()
    assert header.startswith("ingredient,date,price,currency,pack,")
    assert "xx;leek;1,30;500 g" in unread
    assert unusual.startswith("leek,2026-10-15,99.00,USD,500 g,")
    taken = bring(book, f"{header}\n{unusual}\n", accept_unusual=True)  # it can be loaded again
    assert (taken.added, taken.problems) == (1, ())


def test_the_table_of_a_workbook_with_several_sheets(book: Book) -> None:
    head = ["Datum", "Artikel", "Preis", "Inhalt"]
    data = workbook(
        [["Notes"]],
        Preise=[["Preisliste"], head, [date(2026, 10, 13), "leek", 1.2, "500 g"]],
        Other=[head[:3], [date(2026, 10, 13), "egg", 9]],
    )
    report = bring(book, data)
    assert (report.form, report.added) == ("workbook", 1)
    assert "The table at line 2 of sheet 'Preise' was taken." in report.remarks[0]
    assert prices(book) == [(date(2026, 10, 13), Decimal("1.20"), None)]


def test_an_old_costing_is_of_the_version_in_force_on_its_day(book: Book) -> None:
    load(
        book, "dishes",
        """dish,version,effective_from,portions,ingredient,quantity,unit
        stock,2,2019-03-15,10,leek,2,bunch""",
    )  # fmt: skip
    text = "dish;month;amount\nstock;03/2019;0.40\nstock;04/2019;0.80\n"
    assert bring(book, text, "printed").added == 2
    found = ask(book, "SELECT version, published_on FROM printed_figure ORDER BY row_id")
    assert found == [("1", date(2019, 3, 1)), ("2", date(2019, 4, 1))]


def test_an_old_costing_that_cannot_be_read_is_in_the_refused_file(book: Book) -> None:
    text = "dish;month;amount\nstock;03/2019;0.40\nstock;someday;0.80\n"
    report = bring(book, text, "printed", skip_bad=True)
    assert report.added == 1
    assert report.refused_text is not None
    assert "stock;someday;0.80" in report.refused_text


@pytest.mark.parametrize("kind", ["ingredients", "measures", "swaps"])
def test_other_kinds_take_our_columns_alone(book: Book, kind: str) -> None:
    problem = only(bring(book, FIRST, kind))
    assert problem.found.startswith("a table that begins with 'Datum;Artikel")


BARE = "Order date,Product,Pack size,Qty,Price each\n2026-11-13,{0},{1},1,4.20\n"


def test_a_pack_that_is_a_number_alone_counts_what_is_counted(book: Book) -> None:
    """12 eggs for 4.20 are 0.35 each; the tray names the 12 before anyone decides."""
    bring(book, BARE.format("Free Range Eggs", 12))
    (waiting,) = list_tray(book, TODAY)
    assert waiting.pack == "12"
    assert load(book, "decisions", "words,ingredient\nFree Range Eggs,egg\n").problems == ()
    ((pack, unit_price),) = ask(book, "SELECT pack, unit_price FROM observation_priced")
    assert (pack, unit_price) == ("12 each", pytest.approx(0.35))


def test_a_number_alone_of_what_is_weighed_waits_for_its_pack(book: Book) -> None:
    bring(book, BARE.format("Pearl grain", 1500))
    report = load(book, "decisions", "words,ingredient\nPearl grain,barley\n")
    assert only(report).column == "pack"
    told = load(book, "decisions", "words,ingredient,pack\nPearl grain,barley,1500 g\n")
    assert told.problems == ()
    assert ask(book, "SELECT pack FROM observation_priced") == [("1500 g",)]


def test_a_file_read_otherwise_than_before_names_the_load_to_undo(book: Book) -> None:
    """03/04 stands in the book as 4 March; as 3 April the same price would count twice."""
    text = DOUBTFUL.format("04")
    first = bring(book, text, told={"date": "month-first"})
    assert first.problems == ()
    held = prices(book)
    refused = only(bring(book, text, told={"date": "day-first"}))
    assert f"read otherwise than by load {first.load}" in refused.found
    assert f"portiondrift undo {first.load}" in refused.remedy
    assert prices(book) == held
    again = bring(book, text, told={"date": "month-first"})
    assert (again.problems, again.added) == ((), 0)
    assert first.load is not None
    undo(book, first.load)
    assert bring(book, text, told={"date": "day-first"}).added == 2


def test_a_settled_line_is_not_added_again_when_its_decision_was_replaced(book: Book) -> None:
    bring(book, FIRST)
    assert load(book, "decisions", "words,ingredient\nZorvik,barley\n").problems == ()
    assert load(book, "decisions", "words,ingredient\nZorvik,leek\n", replace=True).problems == ()
    held = prices(book)
    again = bring(book, FIRST)
    assert (again.load, again.added, again.already) == (None, 0, 2)
    assert prices(book) == held


@pytest.mark.parametrize(
    "heading",
    ["Date,Item,Price", "Date,Product,Price", "Date,Product,Amount", "Product,Price,Date",
     "Date,Product,Price,Pack,Currency"],
)  # fmt: skip
def test_headings_that_are_also_ours_make_a_table(book: Book, heading: str) -> None:
    cells = {"Date": "2026-11-13", "Price": "4.20", "Amount": "4.20", "Pack": "1 kg"}
    cells["Currency"] = "USD"
    row = ",".join(cells.get(name, "Zorvik") for name in heading.split(","))
    report = bring(book, f"{heading}\n{row}\n")
    assert (report.form, report.waiting, report.problems) == ("table", 1, ())


def test_our_own_columns_with_one_missing_are_ours(book: Book) -> None:
    problem = only(bring(book, "ingredient,date,price,currency\nleek,2026-11-13,4.20,USD\n"))
    assert problem.found == "no column 'pack'"
