"""Files of any other form are answered with one short sentence, soon, and nothing of them stays."""

from __future__ import annotations

import io
import time
import tracemalloc
import zipfile
from datetime import date
from functools import cache

import openpyxl
import pytest

from ingest.load import load_bytes
from ingest.text.limits import LARGEST_UNPACKED
from pricing.book.connect import Book
from tests.kitchen import TODAY
from tests.loading import ask, only
from tests.workbook import workbook

KINDS = ("ingredients", "measures", "prices", "dishes", "swaps", "printed", "index")
HEAD = ["Datum", "Artikel", "Preis", "Inhalt"]
ENTITIES = (
    b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
    b'<Invoice xmlns="urn:oasis:names:specification:ubl:schema:xsd:Invoice-2">&b;&b;</Invoice>'
)
OLD_OFFICE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


@cache
def zipped(name: str, size: int) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr(
            "xl/workbook.xml" if name.startswith("xl/") else "[Content_Types].xml", "<w/>"
        )
        file.writestr(name, b" " * size)
    return out.getvalue()


OTHERS = {
    "password": OLD_OFFICE + b"\0" * 2000 + "EncryptedPackage".encode("utf-16-le"),
    "document": zipped("word/document.xml", 10),
    "png": b"\x89PNG\r\n\x1a\n" + b"\0" * 100,
    "jpg": b"\xff\xd8\xff\xe0" + b"\0" * 100,
    "pdf": b"%PDF-1.7\n%%EOF",
    "page": b"<!doctype html><html><body><p>Nothing here</p></body></html>",
    "entities": ENTITIES,
    "packed": b"\x1f\x8b\x08\0" + b"\0" * 50,
    "nothing": b"\0" * 1000,
}  # fmt: skip


def refusal(book: Book, kind: str, data: bytes) -> str:
    """Return the sentence about a file of which nothing may have been stored."""
    loads = ask(book, "SELECT count(*) FROM load_batch")
    sentence = only(load_bytes(book, kind, "file", data, today=TODAY)).sentence()
    assert ask(book, "SELECT count(*) FROM load_batch") == loads
    return sentence


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("other", OTHERS)
def test_another_form_is_one_sentence(book: Book, kind: str, other: str) -> None:
    sentence = refusal(book, kind, OTHERS[other])
    assert "found " in sentence
    assert "expected " in sentence
    assert len(sentence) < 300


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("picture", ["png", "jpg"])
def test_a_picture_is_called_one(book: Book, kind: str, picture: str) -> None:
    assert "found a picture;" in refusal(book, kind, OTHERS[picture])


@pytest.mark.parametrize("kind", ["prices", "printed", "ingredients", "dishes"])
def test_a_bomb_stops_at_the_stated_limit(book: Book, kind: str) -> None:
    """A sheet of 210 MB of blanks, 0.2 MB packed: it is weighed by its entry and not unpacked."""
    data = zipped("xl/worksheets/sheet1.xml", 210 * 1024 * 1024)
    assert len(data) < 1024 * 1024 < LARGEST_UNPACKED
    tracemalloc.start()
    began = time.perf_counter()
    sentence = refusal(book, kind, data)
    seconds, (_, most) = time.perf_counter() - began, tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert "found a workbook that unpacks to 210 MB in 2 parts; expected at most 100 MB" in sentence
    assert seconds < 2
    assert most < 20 * 1024 * 1024


def test_a_table_of_a_million_rows_is_refused_at_once(book: Book) -> None:
    data = b"Datum;Artikel;Preis\n" + b"2026-10-13;leek;1,20\n" * 1_000_000
    tracemalloc.start()
    began = time.perf_counter()
    sentence = refusal(book, "prices", data)
    seconds, (_, most) = time.perf_counter() - began, tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert sentence == (
        "found a table of 1,000,001 lines; expected at most 200,000. Split it into several files."
    )
    assert seconds < 5
    assert most < 4 * len(data)


def test_more_than_a_million_rows_of_our_own_columns(book: Book) -> None:
    data = b"ingredient,date,price,currency,pack\n" + b"leek,2026-10-13,1,USD,1 g\n" * 1_000_000
    assert "a table of 1,000,001 lines; expected at most 1,000,000" in refusal(book, "prices", data)


def test_a_cell_of_fifty_megabytes_is_refused_at_once(book: Book) -> None:
    data = b"Datum;Artikel;Preis\n2026-10-13;" + b"x" * (51 * 1024 * 1024) + b";1,20\n"
    assert "found a file of 51 MB; expected at most 50 MB." in refusal(book, "prices", data)


def test_formulas_whose_values_were_not_kept(book: Book) -> None:
    data = workbook([HEAD, [date(2026, 10, 13), "leek", "=1+1", "500 g"]])
    report = load_bytes(book, "prices", "file", data, today=TODAY)
    assert len(report.problems) == 1
    assert any("Cell C2 of sheet 'Sheet' holds a formula" in each for each in report.remarks)


def test_a_date_merged_over_two_rows_stands_in_the_first_alone(book: Book) -> None:
    made = openpyxl.Workbook()
    sheet = made.active
    for row in ([*HEAD], [date(2026, 10, 13), "leek", 1.2, "500 g"], [None, "egg", 2, "12 each"]):
        sheet.append(row)
    sheet.merge_cells("A2:A3")
    out = io.BytesIO()
    made.save(out)
    sentence = refusal(book, "prices", out.getvalue())
    assert sentence.startswith("line 3, column Datum: found an empty cell; expected a date")


def test_ten_thousand_columns_are_a_short_sentence(book: Book) -> None:
    names = ";".join(f"h{place}" for place in range(10_000))
    began = time.perf_counter()
    sentence = refusal(book, "prices", f"{names}\n{'1,2;' * 9_999}1,2\n".encode())
    assert time.perf_counter() - began < 5
    assert len(sentence) < 2_000


def test_a_recipe_without_end_is_refused_at_once(book: Book) -> None:
    assert "found a text of 100,002 lines" in refusal(
        book, "dishes", b"Soup\n" + b"200 g leeks\n" * 100_000
    )
