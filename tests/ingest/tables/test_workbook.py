"""Workbooks: their sheets, cells and formats, and what is refused of them."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Sequence
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

import odf.opendocument
import odf.table
import odf.text
import openpyxl
import pytest

from ingest.tables import unpacked, workbook
from ingest.tables.price_lines import lines_of_table
from tests.ingest.tables.reading import TOLD, grids, lines, proposed, refusal

ROWS: list[list[Any]] = [
    ["Pimpel Großhandel", None, None, None],
    [None, None, None, None],
    ["Datum", "Artikel", "Preis", "Inhalt"],
    [datetime(2026, 10, 13, 8, 30, tzinfo=UTC).replace(tzinfo=None), "Lauch", 1.2, "500 g"],
    [date(2026, 10, 14), "Reis", 0.1 + 0.2, "1 kg"],
]


def xlsx(**sheets: Sequence[Sequence[Any]]) -> bytes:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
        if rows and rows[0] and str(rows[0][0]).startswith("Pimpel"):
            sheet.merge_cells("A1:D1")
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def ods(rows: Sequence[Sequence[Any]]) -> bytes:
    book = odf.opendocument.OpenDocumentSpreadsheet()
    table = odf.table.Table(name="Alt")
    for row in rows:
        line = odf.table.TableRow()
        for value in row:
            if isinstance(value, date):
                cell = odf.table.TableCell(valuetype="date", datevalue=value.isoformat())
            elif isinstance(value, float | int):
                cell = odf.table.TableCell(valuetype="float", value=value)
            else:
                cell = odf.table.TableCell(valuetype="string")
                cell.addElement(odf.text.P(text=value))
            line.addElement(cell)
        table.addElement(line)
    book.spreadsheet.addElement(table)
    out = io.BytesIO()
    book.write(out)
    return out.getvalue()


def test_a_workbook_with_a_merged_title_is_read() -> None:
    read = lines(xlsx(Einkauf=ROWS))
    assert [(each.line, each.day, each.words, each.price, each.pack) for each in read.lines] == [
        (4, date(2026, 10, 13), "Lauch", Decimal("1.2"), "500 g"),
        (5, date(2026, 10, 14), "Reis", Decimal("0.3"), "1 kg"),  # 0.1 + 0.2 as a cell shows it
    ]
    assert read.lines[0].raw == "2026-10-13 | Lauch | 1.2 | 500 g"


def test_the_sheet_that_holds_the_table_is_found_and_the_others_are_told() -> None:
    data = xlsx(Notes=[["Call Pim", "about leeks"]], Einkauf=ROWS)
    proposal = proposed(data)
    assert proposal.layout.sheet == "Einkauf"
    assert any("sheet 'Notes'" in remark for remark in proposal.remarks)


def test_a_hidden_sheet_and_merged_rows_are_told() -> None:
    book = openpyxl.load_workbook(io.BytesIO(xlsx(Notes=[["x", "y"]], Einkauf=ROWS[2:])))
    book["Einkauf"].sheet_state = "hidden"
    book["Einkauf"].merge_cells("A2:A3")
    out = io.BytesIO()
    book.save(out)
    notes, prices = grids(out.getvalue())
    assert notes.remarks == ()
    assert prices.remarks == (
        "1 cell of sheet 'Einkauf' merged over several rows, such as rows 2 to 3: the value counts "
        "for the first row alone.",
        "Sheet 'Einkauf' is hidden in its workbook, and was read.",
    )


def test_a_workbook_with_macros_is_read_without_them() -> None:
    out = io.BytesIO(xlsx(Einkauf=ROWS))
    with zipfile.ZipFile(out, "a") as file:
        file.writestr("xl/vbaProject.bin", b"\xd0\xcf\x11\xe0 macros")
    assert [each.words for each in lines(out.getvalue()).lines] == ["Lauch", "Reis"]


def test_a_sheet_can_be_told() -> None:
    second = [["Date", "Item", "Price"], ["2026-10-12", "salt", 0.5]]
    data = xlsx(Einkauf=ROWS, Other=second)
    assert [each.words for each in lines(data, TOLD | {"sheet": "Other"}).lines] == ["salt"]


def test_a_gtin_and_an_item_number_kept_as_numbers() -> None:
    # 036000291452 is a GTIN-12: 3×(0+6+0+2+1+5) + (3+0+0+9+4) = 42 + 16 = 58, and 2 makes 60
    rows = [
        ["Date", "Item", "Item number", "EAN", "Price"],
        [date(2026, 10, 12), "leek", 1017, 36000291452, 1.2],
        [date(2026, 10, 12), "rice", 1018.0, 6291041500213, 2],
    ]
    read = lines(xlsx(Prices=rows))
    assert [(each.item_number, each.gtin) for each in read.lines] == [
        ("1017", "036000291452"),
        ("1018", "6291041500213"),
    ]


def test_a_date_kept_as_a_number_of_days() -> None:
    # 1 January 2026 is day 46023 of a spreadsheet; 12 October is the 285th day of 2026
    rows = [["Date", "Item", "Price"], [46023 + 284, "leek", 1.2], [46023, "rice", 2.5]]
    assert [each.day for each in lines(xlsx(Prices=rows)).lines] == [
        date(2026, 10, 12),
        date(2026, 1, 1),
    ]


def test_a_tax_shown_as_a_percentage() -> None:
    rows = [["Date", "Item", "Price (net)", "VAT"], [date(2026, 10, 12), "leek", 1.2, 0.07]]
    assert lines(xlsx(Prices=rows)).lines[0].tax_pct == Decimal(7)


def test_an_ods_sheet_is_read() -> None:
    data = ods([["Datum", "Artikel", "Preis"], [date(2026, 10, 13), "Lauch", 1.2]])
    read = lines(data)
    assert [(each.day, each.words, each.price) for each in read.lines] == [
        (date(2026, 10, 13), "Lauch", Decimal("1.2"))
    ]


def test_a_formula_without_a_value_is_an_empty_cell() -> None:
    rows = [["Date", "Item", "Price"], [date(2026, 10, 12), "leek", "=1+1"],
            [date(2026, 10, 12), "rice", 2.5]]  # fmt: skip
    proposal = proposed(xlsx(Prices=rows))
    read = lines_of_table(proposal.table, proposal.layout)
    assert [each.words for each in read.lines] == ["rice"]
    assert read.remarks == ["1 row without an amount (line 2)."]
    assert proposal.remarks[0] == (
        "Cell C2 of sheet 'Prices' holds a formula whose value is not stored: open the workbook "
        "in a spreadsheet and save it there."
    )


def test_many_formulas_without_values_are_counted() -> None:
    said = grids(xlsx(A=[["x", "=1+1"]] * 5))[0].remarks
    assert said[0].startswith("Cells B1, B2, B3 and 2 more of sheet 'A' hold formulas whose")
    assert "Cell A1 of sheet 'B' holds a formula whose" in refusal(xlsx(B=[["=1+1"]]))


def test_text_that_begins_like_a_formula_stays_text() -> None:
    book = openpyxl.Workbook()
    book.active["A1"] = "x"
    book.active["A1"].data_type = "s"
    book.active["A1"].value = "=cmd|x"
    book.active["A1"].data_type = "s"
    out = io.BytesIO()
    book.save(out)
    assert grids(out.getvalue())[0].rows[0].cells == ("=cmd|x",)


def zipped(**parts: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as file:
        for name, content in parts.items():
            file.writestr(name.replace("__", "/").replace("_xml", ".xml"), content)
    return out.getvalue()


OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (zipped(word__document_xml=b"<w/>"), "a text document (DOCX)"),
        (zipped(ppt__slides_xml=b"<p/>"), "slides (PPTX)"),
        (zipped(holiday_xml=b"1"), "a zip file that holds 'holiday.xml'"),
        (xlsx(Einkauf=ROWS)[:2000], "a damaged zip or workbook"),
        (b"PK\x03\x04 no zip", "a damaged zip or workbook"),
        (zipped(xl__workbook_xml=b"<x"), "a workbook that cannot be read"),
        (OLE + "EncryptedPackage".encode("utf-16-le"), "a workbook with a password"),
        (OLE + "WordDocument".encode("utf-16-le"), "a text document (DOC)"),
        (OLE + "Workbook".encode("utf-16-le"), "a workbook that cannot be read"),
        (OLE, "an office file that is no workbook"),
        (b"\x89PNG\r\n\x1a\n\0\0", "a picture"),
        (b"\xff\xd8\xff\xe0\0", "a picture"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"\x1f\x8b\x08\0", "a compressed file"),
        (b"<!DOCTYPE html><html>", "a web page"),
        (b"<?xml version='1.0'?><a/>", "XML"),
        (b"", "an empty file"),
        (b"\n \n;;\n", "an empty file"),
        (b"a;b\n\x01;2\n", "the control character 0x01 in line 2"),
        (b"a;b\n\0;2\n", "a NUL byte in line 2"),
        (xlsx(Empty=[]), "a workbook without a filled cell"),
    ],
)
def test_what_is_no_table_is_said_in_one_sentence(content: bytes, found: str) -> None:
    assert refusal(content).startswith(f"found {found}")


def test_a_workbook_that_unpacks_to_too_much_is_not_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(unpacked, "LARGEST_UNPACKED", 1_000_000)
    bomb = zipped(xl__workbook_xml=b"<x/>", xl__worksheets__sheet1_xml=b"0" * 1_100_000)
    assert len(bomb) < 10_000
    assert "unpacks to" in refusal(bomb)


def test_more_rows_in_all_sheets_than_are_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workbook, "MOST_LINES", 5)
    assert len(grids(xlsx(One=ROWS[2:], Two=ROWS[3:]))) == 2  # 3 and 2 rows
    assert refusal(xlsx(One=ROWS[2:], Two=ROWS[2:])) == (
        "found a workbook with more than 5 filled rows; expected at most 5. "
        "Split it into several files."
    )


def test_a_cell_longer_than_a_spreadsheet_keeps_is_cut() -> None:
    # a cell of a spreadsheet holds 32,767 characters at most: common practice, no source
    assert grids(ods([["x" * 100_000]]))[0].rows[0].cells == ("x" * 32_767,)


def test_a_part_that_is_larger_than_its_entry_says_is_refused() -> None:
    content = b"<worksheet>" + b"0" * 100_000
    data = bytearray(zipped(xl__worksheets__sheet1_xml=content))
    size = len(content).to_bytes(4, "little")
    at = data.rindex(size)  # in the directory at the end
    data[at : at + 4] = (50).to_bytes(4, "little")
    assert refusal(bytes(data)).startswith("found a damaged zip or workbook")


def test_a_sheet_of_two_cells_far_apart_is_not_made_room_for() -> None:
    book = openpyxl.Workbook()
    book.active["A1"] = "a"
    book.active["XFD1048576"] = "b"
    out = io.BytesIO()
    book.save(out)
    assert "spans 17,179,869,184 cells" in refusal(out.getvalue())  # 1,048,576 × 16,384


def test_an_ods_sheet_of_repeated_cells_is_not_made_room_for() -> None:
    row = (
        b'<table:table-row table:number-rows-repeated="1048576"><table:table-cell '
        b'office:value-type="float" office:value="1" table:number-columns-repeated="16384"/>'
        b"</table:table-row>"
    )
    assert "spans 17,179,869,184 cells" in refusal(zipped(content_xml=row))


def test_a_sheet_of_very_many_columns_is_cut_and_said() -> None:
    rows = [["Date", "Item", "Price", *[f"c{number}" for number in range(2000)]],
            [date(2026, 10, 12), "leek", 1.2, *range(2000)]]  # fmt: skip
    proposal = proposed(xlsx(Wide=rows))
    assert any("2,003 columns the first 1,000" in remark for remark in proposal.remarks)
    assert [each.words for each in lines(xlsx(Wide=rows)).lines] == ["leek"]


def test_hidden_rows_are_read_and_told() -> None:
    book = openpyxl.Workbook()
    for row in (
        ["Datum", "Artikel", "Preis"],
        [ROWS[4][0], "Zorvik", 1.2],
        [ROWS[4][0], "Qlp", 2.0],
    ):
        book.active.append(row)
    book.active.row_dimensions[3].hidden = True
    out = io.BytesIO()
    book.save(out)
    (grid,) = grids(out.getvalue())
    assert len(grid.rows) == 3
    assert any(
        "1 row of sheet 'Sheet' is hidden in the workbook (row 3)" in e for e in grid.remarks
    )
