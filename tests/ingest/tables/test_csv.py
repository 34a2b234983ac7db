"""Text tables of any habit: encoding, delimiter, quotation marks, line ends."""

from __future__ import annotations

import codecs

import pytest

from ingest.tables.csv_grid import find_delimiter
from ingest.tables.read import read_grids
from pricing.errors import Problem
from tests.ingest.tables.reading import grids

TABLE = "Bezeichnung;Preis\nLauch, grün;1,20\n\nCrème fraîche;2,50\n"


def cells(content: str | bytes) -> list[tuple[object, ...]]:
    return [row.cells for row in grids(content)[0].rows]


@pytest.mark.parametrize(
    "data",
    [
        TABLE.encode(),
        codecs.BOM_UTF8 + TABLE.encode(),
        TABLE.encode("cp1252"),
        TABLE.encode("utf-16"),
        codecs.BOM_UTF16_BE + TABLE.encode("utf-16-be"),
        TABLE.encode("utf-16-le"),
        codecs.BOM_UTF32_LE + TABLE.encode("utf-32-le"),
        TABLE.replace("\n", "\r\n").encode(),
        TABLE.replace("\n", "\r").encode(),
    ],
)
def test_encodings_and_line_ends_give_the_same_cells(data: bytes) -> None:
    assert cells(data) == [
        ("Bezeichnung", "Preis"),
        ("Lauch, grün", "1,20"),
        ("Crème fraîche", "2,50"),
    ]
    assert [row.line for row in grids(data)[0].rows] == [1, 2, 4]


@pytest.mark.parametrize(
    ("words", "encoding", "said"),
    [
        ("Żurek, śledź, łosoś, kapusta kiszona", "cp1250", "Windows-1250"),
        ("Räksmörgås, jordärtskockor, gräddfil", "cp1252", "Windows-1252"),
        ("Œufs, crème brûlée, pâté, 3 €", "cp1252", "Windows-1252"),
        ("Jamón, piñones, 5 €", "cp1252", "Windows-1252"),
    ],
)
def test_an_old_encoding_is_told_by_its_letters_and_said(
    words: str, encoding: str, said: str
) -> None:
    grid = grids(f"name;price\n{words};3\n".encode(encoding))[0]
    assert grid.rows[1].cells[0] == words
    assert said in grid.remarks[0]


@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
def test_the_delimiter_is_the_mark_of_one_width(mark: str) -> None:
    text = f"A list; of, many\twords|\na{mark}b{mark}c\nd{mark}e{mark}f\ng{mark}h{mark}i\n"
    assert find_delimiter(text.splitlines(keepends=True)) == mark


def test_the_first_line_alone_does_not_decide_the_delimiter() -> None:
    assert find_delimiter(["Leeks, onions, rice, oil\n", "a;1,20\n", "b;2,30\n"]) == ";"


def test_quoted_cells_hold_delimiters_marks_and_line_ends() -> None:
    assert cells('name;price\n"A ""soft"" cheese;\nwith rind";3\nb;4\n') == [
        ("name", "price"),
        ('A "soft" cheese;\nwith rind', "3"),
        ("b", "4"),
    ]
    assert [row.line for row in grids('name;price\n"a\nb";3\nc;4\n')[0].rows] == [1, 2, 4]


def test_a_quotation_mark_that_is_never_closed_spoils_its_own_line_alone() -> None:
    found = cells('name;price\n"Brie;3\nb;4\n"c";5\nd;6\n')
    assert found[1] == ('"Brie', "3")
    assert found[2:] == [("b", "4"), ("c", "5"), ("d", "6")]


def test_inches_in_a_word_are_letters() -> None:
    assert cells('name;price\npan 12";3\n"12" pan;4\n')[1:] == [
        ('pan 12"', "3"),
        ('"12" pan', "4"),
    ]


def test_the_line_that_names_the_delimiter_is_obeyed() -> None:
    assert cells("sep=|\na|b,c\nd|e,f\n")[0] == ("a", "b,c")


def test_a_text_pasted_from_a_clipboard_is_a_table() -> None:
    assert cells("Artikel\tPreis\nLauch\t1,20")[1] == ("Lauch", "1,20")


def test_formula_text_stays_text() -> None:
    assert cells("name;price\n=1+1;2\n@x;3\n")[1:] == [("=1+1", "2"), ("@x", "3")]


def test_many_lines_of_open_marks_are_read_in_bounded_time() -> None:
    read = read_grids(b'"a;1\n' + b"b;2\n" * 20_000 + b'"c;3\n' * 3)
    assert not isinstance(read[0], Problem)
    assert len(read[0].rows) >= 20_001
