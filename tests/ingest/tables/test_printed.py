"""Old costings: a dish, a day or month, an amount."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from ingest.tables.printed_lines import PrintedLine, printed_of_table
from tests.ingest.tables.reading import asked, proposed


def figures(text: str, told: dict[str, str] | None = None) -> list[PrintedLine]:
    proposal = proposed(text, told or {}, kind="printed")
    assert proposal.sure, proposal.questions
    read = printed_of_table(proposal.table, proposal.layout, day=proposal.day)
    assert read.problems == []
    assert [*proposal.preview] == read.lines[:5]
    return read.lines


def test_figures_with_dates() -> None:
    text = (
        "Alte Kosten\n\nGericht;Fassung;Erschienen;Kosten pro Portion;Seite\n"
        "Lauchsuppe;2;13.10.2024;3,50 €;12\nReispfanne;1;14.10.2024;2,80 €;14\nSumme;;;6,30 €;\n"
    )
    first, second = figures(text)
    assert (first.dish, first.version, first.day) == ("Lauchsuppe", "2", date(2024, 10, 13))
    assert (first.amount, first.currency, first.where) == (Decimal("3.50"), "EUR", "12")
    assert first.note is None
    assert second.line == 5


def test_months_count_from_their_first_and_it_is_said() -> None:
    read = figures("Dish;Month;Cost per portion (£)\nLeek soup;Oct 2024;3.50\nRice;2024-11;2.80\n",
                   {"currency": "GBP"})  # fmt: skip
    assert [each.day for each in read] == [date(2024, 10, 1), date(2024, 11, 1)]
    assert [each.note for each in read] == ["month as stated"] * 2
    assert {each.currency for each in read} == {"GBP"}


def test_a_table_without_a_day_asks_for_it() -> None:
    proposal = proposed("Dish;Cost per portion\nLeek soup;3.50 €\n", {}, kind="printed")
    assert asked(proposal) == ["day"]


def test_rows_without_an_amount_are_left_out_and_bad_ones_are_problems() -> None:
    text = (
        "Dish;Published;Cost per portion\nLeek soup;2024-10-13;3.50 €\nRice;2024-10-13;\n"
        "Stew;soon;3.00 €\nPie;2024-10-14;0 €\nTart;2024-10-14;2.00 €\n"
    )
    proposal = proposed(text, {}, kind="printed")
    read = printed_of_table(proposal.table, proposal.layout)
    assert [each.dish for each in read.lines] == ["Leek soup", "Tart"]
    assert [(each.line, each.column) for each in read.problems] == [(4, "Published"), (5, None)]
    assert read.remarks == ["1 row without an amount, left out."]
