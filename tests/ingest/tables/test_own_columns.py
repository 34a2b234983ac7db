"""Our own columns in another habit, brought into the form that they are read in."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from ingest.tables.own_columns import own_columns
from ingest.text.csv_text import Sheet
from ingest.text.read_file import ReadFile, read_columns
from tests.ingest.tables.reading import grids
from tests.ingest.tables.test_workbook import xlsx


def read(kind: str, content: str | bytes, told: dict[str, str] | None = None) -> ReadFile:
    sheet = own_columns(grids(content)[0], kind, told)
    assert isinstance(sheet, Sheet)
    found = read_columns(kind, sheet)
    assert isinstance(found, ReadFile)
    return found


def values(found: ReadFile, *names: str) -> list[tuple[Any, ...]]:
    assert found.problems == []
    return [tuple(row.value[name] for name in names) for row in found.rows]


def test_prices_with_semicolons_and_decimal_commas() -> None:
    text = (
        "Preise im Herbst\n\nIngredient;date;price;currency;pack;tax_pct\n"
        "Lauch;13.10.2026;1,20;EUR;0,5 kg;7\nKäse;14.10.2026;1.200,50;EUR;500 g;\n"
    )
    found = read("prices", text.encode("cp1252"))
    assert values(found, "ingredient", "date", "price", "pack", "tax_pct") == [
        ("Lauch", date(2026, 10, 13), Decimal("1.20"), "0.5 kg", Decimal(7)),
        ("Käse", date(2026, 10, 14), Decimal("1200.50"), "500 g", None),
    ]
    assert [row.line for row in found.rows] == [4, 5]


def test_a_workbook_of_dishes() -> None:
    rows = [
        ["dish", "version", "effective_from", "portions", "ingredient", "quantity", "unit"],
        ["Leek soup", 1, date(2026, 10, 1), 4, "leek", 0.5, "kg"],
        ["Leek soup", 1, date(2026, 10, 1), 4, "salt", "1 1/2", "tsp"],
    ]
    found = read("dishes", xlsx(Dishes=rows))
    assert values(found, "version", "effective_from", "portions", "quantity") == [
        ("1", date(2026, 10, 1), Decimal(4), "0.5"),
        ("1", date(2026, 10, 1), Decimal(4), "1 1/2"),
    ]


def test_quantities_with_a_comma() -> None:
    text = (
        "dish;version;effective_from;portions;ingredient;quantity;unit\n"
        "Suppe;1;2026-10-01;4;Lauch;0,5;kg\n"
    )
    assert values(read("dishes", text), "quantity") == [("0.5",)]


def test_months_of_an_index() -> None:
    text = "series;month;value\nown:a;10/2026;101,5\nown:a;Nov 2026;102,5\n"
    assert values(read("index", text), "month", "value") == [
        (date(2026, 10, 1), Decimal("101.5")),
        (date(2026, 11, 1), Decimal("102.5")),
    ]


def test_what_could_be_read_in_two_ways_is_left_and_refused_by_its_cell() -> None:
    text = "ingredient;date;price;currency;pack\nLauch;03.04.2026;1,200;EUR;500 g\n"
    found = read("prices", text)
    assert [(each.line, each.column) for each in found.problems] == [(2, "date"), (2, "price")]
    told = read("prices", text, {"date": "day-first", "decimal": "comma"})
    assert values(told, "date", "price") == [(date(2026, 4, 3), Decimal("1.200"))]


def test_a_table_without_our_columns_is_none() -> None:
    assert own_columns(grids("Datum;Artikel;Preis\n1;2;3\n")[0], "prices") is None
