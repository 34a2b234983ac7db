"""A till's text gives things with what was paid for them, and only if they come to its total."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.till_text.entry import read_entry
from ingest.till_text.read import is_till_text, read_till
from ingest.till_text.till import Till

TODAY = date(2026, 11, 24)
ENGLISH = """\
CORNER LARDER
12 Hill Street
23/11/2026 18:04
ZORVIK BTR 454G 2PK   5.98 A
YOGHURT NAT 500G      2.50
2 x 1.25
Multibuy saving      -0.50
CARROTS LOOSE
0.843 kg @ 1.20/kg    1.01
00412 SWEDE           0.80
CARRIER BAG           0.10
TOTAL                 9.89
CASH                 20.00
CHANGE               10.11
VAT 20%  1.00
"""  # 5.98 + 2.50 - 0.50 + 1.01 + 0.80 + 0.10 = 9.89
GERMAN = """\
Marktladen
23.11.2026 09:15
Rüben
0,512 kg x 3,99 EUR/kg    2,04 B
2 x 1,25
Joghurt  2,50 B
Rabatt   -0,30
Pfand    0,25
Summe EUR  4,49
Gegeben EUR 10,00
"""  # 2,04 + 2,50 - 0,30 + 0,25 = 4,49


def read(text: str, currency: str = "GBP", day: date | None = TODAY) -> Till:
    return read_till(dedent(text), currency=currency, today=TODAY, day=day)


def told(till: Till) -> list[tuple[str, str, str, str | None]]:
    return [(line.words, str(line.price), str(line.count), line.pack) for line in till.lines]


def problem(till: Till) -> str:
    assert till.lines == ()
    (one,) = till.problems
    return one.sentence()


def test_an_english_receipt_is_read_to_the_penny() -> None:
    till = read(ENGLISH, day=None)
    assert till.problems == ()
    assert (till.supplier, till.day) == ("CORNER LARDER", date(2026, 11, 23))
    assert till.total == till.read_sum == Decimal("9.89")
    assert told(till) == [
        ("ZORVIK BTR 454G 2PK", "5.98", "1", None),
        ("YOGHURT NAT 500G", "2.00", "2", None),
        ("CARROTS LOOSE", "1.01", "1", "0.843 kg"),
        ("SWEDE", "0.80", "1", None),
    ]
    yoghurt, swede = till.lines[1], till.lines[3]
    assert (yoghurt.line, yoghurt.kind, yoghurt.currency) == (5, "receipt", "GBP")
    assert yoghurt.note == "lowered by Multibuy saving -0.50"
    assert yoghurt.raw == "YOGHURT NAT 500G      2.50 / 2 x 1.25"
    assert swede.item_number == "00412"
    assert till.remarks == (
        "the shop is taken to be 'CORNER LARDER', its first line",
        "line 11: 'CARRIER BAG 0.10' is no ingredient; it counts in the total alone",
    )


def test_a_german_receipt_has_its_numbers_above_and_its_weights_below() -> None:
    till = read(GERMAN, "EUR", day=None)
    assert till.problems == ()
    assert (till.day, till.total) == (date(2026, 11, 23), Decimal("4.49"))
    assert told(till) == [("Rüben", "2.04", "1", "0.512 kg"), ("Joghurt", "2.20", "2", None)]


@pytest.mark.parametrize(
    ("lines", "wanted"),
    [
        ("MILK\n2 x 1.25 2.50", ("MILK", "2.50", "2", None)),
        ("2 x 1.25 2.50\nMILK", ("MILK", "2.50", "2", None)),
        ("MILK 2.50\n2 @ 1.25", ("MILK", "2.50", "2", None)),
        ("MILK 2 x 1.25 2.50", ("MILK", "2.50", "2", None)),
        ("2 x MILK 2.50", ("MILK", "2.50", "2", None)),
        ("1.25 x 2 2.50\nMILK", ("MILK", "2.50", "2", None)),
        ("HAM 0.200 kg @ 12.50/kg 2.50", ("HAM", "2.50", "1", "0.200 kg")),
        ("HAM\n0.200kg @ £12.50/kg", ("HAM", "2.50", "1", "0.200 kg")),
        ("HAM 2.50\nNet 0.200 kg 12.50/kg", ("HAM", "2.50", "1", "0.200 kg")),
        ("6 x 330ML COLA £2.50*", ("6 x 330ML COLA", "2.50", "1", None)),
        ("BAG OF SALAD 2.50", ("BAG OF SALAD", "2.50", "1", None)),
        ("TOTAL WIPES 2.50", ("TOTAL WIPES", "2.50", "1", None)),
        ("BAR OF SOAP 2.50", ("BAR OF SOAP", "2.50", "1", None)),
        ("MILK 3.00\nDiscount 0.50-", ("MILK", "2.50", "1", None)),
        ("MILK 3.00\nMultibuy saving 0.50", ("MILK", "2.50", "1", None)),
        ("OFFER CHEESE 2.50", ("OFFER CHEESE", "2.50", "1", None)),
        ("MILK 2.50\nTEA 1.00\nVOID TEA -1.00", ("MILK", "2.50", "1", None)),
        ("MILK 2.50\nTEA 1.00\nFree today -1.00", ("MILK", "2.50", "1", None)),
    ],
)
def test_what_was_paid_for_a_thing_is_read_in_every_habit(
    lines: str, wanted: tuple[str, str, str, str | None]
) -> None:
    till = read(f"{lines}\nTOTAL 2.50\n")
    assert till.problems == ()
    assert told(till) == [wanted]


@pytest.mark.parametrize(
    ("line", "total"),
    [
        ("Subtotal 5.00\nSales tax 0.40", "5.40"),
        ("Voucher -1.00", "4.00"),
        ("Coupon 1.00", "4.00"),
        ("Bottle deposit 0.25", "5.25"),
        ("Rounding -0.02", "4.98"),
        ("Delivery 3.50", "8.50"),
        ("Subtotal 5.00\n10% discount -0.50", "4.50"),
        ("You saved 1.00", "5.00"),
        ("Total items 2", "5.00"),
    ],
)
def test_what_is_no_thing_counts_in_the_total_and_lowers_no_price(line: str, total: str) -> None:
    till = read(f"LEEKS 2.00\nTEA 3.00\n{line}\nTotal to pay £{total}\n")
    assert till.problems == ()
    assert told(till) == [("LEEKS", "2.00", "1", None), ("TEA", "3.00", "1", None)]


@pytest.mark.parametrize(
    "total",
    ["TOTAL 1,20", "Gesamtbetrag 1,20", "À payer 1,20 €", "Importe total: 1,20", "Totale EUR 1,20",
     "Te betalen 1,20", "Total a pagar 1,20", "Do zapłaty 1,20", "Att betala 1,20",
     "SUMME (1 Artikel) 1,20", "Totaal\n1,20"],
)  # fmt: skip
def test_the_total_is_known_in_nine_languages(total: str) -> None:
    till = read(f"Laden\nMehl 1,20\n{total}\nXyz 9,99\n", "EUR")
    assert (till.total, till.problems) == (Decimal("1.20"), ())


def test_a_sum_that_misses_the_total_names_both_and_nothing_is_taken() -> None:
    told = problem(read("MILK 1.20\nTEA 3.00\nTOTAL 4.70\n"))
    assert "found lines that come to £4.20; expected the printed total, £4.70." in told


def test_a_receipt_without_a_total_is_taken_with_a_remark_unless_a_line_is_in_doubt() -> None:
    till = read("MILK 1.20\nTEA 3.00\n")
    assert len(till.lines) == 2
    assert till.remarks[-1].startswith("it has no total to hold the sum of its lines against")
    doubt = problem(read("MILK 1.20\nOFFER 0.20\n"))
    assert doubt.startswith("line 2: found 'OFFER 0.20', which may lower a price or name a thing;")


def test_reductions_and_numbers_without_their_thing_are_named() -> None:
    nothing = problem(read("Rebate -1.00\nMILK 2.00\nTOTAL 1.00\n"))
    assert nothing.startswith("line 1: found a reduction, 'Rebate -1.00', with nothing above it;")
    more = problem(read("MILK 2.00\nSaving -3.00\nTOTAL 2.00\n"))
    assert "'Saving -3.00', under 'MILK 2.00'" in more
    alone = problem(read("TEA 1.00\n\n2 x 7.00\nTOTAL 15.00\n"))
    assert alone.startswith("line 3: found '2 x 7.00';")


def test_another_currency_is_named() -> None:
    assert "found amounts in '€'; expected amounts in GBP." in problem(
        read("MILK 1.20 €\nTOTAL 1.20")
    )


def test_currencies_without_decimals_have_whole_prices() -> None:
    till = read("DAIKON 298\n2 x 150\nTOFU 300\nTOTAL ¥598\n", "JPY")
    assert told(till) == [("DAIKON", "298", "1", None), ("TOFU", "300", "2", None)]


def test_the_bytes_of_a_file_are_read_in_its_encoding_and_a_picture_is_refused() -> None:
    data = GERMAN.encode("cp1252")
    assert read_till(data, currency="EUR", today=TODAY).lines[0].words == "Rüben"
    till = read_till(b"\x89PNG", currency="EUR", today=TODAY)
    assert "found a picture; expected a till's text" in problem(till)


@pytest.mark.parametrize(
    ("text", "is_one"),
    [
        (ENGLISH, True),
        (GERMAN, True),
        ("MILK 1.20\nTEA 3.00\nHAM 2.00\n23.11.2026", True),
        ("name;price\nmilk;1.20\ntotal;1.20", False),
        ("ingredient,date,price\nmilk,2026-11-01,1.20\n", False),
        ("Leek pie\nServes 4\n200 g leeks\n3 eggs\n", False),
        ("", False),
    ],
)
def test_a_receipt_is_told_by_its_content(text: str, is_one: bool) -> None:
    assert is_till_text(text) is is_one


PIECES = st.sampled_from(
    ["MILK", " 1.20", "2 x ", "0,512 kg", " @ ", "-0.50", "\n", "TOTAL ", "Rabatt", "23/11/2026",
     "€", "/kg", "1.234,50", "99999999999.99", "VOID ", "\ud800"]
)  # fmt: skip


@given(st.lists(st.one_of(PIECES, st.text(max_size=5)), max_size=30).map("".join))
def test_no_text_makes_the_reader_fail_and_what_is_taken_meets_the_total(text: str) -> None:
    is_till_text(text)
    till = read_till(text, currency="EUR", today=TODAY, day=TODAY)
    assert bool(till.lines) != bool(till.problems)
    assert all(line.price > 0 and line.words for line in till.lines)


def test_a_long_line_is_no_line_of_a_till() -> None:
    assert read_entry(1, "x " * 500 + "1.20", "GBP").kind == "words"
