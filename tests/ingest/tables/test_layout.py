"""What is taken for sure, what is asked, and that an answer is kept and used again."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from ingest.tables.layout import Layout
from ingest.tables.price_lines import lines_of_table
from ingest.tables.questions import as_problem
from pricing.errors import InputRefused
from tests.ingest.tables.reading import TOLD, asked, lines, proposed

FULL = """Shop,Invoice date,Item,Qty,Unit price,Line total
Odd Larder,10/12/26,Leeks 500g,2,$1.20,$2.40
Odd Larder,10/13/26,Rice 1kg,1,$2.00,$2.00
"""


def test_a_table_that_says_everything_is_sure() -> None:
    proposal = proposed(FULL.replace("Shop", "Receipt shop"), {"kind": "receipt"}, currency="USD")
    assert asked(proposal) == []
    layout = proposal.layout
    assert layout.date_order == "month-first"
    assert layout.decimal == "."
    assert layout.currency == "USD"
    assert [line.price for line in proposal.preview] == [Decimal("2.40"), Decimal("2.00")]  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("first", "second", "order", "day"),
    [
        ("03/04/2026", "13/02/2026", "day-first", date(2026, 4, 3)),
        ("03/04/2026", "02/13/2026", "month-first", date(2026, 3, 4)),
        ("3.4.26", "13.2.26", "day-first", date(2026, 4, 3)),
    ],
)
def test_one_date_decides_the_whole_column(first: str, second: str, order: str, day: date) -> None:
    read = lines(f"Date;Item;Price\n{first};a b c;1.20\n{second};d e f;2.50\n")
    assert read.lines[0].day == day
    proposal = proposed(f"Date;Item;Price\n{first};abc;1.20\n{second};def;2.50\n")
    assert proposal.layout.date_order == order


def test_dates_of_two_readings_are_asked_about_and_never_guessed() -> None:
    text = "Date;Item;Price\n03/04/2026;leek;1.20\n05/06/2026;rice;2.50\n"
    proposal = proposed(text)
    assert asked(proposal) == ["date"]
    assert proposal.questions[0].choices == ("day-first", "month-first")
    assert proposal.questions[0].proposed is None
    assert lines(text, TOLD | {"date": "month-first"}).lines[0].day == date(2026, 3, 4)


def test_dates_that_contradict_each_other_are_asked_about() -> None:
    proposal = proposed("Date;Item;Price\n13/04/2026;leek;1.20\n05/16/2026;rice;2.50\n")
    assert asked(proposal) == ["date"]
    assert "contradict" in proposal.questions[0].evidence


def test_a_decimal_mark_of_two_readings_is_asked_about() -> None:
    text = "Date;Item;Price\n2026-10-12;saffron;1,200\n"
    proposal = proposed(text)
    assert asked(proposal) == ["decimal"]
    assert lines(text, TOLD | {"decimal": "comma"}).lines[0].price == Decimal("1.200")
    assert lines(text, TOLD | {"decimal": "point"}).lines[0].price == Decimal(1200)


@pytest.mark.parametrize(
    ("written", "price"),
    [
        ("1.234,56", "1234.56"),
        ("1 234,56", "1234.56"),
        ("1\u00a0234,56", "1234.56"),
        ("1'234.56", "1234.56"),
        ("1,234.56", "1234.56"),
        ("12,90 €", "12.90"),
        ("€12.90", "12.90"),
        ("12,-", "12"),
        ("0,843", "0.843"),
    ],
)
def test_numbers_of_every_habit(written: str, price: str) -> None:
    read = lines(f'Date;Item;Price\n2026-10-12;leek;"{written}"\n')
    assert [line.price for line in read.lines] == [Decimal(price)]


def test_a_sign_of_several_currencies_is_the_books_own_or_asked_about() -> None:
    text = "Date;Item;Price;Shop\n2026-10-12;leek;$1.20;Odd Larder\n"
    assert lines(text, {"kind": "shelf"}, currency="CAD").lines[0].currency == "CAD"
    proposal = proposed(text, {"kind": "shelf"}, currency="EUR")
    assert asked(proposal) == ["currency"]
    assert proposal.questions[0].proposed is None


def test_a_sign_of_one_currency_is_sure_even_where_it_is_not_the_books_own() -> None:
    text = "Date;Item;Price;Shop\n2026-10-12;leek;1.20 €;Odd Larder\n"
    assert lines(text, {"kind": "shelf"}, currency="USD").lines[0].currency == "EUR"


def test_amounts_without_a_currency_are_the_books_own_and_that_is_said() -> None:
    proposal = proposed("Date;Item;Price;Shop\n2026-10-12;leek;1.20;Odd\n", {"kind": "shelf"})
    assert asked(proposal) == []
    assert proposal.layout.currency == "EUR"
    assert "the currency is the book's, EUR" in proposal.remarks[0]
    assert '--answer "currency=CODE"' in proposal.remarks[0]


def test_what_was_taken_is_said_with_what_may_be_told_instead() -> None:
    text = "Odd Larder\n\nDate;Item;Qty;Price each\n2026-10-13;leek;2;1.20 €\n"
    (said,) = proposed(text, {}).remarks
    assert '--answer "sender=Odd Larder"' in said
    assert '--answer "kind=shelf|offer|invoice|quote"' in said  # receipt was taken


def test_a_trade_price_list_is_a_quote() -> None:
    text = "Odd Larder: trade price list\n\nDate;Item;Price\n2026-10-13;leek;1.20 €\n"
    assert proposed(text, {}).layout.price_kind == "quote"


def test_the_total_of_an_order_is_no_thing() -> None:
    text = "Date;Item;Price;Shop\n2026-10-13;leek;1.20 €;Odd\n;Order total;1.20 €;\n"
    assert [each.words for each in lines(text, {"kind": "shelf"}).lines] == ["leek"]


def test_a_kept_layout_is_used_without_asking() -> None:
    first = proposed("Datum;Artikel;Preis\n13.10.2026;Lauch;1,20\n")
    kept = Layout.from_json(first.layout.to_json())
    assert kept == first.layout
    # every date and price of the second month could be read in two ways
    text = "datum;ARTIKEL;Preis\n03.11.2026;Reis;1,200\n"
    again = proposed(text, {}, saved={kept.fingerprint: kept})
    assert again.known
    assert again.sure
    read = lines_of_table(again.table, again.layout)
    assert [line.day for line in read.lines] == [date(2026, 11, 3)]
    assert [line.price for line in read.lines] == [Decimal("1.200")]
    assert read.lines[0].supplier == "Pimpel"


def test_a_kept_layout_whose_dates_changed_their_order_asks() -> None:
    kept = proposed("Date;Item;Price\n13/10/2026;leek;1.20\n").layout
    text = "Date;Item;Price\n11/03/2026;rice;1.20\n11/23/2026;leek;1.20\n"
    again = proposed(text, {}, saved={kept.fingerprint: kept})
    assert asked(again) == ["date"]
    assert again.questions[0].proposed == "month-first"


def test_an_answer_changes_a_kept_layout_and_keeps_the_rest() -> None:
    kept = proposed("Date;Item;Price\n13/10/2026;leek;1.20\n").layout
    text = "Date;Item;Price\n13/11/2026;rice;1.20\n"
    again = proposed(text, {"sender": "Quarn"}, saved={kept.fingerprint: kept})
    assert again.sure
    assert again.layout.sender == "Quarn"
    assert again.layout.price_kind == kept.price_kind


def test_a_column_is_told_by_its_heading_or_its_meaning() -> None:
    text = "Zorvik;Blam;Date\nleek and onion;1.20;2026-10-12\nrice;2.50;2026-10-13\n"
    proposal = proposed(text)
    assert asked(proposal) == ["words", "price"]
    by_heading = lines(text, TOLD | {"column Zorvik": "words", "column Blam": "price"})
    by_meaning = lines(text, TOLD | {"words": "Zorvik", "price": "Blam"})
    assert by_heading.lines == by_meaning.lines
    assert [line.words for line in by_heading.lines] == ["leek and onion", "rice"]


def test_two_columns_that_could_be_the_price_are_asked_about() -> None:
    text = "Date;Item;Price;Selling price\n2026-10-12;leek;1.20;1.50\n2026-10-13;rice;2.00;2.50\n"
    assert asked(proposed(text)) == ["price"]
    read = lines(text, TOLD | {"price": "Selling price"})
    assert [line.price for line in read.lines] == [Decimal("1.50"), Decimal("2.50")]


def test_a_price_beside_a_count_is_asked_about_where_nothing_says_for_how_many_it_is() -> None:
    text = "Date;Item;Qty;Price\n2026-10-12;leek;2;1.20\n2026-10-13;rice;1;2.50\n"
    assert asked(proposed(text)) == ["price for"]
    each = lines(text, TOLD | {"price for": "one pack"})
    assert (each.lines[0].price, each.lines[0].count) == (Decimal("2.40"), Decimal(2))
    line = lines(text, TOLD | {"price for": "the line"})
    assert (line.lines[0].price, line.lines[0].count) == (Decimal("1.20"), Decimal(2))


def test_a_labelled_line_above_gives_day_and_shop() -> None:
    text = "Store: Odd Larder\nDate: 13/10/2026\n\nItem;Price\nleek;1.20\n"
    proposal = proposed(text, {"currency": "GBP", "kind": "shelf"})
    assert proposal.sure, proposal.questions
    assert proposal.day == date(2026, 10, 13)
    assert proposal.layout.sender == "Odd Larder"
    assert proposal.preview[0].day == date(2026, 10, 13)


def test_words_before_a_date_can_be_its_label() -> None:
    text = "Preisliste gültig ab 13.10.2026\n\nArtikel;Preis\nLauch;1,20\n"
    assert proposed(text).day == date(2026, 10, 13)


def test_a_table_without_headings_asks_with_what_its_cells_are() -> None:
    text = "2026-10-12;leeks;1.20;500 g\n2026-10-13;rice;2.50;1 kg\n"
    proposal = proposed(text)
    assert asked(proposal) == ["words", "price", "column column 1"]
    told = {question.name: str(question.proposed) for question in proposal.questions}
    read = lines(text, TOLD | told)
    assert [(each.day, each.words, each.pack) for each in read.lines] == [
        (date(2026, 10, 12), "leeks", "500 g"),
        (date(2026, 10, 13), "rice", "1 kg"),
    ]


def test_a_date_without_a_label_is_proposed_and_asked_about() -> None:
    proposal = proposed("Odd Larder, 2026-10-13\n\nItem;Price\nleek;1.20\nrice;2.50\n")
    assert asked(proposal) == ["day"]
    assert proposal.questions[0].proposed == "2026-10-13"


def test_a_told_day_is_asked_for_again_with_the_next_file() -> None:
    text = "Item;Price\nleek;1.20\nrice;2.50\n"
    first = proposed(text, TOLD | {"day": "2026-10-13"})
    assert first.sure
    again = proposed(text, {}, saved={first.layout.fingerprint: first.layout})
    assert asked(again) == ["day"]
    told = proposed(text, {"day": "2026-11-13"}, saved={first.layout.fingerprint: first.layout})
    assert told.sure
    assert told.day == date(2026, 11, 13)


def test_all_questions_are_one_sentence() -> None:
    problem = as_problem(proposed("Item;Price\nleek;1,200\n", {}).questions)
    said = problem.sentence()
    for name in ("day=", "decimal="):
        assert name in said


@pytest.mark.parametrize(
    "told",
    [{"decimal": "dot"}, {"currency": "XXY"}, {"kind": "gift"}, {"day": "soon"},
     {"column Foo": "price"}, {"column Item": "weightless"}, {"tax": "maybe"},
     {"curency": "EUR"}, {"date": "backwards"}, {"sheet": "Two"}],
)  # fmt: skip
def test_an_answer_that_is_none_is_refused_by_name(told: dict[str, str]) -> None:
    name, given = next(iter(told.items()))
    with pytest.raises(InputRefused, match=f"{name.removeprefix('column ')}|{given}"):
        proposed("Item;Price\nleek;1.20\n", told)


def test_the_table_is_found_below_titles_and_among_others() -> None:
    text = (
        "Odd Larder;;\nTel. 555;;\n\nContact;Phone;\nPim;555;\n\n"
        "Date;Item;Price\n2026-10-12;leek;1.20\n2026-10-13;rice;2.50\n\n"
        "Shop;Supplier;Note\nOdd;Quarn;x\n"
    )
    proposal = proposed(text)
    assert proposal.table.header == 7
    assert any("Not read" in remark for remark in proposal.remarks)
    read = lines_of_table(proposal.table, proposal.layout)
    assert [line.line for line in read.lines] == [8, 9]
    assert read.problems == []


def test_repeated_headings_of_a_printout_are_no_rows() -> None:
    page = "Date;Item;Price\n2026-10-12;leek;1.20\n"
    assert [line.line for line in lines(page + "\n" + page).lines] == [2, 5]
