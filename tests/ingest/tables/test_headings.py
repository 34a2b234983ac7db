"""What headings say, in nine languages, and what is evidence in them."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ingest.tables.headings import heading_says
from ingest.tables.layout import MEANINGS
from ingest.tables.words import headings

LANGUAGES = {
    "en": ("Purchase Date", "Item description", "Qty", "Unit price", "Line total", "Supplier"),
    "fr": ("Date d'achat", "Désignation", "Qté", "Prix unitaire", "Montant", "Fournisseur"),
    "de": ("Kaufdatum", "Artikelbezeichnung", "Menge", "Einzelpreis", "Gesamtpreis", "Lieferant"),
    "es": ("Fecha", "Descripción", "Cantidad", "Precio unitario", "Importe", "Proveedor"),
    "it": ("Data", "Descrizione", "Quantità", "Prezzo unitario", "Importo", "Fornitore"),
    "nl": ("Datum", "Omschrijving", "Aantal", "Stuksprijs", "Totaal", "Leverancier"),
    "pt": ("Data", "Descrição", "Quantidade", "Preço unitário", "Montante", "Fornecedor"),
    "pl": ("Data zakupu", "Nazwa towaru", "Ilość", "Cena jednostkowa", "Wartość", "Dostawca"),
    "sv": ("Köpdatum", "Benämning", "Antal", "Styckpris", "Belopp", "Leverantör"),
}
SIX = ("date", "words", "count", "price", "total", "supplier")


@pytest.mark.parametrize("language", LANGUAGES)
def test_six_headings_of_each_language(language: str) -> None:
    said = [heading_says(heading) for heading in LANGUAGES[language]]
    assert tuple(each.meanings[0] for each in said) == SIX
    assert all(each.whole for each in said)
    shouted = [heading_says(heading.upper()) for heading in LANGUAGES[language]]
    assert tuple(each.meanings[0] for each in shouted) == SIX


def test_every_meaning_of_the_reference_table_is_one_we_read() -> None:
    meanings = {each.partition(":")[0] for many in headings().values() for each in many}
    assert meanings - {"net", "gross"} <= set(MEANINGS)
    assert set(MEANINGS) - meanings == set()


@pytest.mark.parametrize(
    ("heading", "meaning", "per", "currency", "tax"),
    [
        ("Preis/kg", "unit_price", "1 kg", None, None),
        ("€/kg", "unit_price", "1 kg", "€", None),
        ("Price per 100 g (£)", "unit_price", "100 g", "£", None),
        ("Prix HT", "price", None, None, "net"),
        ("Prix unitaire TTC (EUR)", "price", None, "EUR", "gross"),
        ("Nettopreis", "price", None, None, "net"),
        ("Cena brutto [zł]", "price", None, "zł", "gross"),
        ("Pris exkl. moms", "price", None, None, "net"),
        ("Prezzo IVA inclusa", "price", None, None, "gross"),
        ("Totaal incl. BTW", "total", None, None, "gross"),
        ("Gewicht (g)", "pack", "1 g", None, None),
        ("Kilopris", "unit_price", "1 kg", None, None),
        ("Verkaufspreis", "price", None, None, None),
    ],
)
def test_unit_currency_and_tax_in_a_heading_are_kept(
    heading: str, meaning: str, per: str | None, currency: str | None, tax: str | None
) -> None:
    said = heading_says(heading)
    assert (said.meanings[0], said.per, said.currency, said.tax) == (meaning, per, currency, tax)


def test_a_rate_beside_a_tax_word_is_kept() -> None:
    assert heading_says("Preis netto (zzgl. 7 % MwSt)").rate == Decimal(7)


def test_a_heading_of_unknown_words_says_nothing() -> None:
    assert heading_says("Zorvik").meanings == ()
    assert heading_says("12.90").meanings == ()
