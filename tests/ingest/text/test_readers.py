"""Cells are read exactly, or refused."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.text import readers
from ingest.text.readers import CellRefused

price = readers.number(places=4, whole=14)


def value_or_refusal(cell: str) -> Decimal | tuple[str, ...]:
    try:
        value: Decimal = price(cell)
    except CellRefused as refused:
        return refused.args
    return value


@pytest.mark.parametrize("cell", ["1", "0001.50", ".5", "99999999999999.9999", "0.0001", "2.50000"])
def test_a_number_is_the_decimal_that_was_written(cell: str) -> None:
    assert price(cell) == Decimal(cell)


@given(st.decimals(min_value="0.0001", max_value="99999999999999.9999", places=4))
def test_every_price_the_book_can_hold_is_read(value: Decimal) -> None:
    assert price(f"{value:f}") == value


@given(st.text(max_size=12))
def test_any_other_text_is_refused_and_never_crashes(cell: str) -> None:
    outcome = value_or_refusal(cell)
    if isinstance(outcome, Decimal):
        assert cell.isascii()
        assert outcome > 0
    else:
        found, expected, remedy = outcome
        assert found
        assert expected
        assert remedy


@given(st.dates())
def test_every_iso_date_is_read(day: date) -> None:
    assert readers.day(day.isoformat()) == day


def test_a_month_is_its_first_day() -> None:
    assert readers.month("2026-11") == date(2026, 11, 1)


@pytest.mark.parametrize("cell", ["2026-13", "2026-00", "0000-01", "11/2026", "2026-11-01", "Nov"])
def test_what_is_no_month_is_refused(cell: str) -> None:
    with pytest.raises(CellRefused):
        readers.month(cell)


def test_a_currency_is_read_in_any_case() -> None:
    assert readers.currency("usd") == "USD"


def test_words_of_a_choice_are_read_in_any_case() -> None:
    assert readers.Choice(as_purchased=1)("As purchased") == 1


def test_a_list_takes_each_name_once() -> None:
    assert readers.name_list(" egg ;Milk; ;  MILK;") == ("egg", "Milk")


def test_none_states_that_there_are_no_allergens() -> None:
    assert readers.allergens("None") == ()
    assert readers.allergens("milk; egg") == ("egg", "milk")
