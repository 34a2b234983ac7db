"""Rows are taken apart as RFC 4180 has it, with the physical line on which each starts."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.text.csv_text import Sheet, read_sheet


def rows(data: str) -> list[tuple[int, tuple[str, ...] | None]]:
    sheet = read_sheet(data.encode())
    assert isinstance(sheet, Sheet)
    return [(row.line, row.cells) for row in sheet.rows]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_every_line_end_counts_as_one_line(end: str) -> None:
    assert rows(end.join(["a,b", "1,2", "", "3,4"])) == [(2, ("1", "2")), (4, ("3", "4"))]


def test_a_quoted_line_end_belongs_to_the_cell_and_is_counted() -> None:
    assert rows('a,b\n"one\r\ntwo\n",2\n3,4\n') == [(2, ("one\r\ntwo", "2")), (5, ("3", "4"))]


def test_commas_and_doubled_quotation_marks_inside_a_quoted_cell() -> None:
    assert rows('a,b\n"1,5","the ""best"" leek"\n') == [(2, ("1,5", 'the "best" leek'))]


def test_spaces_around_cells_are_dropped() -> None:
    assert rows('a,b\n  leek ,  "barley"  \n') == [(2, ("leek", "barley"))]


def test_rows_without_any_text_are_blank() -> None:
    assert rows("a,b\n,\n   \n , \n1,2") == [(5, ("1", "2"))]


def test_other_breaks_of_unicode_are_no_line_ends() -> None:
    """U+2028 and U+0085 end a line for str.splitlines, but in no program that shows lines."""
    assert rows("a,b\nx\u2028y,z\x85\n1,2\n")[1] == (3, ("1", "2"))


def test_the_raw_row_is_kept_without_its_line_end() -> None:
    sheet = read_sheet(b'a,b\r\n"one\ntwo", 2 \r\n')
    assert isinstance(sheet, Sheet)
    assert sheet.rows[0].raw == '"one\ntwo", 2 '


def test_text_after_a_closing_quotation_mark_spoils_only_its_row() -> None:
    assert rows('a,b\n"x"y,1\n3,4\n') == [(2, None), (3, ("3", "4"))]


cells = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"], include_characters="\n\r"),
    max_size=12,
)


@given(st.lists(st.lists(cells, min_size=3, max_size=3), min_size=1, max_size=8), st.booleans())
def test_what_python_s_writer_writes_is_read_back(
    table: list[list[str]], every_cell_quoted: bool
) -> None:
    out = io.StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_ALL if every_cell_quoted else csv.QUOTE_MINIMAL)
    writer.writerow(["a", "b", "c"])
    writer.writerows(table)
    sheet = read_sheet(out.getvalue().encode())
    read = [row.cells for row in sheet.rows] if isinstance(sheet, Sheet) else []
    trimmed = [tuple(cell.strip() for cell in row) for row in table]
    assert read == [row for row in trimmed if any(row)]
