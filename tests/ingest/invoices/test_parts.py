"""Check digits, units, and shares of a whole invoice's amounts, by published and pencil figures."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ingest.invoices.document import Invoice
from ingest.invoices.read import read_document
from ingest.invoices.unit_codes import _units, pack_words
from ingest.text.gtin import is_gtin
from pricing.errors import MeasureRefused
from pricing.measures.read import read_pack
from pricing.measures.units import find_unit
from tests.ingest.invoices.documents import UBL, changed


@pytest.mark.parametrize(
    "number",
    [
        "6291041500213",  # GS1, "How to calculate a check digit manually"
        "7300011000017",  # GS1 Sweden, "Så beräknas kontrollsiffran"
        "8904000210037",  # GS1 India, check digit example
        "12345670",  # pencil: 3·(1 + 3 + 5 + 7) + (2 + 4 + 6) = 48 + 12 = 60, so 0
        "036000291452",  # pencil: 3·(0+6+0+2+1+5) + (3+0+0+9+4) = 42 + 16 = 58, so 2
    ],
)
def test_a_right_check_digit(number: str) -> None:
    assert is_gtin(number)
    wrong = str((int(number[-1]) + 1) % 10)
    assert not is_gtin(number[:-1] + wrong)


@pytest.mark.parametrize("text", ["", "629104150021", "6291041500213 ", "62910415002x3", "6" * 20])
def test_no_gtin(text: str) -> None:
    assert not is_gtin(text)


def test_two_digits_that_changed_places_are_seen() -> None:
    assert not is_gtin("2691041500213")


@pytest.mark.parametrize(
    ("quantity", "code", "pack"),
    [
        ("0.250", "KGM", "0.25 kg"),
        ("5", "HLT", "500 l"),
        ("12", "CLT", "12 cl"),
        ("1", "TNE", "1000 kg"),
        ("3", "EA", "3 each"),
        ("100", "H87", "100 each"),
        ("4", "XBX", "4 box"),
        ("2", "LBR", "2 lb"),
        ("16", "ONZ", "16 oz"),
        ("2", "PTI", "2 uk pint"),
        ("2", "PTL", "2 us pint"),
    ],
)
def test_a_quantity_as_a_pack(quantity: str, code: str, pack: str) -> None:
    assert pack_words(Decimal(quantity), code) == pack


@pytest.mark.parametrize("code", ["", "GM", "kgm", "HUR", "MTR", "KG", "box"])
def test_a_code_that_is_not_known_is_never_guessed(code: str) -> None:
    assert pack_words(Decimal(1), code) is None


def test_every_unit_is_one_of_packs_or_a_package_by_name() -> None:
    for code, (unit, times) in _units().items():
        assert times > 0
        if code.startswith("X") and unit != "each":
            assert unit.isalpha()  # an own measure: box, tin
            with pytest.raises(MeasureRefused):
                find_unit(unit, "metric")
        else:
            read_pack(f"1 {unit}", "metric")


def read(data: bytes) -> Invoice:
    invoice = read_document(data).invoice
    assert invoice is not None
    return invoice


def costs(invoice: Invoice) -> list[tuple[str, str]]:
    return [(f"{line.cost:f}", f"{line.tax_pct:f}") for line in invoice.lines]


def test_an_allowance_at_a_rate_that_no_line_has_is_shared_by_all() -> None:
    """4.00 off at 10 %: 2.40, 1.20, 0.40 by nets 60, 30, 10. Leeks 60 + 12 − 2.40 = 69.60.

    Taxed 12 × 20 % − 2.40 × 10 % = 2.16 of 69.60: 3.1034 %. Milk 30 + 6 − 1.20 = 34.80, taxed
    7.20 − 0.12 = 7.08: 20.3448 %. Bunches 10 + 2 − 0.40 = 11.60, taxed 2.40 − 0.04: 20.3448 %.
    """
    amount = (
        '<cbc:Amount currencyID="USD">4.00</cbc:Amount>\n    <cac:TaxCategory><cbc:ID>S</cbc:ID>'
    )
    rate = f"{amount}<cbc:Percent>20<"
    invoice = read(changed(UBL, (rate, rate.replace(">20<", ">10<"))))
    assert costs(invoice) == [
        ("69.6000", "3.1034"), ("34.8000", "20.3448"), ("11.6000", "20.3448"), ("0.0000", "20"),
    ]  # fmt: skip


def test_a_share_that_does_not_come_out_even_is_rounded_at_the_fourth_decimal() -> None:
    """10.00 for delivery over 60, 30 and 0.02: 10 × 60 / 90.02 = 6.66518…, 3.33259…, 0.00222…"""
    data = changed(
        UBL, (">20.00<", ">10.00<"), ('XBH">2<', 'XBH">1<'),
        (">10.00</cbc:Line", ">0.02</cbc:Line"),
        (">5.00<", ">0.02<"), (">100.00<", ">90.02<"), (">116.00<", ">96.02<"),
        (">127.20<", ">107.22<"),
    )  # fmt: skip
    # off the goods at 20 %: 4 × 30 / 30.02 = 3.99734 and 4 × 0.02 / 30.02 = 0.00266
    assert [cost for cost, _ in costs(read(data))] == ["66.6652", "29.3353", "0.0196", "0.0000"]
