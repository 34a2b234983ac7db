"""An amount as it was printed is read into the one number it holds, or refused."""

from __future__ import annotations

from decimal import Decimal

import pytest

from pricing.errors import MeasureRefused
from pricing.printed.amount import read_printed_amount, sign_of_another_currency


@pytest.mark.parametrize(
    ("text", "amount", "words"),
    [
        ("3.50", "3.50", None),
        (".75", "0.75", None),
        ("3", "3", None),
        ("about 3.50", "3.50", "about 3.50"),
        ("from £3", "3", "from £3"),
        ("3,50", "3.50", "3,50"),
        ("$3.50 a head.", "3.50", "$3.50 a head."),
        ("  about   3.50 ", "3.50", "about 3.50"),
        ("a head – $3.50", "3.50", "a head – $3.50"),  # a dash between words
        ("3.50 per cover", "3.50", "3.50 per cover"),  # not 3.50 p
    ],
)
def test_one_number_is_read(text: str, amount: str, words: str | None) -> None:
    read = read_printed_amount(text)
    assert (read.amount, read.words) == (Decimal(amount), words)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("cheap", "no number"),
        ("2 for 3.50", "more than one number"),
        ("3.50–4.00", "more than one number"),
        ("3½", "more than one number"),
        ("½", "more than one number"),
        ("1,250", "without marks between thousands"),
        ("1.250,00", "without marks between thousands"),
        ("75p", "hundredths"),
        ("75 cents", "hundredths"),
        ("75¢", "hundredths"),
        ("5 %", "a percentage"),
        ("-3.50", "minus sign"),
        ("− 3.50", "minus sign"),
        ("–3.50", "minus sign"),
        ("-$3.50", "minus sign"),
        ("0", "Correct the number"),
        ("1" + "0" * 14, "Correct the number"),
        ("3.50123", "at most 4 decimals"),
    ],
)
def test_what_could_be_read_in_two_ways_is_refused(text: str, why: str) -> None:
    with pytest.raises(MeasureRefused, match=why):
        read_printed_amount(text)


def test_a_sign_of_another_currency_is_seen() -> None:
    assert sign_of_another_currency("about €3", "USD") == "€"
    assert sign_of_another_currency("about €3", "EUR") is None
    assert sign_of_another_currency("about $3", "CAD") is None  # a dollar sign is of many
    assert sign_of_another_currency(None, "USD") is None
