"""One price by hand goes through the same checks as a file, and can be looked at first."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from ingest.load import PricePreview, add_price, preview_price
from pricing.book.connect import Book
from tests.kitchen import TODAY, load
from tests.loading import ask

FIELDS = {
    "ingredient": "Leeks",
    "date": "2024-05-02",
    "price": "1.89",
    "currency": "usd",
    "pack": "1 bunch",
    "supplier": "Greens, fresh",
    "note": "",
}


def test_a_price_by_hand_is_stored_as_the_row_it_would_have_been(book: Book) -> None:
    report = add_price(book, FIELDS, today=TODAY)
    assert (report.file, report.added, report.problems) == ("by hand", 1, ())
    assert ask(book, "SELECT batch, line, raw, price FROM observation") == [
        (
            report.load,
            None,
            'Leeks,2024-05-02,1.89,usd,1 bunch,"Greens, fresh"',
            Decimal("1.89"),
        )
    ]
    assert ask(book, "SELECT file_name, kind FROM load_batch ORDER BY batch DESC LIMIT 1") == [
        ("by hand", "prices")
    ]
    assert add_price(book, FIELDS, today=TODAY).already == 1


def test_a_dry_run_stores_nothing(book: Book) -> None:
    report = add_price(book, FIELDS, today=TODAY, dry_run=True)
    assert (report.load, report.added) == (None, 1)
    assert ask(book, "SELECT count(*) FROM observation") == [(0,)]


def test_a_preview_says_what_was_understood(book: Book) -> None:
    """1.89 for a bunch of 640 g is 2.953125 per kg, times 0.45359237 is 1.3395 per lb (US book)."""
    seen = preview_price(book, FIELDS, today=TODAY)
    assert isinstance(seen, PricePreview)
    assert (seen.ingredient, seen.observed_on, seen.price) == (
        "leek",
        date(2024, 5, 2),
        Decimal("1.89"),
    )
    assert (seen.currency, seen.pack, seen.pack_in_base, seen.base) == ("USD", "1 bunch", 640, "g")
    assert seen.unit_price == pytest.approx(0.002953125, rel=1e-12)
    assert (seen.expected, seen.unusual, seen.already) == (None, False, False)
    assert seen.sentences == (
        "leek, seen on 2 May 2024 at Greens, fresh: $1.89 for 1 bunch, that is $1.34 per lb.",
    )
    assert ask(book, "SELECT count(*) FROM observation") == [(0,)]


def test_a_preview_says_the_tax_and_is_silent_about_a_shop_that_was_not_named(book: Book) -> None:
    """1.3395 per lb as above, and 5 % on top: 1.4065."""
    seen = preview_price(book, {**FIELDS, "supplier": "", "tax_pct": "5"}, today=TODAY)
    assert isinstance(seen, PricePreview)
    assert seen.sentences == (
        "leek, seen on 2 May 2024: $1.89 with 5 % tax for 1 bunch, that is $1.41 per lb.",
    )


def test_a_preview_compares_with_the_book_and_does_not_refuse(book: Book) -> None:
    load(book, "prices", "ingredient,date,price,currency,pack\nleek,2024-05-01,8,USD,1 kg")
    dear = preview_price(book, {**FIELDS, "price": "24"}, today=TODAY)
    assert isinstance(dear, PricePreview)
    assert dear.expected == pytest.approx(0.008, rel=1e-12)
    assert dear.unusual
    assert dear.sentences[1] == (
        "That is under a third or over three times what the book expects, about $3.63 per lb."
    )
    usual = preview_price(book, {**FIELDS, "price": "5"}, today=TODAY)
    assert isinstance(usual, PricePreview)
    assert not usual.unusual
    assert usual.sentences[1] == "The book expects about $3.63 per lb on that day."


def test_a_preview_tells_a_price_that_the_book_holds(book: Book) -> None:
    add_price(book, FIELDS, today=TODAY)
    seen = preview_price(book, FIELDS, today=TODAY)
    assert isinstance(seen, PricePreview)
    assert seen.already
    assert seen.sentences[1:] == (
        "The book expects about $1.34 per lb on that day.",
        "The book holds this very price already; storing it again changes nothing.",
    )


def test_a_preview_of_what_cannot_be_read_lists_every_problem(book: Book) -> None:
    problems = preview_price(
        book, {"ingredient": "leak", "price": "1,89", "pack": "500 g"}, today=TODAY
    )
    assert not isinstance(problems, PricePreview)
    assert [(p.line, p.column) for p in problems] == [
        (None, "date"),
        (None, "price"),
        (None, "currency"),
        (None, "ingredient"),
    ]


@pytest.mark.parametrize("text", ['5" pan', "two\nlines", "semi;colon, comma", "'; DROP TABLE x"])
def test_any_text_of_a_form_is_stored_as_typed(book: Book, text: str) -> None:
    assert add_price(book, {**FIELDS, "note": text}, today=TODAY).problems == ()
    assert ask(book, "SELECT note FROM observation") == [(text,)]


def test_a_nul_byte_from_a_form_is_a_problem(book: Book) -> None:
    report = add_price(book, {**FIELDS, "note": "a\0b"}, today=TODAY)
    assert [(p.line, p.found) for p in report.problems] == [(None, "a NUL byte")]


def test_an_empty_form_names_what_it_needs(book: Book) -> None:
    report = add_price(book, {}, today=TODAY)
    assert [problem.column for problem in report.problems] == [
        "ingredient",
        "date",
        "price",
        "currency",
        "pack",
    ]
