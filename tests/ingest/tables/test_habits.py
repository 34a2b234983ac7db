"""A table of any habit is read back as the lines it was written from."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import date
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.ingest.tables.reading import TOLD, lines
from tests.loops import rounds

NAMES = [
    "Lauch",
    "Crème fraîche",
    "Käse, gereift",
    'Brot "rund"',
    "Jamón; fein",
    "Öl | mild",
    "Reis",
]
DATES: dict[str, Callable[[date], str]] = {
    "iso": lambda day: day.isoformat(),
    "dots": lambda day: f"{day:%d.%m.%Y}",
    "day": lambda day: f"{day.day}/{day.month}/{day.year}",
    "month": lambda day: f"{day:%m/%d/%Y}",
    "short": lambda day: f"{day:%d.%m.%y}",
}
NUMBERS: dict[str, Callable[[Decimal], str]] = {
    "point": lambda value: f"{value:.2f}",
    "comma": lambda value: f"{value:.2f}".replace(".", ","),
    "point, thousands": lambda value: f"{value:,.2f}",
    "comma, thousands": lambda value: f"{value:,.2f}".translate(str.maketrans(",.", ".,")),
    "comma, gaps": lambda value: f"{value:,.2f}".replace(",", " ").replace(".", ","),
    "sign": lambda value: f"€ {value:.2f}",
    "sign behind": lambda value: f"{value:.2f} €".replace(".", ","),
}
HEADINGS = [
    ("Date", "Item", "Price"), ("Datum", "Bezeichnung", "Preis"), ("Date", "Désignation", "Prix"),
    ("Fecha", "Descripción", "Precio"), ("Data", "Descrizione", "Prezzo"),
    ("Datum", "Omschrijving", "Prijs"), ("Data", "Descrição", "Preço"), ("DATUM", "Vara", "PRIS"),
]  # fmt: skip

days = st.dates(date(2020, 1, 1), date(2026, 11, 24))
prices = st.integers(1, 999_999).map(lambda cents: Decimal(cents) / 100)
rows = st.lists(st.tuples(days, st.sampled_from(NAMES), prices), min_size=1, max_size=8)
decided = days.filter(lambda day: day.day > 12)  # its order can only be one


@settings(max_examples=rounds(1000), deadline=None)
@given(
    rows=rows,
    last=st.tuples(decided, st.sampled_from(NAMES), prices),
    dates=st.sampled_from(sorted(DATES)),
    numbers=st.sampled_from(sorted(NUMBERS)),
    headings=st.sampled_from(HEADINGS),
    delimiter=st.sampled_from([",", ";", "\t", "|"]),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "cp1252", "utf-16"]),
    end=st.sampled_from(["\n", "\r\n", "\r"]),
    quoting=st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]),
)
def test_any_habit(rows, last, dates, numbers, headings, delimiter, encoding, end, quoting) -> None:  # type: ignore[no-untyped-def]
    written = [*rows, last]
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=delimiter, lineterminator=end, quoting=quoting)
    writer.writerow(headings)
    for day, name, price in written:
        writer.writerow([DATES[dates](day), name, NUMBERS[numbers](price)])
    read = lines(out.getvalue().encode(encoding), TOLD)
    assert read.problems == []
    assert [(each.day, each.words, each.price) for each in read.lines] == written
