"""A file that is no table of its kind is answered with a sentence, and nothing of it is stored."""

from __future__ import annotations

import io
import os
import zipfile
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ingest.load import load_bytes, load_file
from ingest.text.limits import LARGEST_FILE
from pricing.book.connect import Book
from pricing.errors import InputRefused, Problem
from tests.kitchen import TODAY
from tests.loading import ask, only
from tests.workbook import workbook

HEADER = "ingredient,date,price,currency,pack"
ROW = "leek,2024-05-02,1.89,USD,500 g"
FILE = f"{HEADER}\n{ROW}\n"


def load_prices(book: Book, data: bytes) -> Problem:
    before = ask(book, "SELECT count(*) FROM observation")
    problem = only(load_bytes(book, "prices", "prices.csv", data, today=TODAY))
    assert ask(book, "SELECT count(*) FROM observation") == before
    return problem


@pytest.mark.parametrize("data", [b"", b"\n\n", b"\xef\xbb\xbf", b"  \n,,,\n"])
def test_an_empty_file(book: Book, data: bytes) -> None:
    problem = load_prices(book, data)
    assert (problem.line, problem.found) == (None, "an empty file")


def test_a_header_and_no_rows(book: Book) -> None:
    problem = load_prices(book, HEADER.encode())
    assert (problem.line, problem.found) == (1, "a header and no rows")


def test_a_missing_column_is_named_with_the_one_that_looks_like_it(book: Book) -> None:
    problem = load_prices(book, FILE.replace("price", "prise").encode())
    assert (problem.line, problem.column) == (1, "price")
    assert problem.expected == "a header with ingredient, date, price, currency, pack"
    assert "'prise'" in problem.remedy


def test_every_missing_column_is_a_problem(book: Book) -> None:
    report = load_bytes(book, "prices", "p.csv", b"ingredient,price\nleek,1\n", today=TODAY)
    assert [problem.column for problem in report.problems] == ["date", "currency", "pack"]


def taken(book: Book, data: bytes, kind: str = "prices") -> list[tuple[object, ...]]:
    """Return what a file of one row put into the book."""
    report = load_bytes(book, kind, "table.csv", data, today=TODAY)
    assert (report.problems, report.added, report.waiting) == ((), 1, 0)
    return ask(book, "SELECT observed_on, price, currency, pack FROM observation")


LEEK = [(date(2024, 5, 2), Decimal("1.89"), "USD", "500 g")]


@pytest.mark.parametrize("mark", [";", "\t", "|"])
def test_another_delimiter_is_read(book: Book, mark: str) -> None:
    assert taken(book, FILE.replace(",", mark).encode()) == LEEK


@pytest.mark.parametrize("codec", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_utf_16_and_utf_32_are_read(book: Book, codec: str) -> None:
    assert taken(book, FILE.encode(codec)) == LEEK


@pytest.mark.parametrize("codec", ["utf-16", "utf-32"])
@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("ingredients", "ingredient;base\nsalsify;g\n"),
        ("measures", "ingredient;measure;grams\nleek;half;100\n"),
        ("swaps", "ingredient;substitute;ratio\nleek;pearl barley;1\n"),
        ("index", "series;month;value\nown:X;2020-01;100\n"),
    ],
)
def test_so_are_our_columns_of_any_kind(book: Book, kind: str, text: str, codec: str) -> None:
    report = load_bytes(book, kind, "table.csv", text.encode(codec), today=TODAY)
    assert (report.problems, report.added) == ((), 1)


def test_our_columns_in_a_workbook_are_read(book: Book) -> None:
    rows = [HEADER.split(","), ["leek", date(2024, 5, 2), 1.89, "USD", "500 g"]]
    assert taken(book, workbook(rows)) == LEEK


def test_a_zip_that_is_no_workbook_is_named(book: Book) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("prices.csv", FILE)
    problem = load_prices(book, out.getvalue())
    assert problem.found == "a zip file that holds 'prices.csv'"


def test_nul_bytes_in_a_table_of_other_columns(book: Book) -> None:
    problem = load_prices(book, b"Artikel;Preis\nLauch;1,89\nSe\0llerie;2,10\n")
    assert "NUL" in problem.found or "no text" in problem.found, problem.sentence()


def test_a_utf_8_byte_order_mark_is_accepted(book: Book) -> None:
    report = load_bytes(book, "prices", "p.csv", b"\xef\xbb\xbf" + FILE.encode(), today=TODAY)
    assert (report.problems, report.added) == ((), 1)


def test_every_line_that_is_not_utf_8_is_named(book: Book) -> None:
    rows = FILE.encode() + "crème,2024-05-02,1,USD,1 kg\r\n\nrüben,2024-05-02,1,USD,1 kg".encode(
        "cp1252"
    )
    report = load_bytes(book, "prices", "p.csv", rows, today=TODAY)
    assert [(p.line, p.found) for p in report.problems] == [
        (3, "the byte 0xE8, which is not UTF-8"),
        (5, "the byte 0xFC, which is not UTF-8"),
    ]


def test_nul_bytes_are_named_with_their_line(book: Book) -> None:
    problem = load_prices(book, f"{HEADER}\n{ROW}\nle\0ek{ROW[4:]}\n".encode())
    assert (problem.line, problem.found) == (3, "a NUL byte")


def test_a_control_character_is_named_with_its_line(book: Book) -> None:
    problem = load_prices(book, f"{HEADER}\n{ROW},\x1b[2J\n".encode())
    assert (problem.line, problem.found) == (2, "the control character 0x1B")


def test_a_line_of_a_megabyte_is_a_problem_and_the_rows_after_it_are_read(book: Book) -> None:
    data = f"{HEADER}\n{'x' * 1_000_000}\n{ROW}x\n".encode()
    report = load_bytes(book, "prices", "p.csv", data, today=TODAY)
    assert [(p.line, p.column) for p in report.problems] == [(2, None), (3, "pack")]
    assert report.problems[0].found == "a row of more than 64 KB"
    assert len(report.problems[0].sentence()) < 300


def test_a_megabyte_inside_quotation_marks_is_a_problem(book: Book) -> None:
    data = f'{HEADER},note\n{ROW},"{"x" * 500 + chr(10)}{("y" * 500 + chr(10)) * 2000}"\n'.encode()
    report = load_bytes(book, "prices", "p.csv", data, today=TODAY)
    assert report.problems[0].line == 2
    assert report.problems[0].found == "a quotation mark that is never closed"


def test_a_quotation_mark_that_is_never_closed(book: Book) -> None:
    data = f'{HEADER}\n"leek,2024-05-02,1.89,USD,500 g\n{ROW}\n{ROW}x\n'.encode()
    report = load_bytes(book, "prices", "p.csv", data, today=TODAY)
    assert [(p.line, p.column) for p in report.problems] == [(2, None), (4, "pack")]
    assert report.problems[0].found == "a quotation mark that is never closed"


def test_a_quotation_mark_inside_a_cell(book: Book) -> None:
    problem = load_prices(book, f'{HEADER},product\n{ROW},5" pan leek\n'.encode())
    assert (problem.line, problem.found) == (2, "a quotation mark inside '5\" pan leek'")


def test_a_column_twice(book: Book) -> None:
    problem = load_prices(book, f"{HEADER}, PRICE \n{ROW},2\n".encode())
    assert (problem.line, problem.column, problem.found) == (
        1,
        "price",
        "the column 'price' 2 times",
    )


def test_a_row_too_short_and_a_row_too_long(book: Book) -> None:
    data = f"{HEADER}\nleek,2024-05-02,1.89,USD\nleek,2024-05-02,1,89,USD,500 g\n".encode()
    report = load_bytes(book, "prices", "p.csv", data, today=TODAY)
    assert [(p.line, p.found[:7], p.expected) for p in report.problems] == [
        (2, "4 cells", "5, as in the header"),
        (3, "6 cells", "5, as in the header"),
    ]
    assert "decimals with a point" in report.problems[1].remedy


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (b"<!DOCTYPE html>\n<html><body>ingredient,date</body></html>", "a web page"),
        (b"PK\x03\x04\x14\x00\x06\x00", "a damaged zip or workbook"),
        (b"%PDF-1.7\n", "a PDF that is damaged or not whole"),  # it may have carried an invoice
    ],
)
def test_a_file_of_another_kind_altogether(book: Book, data: bytes, found: str) -> None:
    assert load_prices(book, data).found == found


def test_a_file_over_the_limit_is_not_read(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "prices.csv"
    with path.open("wb") as file:
        file.truncate(LARGEST_FILE + 1)  # a hole, not real bytes
    monkeypatch.setattr(Path, "read_bytes", lambda self: pytest.fail("it was read"))
    problem = only(load_file(book, "prices", path, today=TODAY))
    assert (problem.found, problem.expected) == ("a file of 200 MB", "at most 200 MB")


def test_a_file_that_is_not_there(book: Book, tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match=r"Cannot read .*none\.csv: no such file"):
        load_file(book, "prices", tmp_path / "none.csv", today=TODAY)


def test_a_folder_instead_of_a_file(book: Book, tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match="it is a folder"):
        load_file(book, "prices", tmp_path, today=TODAY)


@pytest.mark.skipif(os.geteuid() == 0, reason="everything is readable for root")
def test_a_file_that_may_not_be_read(book: Book, tmp_path: Path) -> None:
    path = tmp_path / "prices.csv"
    path.write_text(FILE)
    path.chmod(0)
    with pytest.raises(InputRefused, match="Permission denied"):
        load_file(book, "prices", path, today=TODAY)


def test_an_unknown_kind_of_file(book: Book) -> None:
    with pytest.raises(InputRefused, match="'recipes'; expected one of ingredients, measures"):
        load_bytes(book, "recipes", "r.csv", FILE.encode(), today=TODAY)
