"""An amount as it was printed is read into the one number it holds, or refused."""

from __future__ import annotations

from decimal import Decimal

import pytest

from pricing.errors import MeasureRefused
from pricing.money import currencies_written, minor_units, show_money
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
        ("-EUR 3.50", "minus sign"),
        ("–CA$3.50", "minus sign"),
        ("0", "Correct the number"),
        ("1" + "0" * 14, "Correct the number"),
        ("3.50123", "at most 4 decimals"),
    ],
)
def test_what_could_be_read_in_two_ways_is_refused(text: str, why: str) -> None:
    with pytest.raises(MeasureRefused, match=why):
        read_printed_amount(text)


@pytest.mark.parametrize(
    ("words", "sign", "its_own"),
    [
        ("about €3", "€", "EUR"),
        ("EUR 3", "EUR", "EUR"),
        ("3 EUR a head", "EUR", "EUR"),
        ("EUR3", "EUR", "EUR"),
        ("3.- CHF", "CHF", "CHF"),
        ("3 kr", "kr", "SEK"),
        ("3 kr.", "kr", "DKK"),  # several countries have crowns, and write them so
        ("kr. 3", "kr", "NOK"),
        ("3kr", "kr", "ISK"),
        ("CA$3", "CA$", "CAD"),
        ("CAD $3", "CAD", "CAD"),
        ("$3 CAD", "CAD", "CAD"),
        ("NZ$3", "NZ$", "NZD"),
        ("R$ 3", "R$", "BRL"),
        ("12 zł", "zł", "PLN"),
        ("RM12", "RM", "MYR"),
        ("3.50, as on the € menu", "€", "EUR"),
    ],
)
def test_a_sign_or_code_of_another_currency_is_seen(words: str, sign: str, its_own: str) -> None:
    assert sign_of_another_currency(words, "USD") == sign
    assert sign_of_another_currency(words, its_own) is None


@pytest.mark.parametrize("currency", ["USD", "CAD", "AUD", "NZD", "SGD", "MXN"])
def test_a_dollar_sign_is_of_many_countries(currency: str) -> None:
    assert sign_of_another_currency("about $3", currency) is None


def test_a_dollar_sign_is_not_of_all() -> None:
    assert sign_of_another_currency("about $3", "EUR") == "$"
    assert sign_of_another_currency("US$3", "USD") is None
    assert sign_of_another_currency("US$3", "CAD") == "US$"


@pytest.mark.parametrize(
    "words",
    [
        None,
        "all 3.50",  # the codes of the lek, the lira and the peso are words in small letters
        "try it: 3.50 a cup",
        "A 3.50 LUNCH FOR ALL",  # not beside the number
        "menu L 3.50",
        "Krone 3.50",
    ],
)
def test_words_are_no_signs(words: str | None) -> None:
    assert sign_of_another_currency(words, "USD") is None


def test_what_the_program_prints_is_of_its_own_currency() -> None:
    shown = {currency: show_money(3, currency) for currency in minor_units()}
    own = [sign_of_another_currency(words, currency) for currency, words in shown.items()]
    assert own == [None] * len(shown)
    others = [sign_of_another_currency(words, "XOF") for words in shown.values()]
    assert others.count(None) == 1  # its own


def test_signs_are_of_currencies_that_there_are() -> None:
    meant = set().union(*currencies_written().values())
    assert meant == set(minor_units())
