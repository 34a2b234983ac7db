"""What each row of a table cost, worked out by pencil."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ingest.brought import PriceLine
from tests.ingest.tables.reading import TOLD, asked, lines, proposed

HEAD = "Datum;Bezeichnung;Menge;Einheit;Einzelpreis;Gesamt\n"


def one(text: str, told: dict[str, str] | None = None) -> PriceLine:
    read = lines(text, told)
    assert read.problems == []
    assert len(read.lines) == 1
    return read.lines[0]


def test_packs_times_price_is_the_total() -> None:
    line = one(HEAD + "13.10.2026;Butter 250 g;2;Stk;2,99;5,98\n")  # 2 × 2.99
    assert (line.price, line.count, line.pack, line.unit) == (Decimal("5.98"), 2, None, "each")
    assert line.words == "Butter 250 g"
    assert line.raw == "13.10.2026;Butter 250 g;2;Stk;2,99;5,98"


def test_weighed_goods_are_one_pack_of_their_weight() -> None:
    line = one(HEAD + "13.10.2026;Bergkäse;0,843;kg;12,90;10,87\n")  # 0.843 × 12.90 = 10.8747
    assert (line.price, line.count, line.pack) == (Decimal("10.87"), 1, "0.843 kg")


def test_a_weight_without_a_total_is_multiplied_and_rounded_to_the_cent() -> None:
    line = one("Datum;Bezeichnung;Menge;Preis/kg\n13.10.2026;Bergkäse;0,843 kg;12,90\n")
    assert (line.price, line.pack) == (Decimal("10.87"), "0.843 kg")  # 10.8747


def test_a_total_that_is_not_count_times_price_counts_and_is_said() -> None:
    read = lines(HEAD + "13.10.2026;Butter;2;Stk;2,99;5,00\n")
    assert read.lines[0].price == Decimal("5.00")
    assert read.remarks == ["1 row whose total is not count × price: the total counts (line 2)."]


def test_a_cent_of_rounding_is_not_said() -> None:
    assert lines(HEAD + "13.10.2026;Butter;3;Stk;1,33;4,00\n").remarks == []  # 3.99


def test_a_price_per_kg_alone_is_that_of_one_kg() -> None:
    line = one("Datum;Artikel;Preis/kg\n13.10.2026;Lauch;3,20\n")
    assert (line.price, line.count, line.pack) == (Decimal("3.20"), 1, "1 kg")


def test_a_price_per_kg_in_the_cell() -> None:
    line = one("Datum;Artikel;Preis\n13.10.2026;Lauch;3,20 €/kg\n")
    assert (line.price, line.pack) == (Decimal("3.20"), "1 kg")


def test_a_price_of_a_unit_in_a_column_beside_it() -> None:
    line = one("Datum;Artikel;Einheit;Preis\n13.10.2026;Lauch;kg;3,20\n")
    assert (line.price, line.pack) == (Decimal("3.20"), "1 kg")


def test_a_unit_price_of_no_stated_unit_is_asked_about() -> None:
    text = "Datum;Artikel;Grundpreis\n13.10.2026;Lauch;3,20\n"
    assert asked(proposed(text)) == ["unit"]
    assert one(text, TOLD | {"unit": "100 g"}).pack == "100 g"


@pytest.mark.parametrize(
    ("heading", "cell", "pack"),
    [
        ("Pack size", "500 g", "500 g"),
        ("Pack size", "6 x 330ml", "6 x 330 ml"),
        ("Inhalt", "0,5 kg", "0.5 kg"),
        ("Gewicht (g)", "500", "500 g"),
        ("Inhalt in ml", "750", "750 ml"),
        ("Contenance", "1,5 L", "1.5 l"),
        ("Opakowanie", "12 szt.", "12 each"),
    ],
)
def test_packs_of_a_column(heading: str, cell: str, pack: str) -> None:
    text = f"Date;Item;{heading};Unit price\n13.10.2026;leek;{cell};1,20\n"
    assert one(text).pack == pack


def test_a_pack_in_two_columns() -> None:
    text = "Date;Item;Inhalt;Einheit;Preis\n13.10.2026;Lauch;500;g;1,20\n"
    line = one(text)
    assert (line.price, line.pack, line.count) == (Decimal("1.20"), "500 g", 1)


def test_a_pack_in_words_that_are_not_read_goes_to_the_words() -> None:
    line = one("Date;Item;Pack size;Unit price\n13.10.2026;leek;3er Bund groß;1,20\n")
    assert (line.words, line.pack) == ("leek 3er Bund groß", None)


def test_the_listed_price_per_kg_beside_a_price_is_kept_in_words() -> None:
    line = one("Date;Item;Price;Price per kg\n13.10.2026;leek 500 g;1.20;2.40\n")
    assert (line.price, line.pack, line.note) == (Decimal("1.20"), None, "2.40 for 1 kg, as listed")


def test_a_reduction_below_an_item_lowers_what_was_paid_for_it() -> None:
    read = lines(
        HEAD + "13.10.2026;Butter;2;Stk;2,99;5,98\n;Rabatt;;;;-0,98\n;Treuerabatt 5%;;;;-0,50\n"
    )
    assert read.lines[0].price == Decimal("5.00")  # 5.98 − 0.98
    assert read.lines[0].note == "reduced by 0.98"
    assert len(read.lines) == 1


@pytest.mark.parametrize("word", ["Remise", "Discount", "Sconto", "Korting", "Desconto", "Rabat"])
def test_words_of_reductions(word: str) -> None:
    read = lines(HEAD + f"13.10.2026;Butter;1;Stk;2,99;2,99\n13.10.2026;{word} Butter;;;;-1,00\n")
    assert [line.price for line in read.lines] == [Decimal("1.99")]


def test_a_reduction_that_is_not_negative_is_a_problem() -> None:
    read = lines(HEAD + "13.10.2026;Butter;1;Stk;2,99;2,99\n;Rabatt;;;;1,00\n")
    assert [problem.line for problem in read.problems] == [3]


def test_sums_deposits_returns_and_titles_are_no_prices() -> None:
    read = lines(
        HEAD + "Molkerei;;;;;\n13.10.2026;Butter;1;Stk;2,99;2,99\n;Zwischensumme;;;;2,99\n"
        "13.10.2026;Pfand;1;Stk;0,25;0,25\n13.10.2026;Apfelsaft;-1;Stk;2,00;-2,00\n"
        "13.10.2026;Gratis;1;Stk;0,00;0,00\nMwSt 7%;;;;;0,20\nSumme EUR;;;;;1.001,24\n"
    )
    assert [line.words for line in read.lines] == ["Butter"]
    assert read.problems == []
    assert read.remarks == [
        "1 row without an item (line 2).",
        "2 rows sums (lines 4, 9).",
        "1 row deposits (line 5).",
        "1 row returned (line 6).",
        "1 row free of charge (line 7).",
        "1 row taxes of the whole (line 8).",
    ]


def test_a_price_on_request_is_none() -> None:
    read = lines(HEAD + "13.10.2026;Butter;1;Stk;2,99;2,99\n13.10.2026;Safran;1;g;auf Anfrage;\n")
    assert read.problems == []
    assert read.remarks == ["1 row without an amount (line 3)."]


def test_a_return_in_brackets_is_below_zero() -> None:
    text = "Date;Item;Price\n2026-10-13;leek;€1.20\n2026-10-13;leek;(€1.20)\n"
    assert lines(text).remarks == ["1 row returned (line 3)."]


def test_an_item_whose_name_begins_like_a_sum_is_an_item() -> None:
    assert one(HEAD + "13.10.2026;Total Joghurt 500 g;1;Stk;2,99;2,99\n").price == Decimal("2.99")


def test_net_prices_carry_the_tax_of_their_column() -> None:
    line = one("Date;Désignation;Prix HT;TVA\n13/10/2026;Beurre;4,20;5,5 %\n")
    assert (line.price, line.tax_pct) == (Decimal("4.20"), Decimal("5.5"))


def test_gross_prices_carry_no_tax() -> None:
    line = one("Date;Désignation;Prix TTC;TVA\n13/10/2026;Beurre;4,20;5,5 %\n")
    assert line.tax_pct is None


def test_the_price_that_is_paid_is_taken_of_net_and_gross() -> None:
    line = one("Date;Désignation;Prix HT;Prix TTC\n13/10/2026;Beurre;4,00;4,22\n")
    assert (line.price, line.tax_pct) == (Decimal("4.22"), None)


def test_a_rate_in_the_heading_is_the_tax_of_every_row() -> None:
    line = one("Datum;Artikel;Preis netto (zzgl. 7 % MwSt)\n13.10.2026;Butter;2,00\n")
    assert line.tax_pct == Decimal(7)


def test_prices_beside_a_tax_are_asked_about_where_nothing_says_net_or_gross() -> None:
    text = "Datum;Artikel;Preis;MwSt\n13.10.2026;Butter;2,00;7 %\n"
    assert asked(proposed(text)) == ["tax"]
    assert one(text, TOLD | {"tax": "net"}).tax_pct == Decimal(7)
    assert one(text, TOLD | {"tax": "gross"}).tax_pct is None


def test_a_total_with_its_tax_beside_a_net_price_is_not_taxed_twice() -> None:
    # 2 × 1.50 = 3.00 net; with 7 % 3.21
    text = "Datum;Artikel;Menge;Einzelpreis netto;MwSt;Gesamt\n13.10.2026;Butter;2;1,50;7 %;3,21\n"
    line = one(text)
    assert (line.price, line.tax_pct) == (Decimal("3.21"), None)


def test_item_numbers_and_gtins_are_kept() -> None:
    # 6291041500213 is the worked example of GS1's page on check digits
    text = "Datum;Art.-Nr.;EAN;Artikel;Preis\n13.10.2026;A-17;6291041500213;Lauch;1,20\n"
    line = one(text)
    assert (line.item_number, line.gtin) == ("A-17", "6291041500213")


def test_a_wrong_check_digit_is_no_gtin() -> None:
    text = (
        "Datum;EAN;Artikel;Preis\n13.10.2026;6291041500213;Lauch;1,20\n"
        "13.10.2026;6291041500212;Reis;1,20\n"
    )
    assert [line.gtin for line in lines(text).lines] == ["6291041500213", None]


def test_a_currency_column_is_read_row_by_row() -> None:
    text = "Date;Item;Price;Currency\n2026-10-12;leek;1.20;GBP\n2026-10-12;rice;2.00;EUR\n"
    assert [line.currency for line in lines(text).lines] == ["GBP", "EUR"]


@pytest.mark.parametrize(
    ("row", "column", "found"),
    [
        ("soon;leek;1.20", "Date", "'soon'"),
        ("2026-10-12;leek;dear", "Price", "'dear'"),
        (";leek;1.20", "Date", "an empty cell"),
        ("2026-10-12;leek;1,2,3.4", "Price", "'1,2,3.4'"),
    ],
)
def test_a_cell_that_cannot_be_read_has_its_line_and_column(
    row: str, column: str, found: str
) -> None:
    read = lines(f"Date;Item;Price\n2026-10-12;rice;1.25\n2026-10-12;salt;0.50\n{row}\n")
    assert [(each.line, each.column, each.found) for each in read.problems] == [(4, column, found)]


@pytest.mark.parametrize(
    "written",
    ["3. Okt. 2026", "3 octobre 2026", "Oct 3, 2026", "3 de octubre de 2026", "3 ottobre 2026",
     "3 okt 2026", "3 października 2026", "2026-10-03", "20261003", "2026-10-03 14:05",
     "Sa, 3. Oktober 2026"],
)  # fmt: skip
def test_dates_with_the_names_of_months(written: str) -> None:
    read = lines(f'Date;Item;Price\n"{written}";leek;1.20\n')
    assert [line.day.isoformat() for line in read.lines] == ["2026-10-03"]


def test_formula_text_in_a_name_stays_text() -> None:
    assert one('Date;Item;Price\n2026-10-12;"=HYPERLINK(1)";1.20\n').words == "=HYPERLINK(1)"
