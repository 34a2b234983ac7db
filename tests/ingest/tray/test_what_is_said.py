"""What a load says: of files that are no table, of things done only once they are stored."""

from __future__ import annotations

import csv
import io
from datetime import date

import pytest

from ingest.load import FileReport, load_bytes
from ingest.tray.decisions_file import decisions_csv
from ingest.tray.listing import list_tray
from pricing.book.connect import Book
from tests.kitchen import TODAY, load
from tests.loading import ask, only
from tests.workbook import workbook

GOODS = "Datum;Artikel;Menge;Preis;Gesamt;Inhalt\n"
ROW = "13.10.2026;Zorvik;4;2,29;9,16;250 g\n"
RECIPE = (
    "Tomato rice\n\nServes 4\n\n300 g rice\n1 onion, chopped\n\nMethod\n1. Fry for 5 minutes.\n"
)
TORN = (
    "ORLOP SHOP\nDatum 14.11.2026  Uhrzeit 10:12\nZWIEBELN 1KG        1,49 A\nKNOBLAUCH\n"
    "  2 x 0,60          1,20 A\nBU"
)


def bring(book: Book, text: str | bytes, kind: str = "prices", **more: bool) -> FileReport:
    data = text if isinstance(text, bytes) else text.encode()
    return load_bytes(book, kind, "file.txt", data, today=TODAY, **more)


@pytest.mark.parametrize(
    ("text", "kind", "found"),
    [
        ("Dear chef, please find the prices next week.", "prices", "a text that begins with 'Dear"),
        (RECIPE, "prices", "a recipe, 'Tomato rice'"),
        (RECIPE, "printed", "a recipe, 'Tomato rice'"),
        (TORN, "prices", "a receipt that breaks off before its total"),
    ],
)
def test_what_is_no_table_is_named_and_nothing_is_asked(
    book: Book, text: str, kind: str, found: str
) -> None:
    report = bring(book, text, kind)
    assert only(report).found.startswith(found)
    assert (report.questions, report.remarks) == ((), ())


def test_a_table_without_prices_is_told_both_ways(book: Book) -> None:
    problem = only(bring(book, "Date,Product,Remark\n2026-11-13,Zorvik,fine\n"))
    assert "none of which holds amounts" in problem.found
    assert "our own columns (ingredient, date, price, currency, pack)" in problem.expected
    assert "a column of descriptions and one of prices" in problem.expected


def test_a_question_is_found_to_be_open(book: Book) -> None:
    text = "Date,Article,Price\n03/10/2026,Zorvik,1.20\n"
    said = only(bring(book, text)).sentence()
    assert said.startswith("found one thing that the table does not say. Which comes first in")
    assert "expected an answer, once for all tables with the same headings." in said


def test_nothing_is_said_to_be_done_of_a_refused_file(book: Book) -> None:
    refused = bring(book, f"{GOODS}{ROW}xx;Qlp;1;1,00;1,00;250 g\n")
    assert len(refused.problems) == 1
    assert not any("wait" in each or "later tables" in each for each in refused.remarks)
    taken = bring(book, f"{GOODS}{ROW}")
    assert any("1 line waits for a decision" in each for each in taken.remarks)
    assert any("later tables with these headings will be" in each for each in taken.remarks)


def test_a_dry_run_says_what_would_be_done(book: Book) -> None:
    said = bring(book, f"{GOODS}{ROW}", dry_run=True).remarks
    assert "1 line would wait for a decision (1 description)." in said
    assert any(each.startswith("Its columns would be read so") for each in said)
    bring(book, f"{GOODS}{ROW}")
    decisions = "words,ingredient\nZorvik,barley\n"
    said = load(book, "decisions", decisions, dry_run=True).remarks
    assert "1 line of the tray would be settled: 1 new price." in said
    said = load(book, "decisions", f"{decisions}Qlp,leak\n").remarks
    assert not any("settled" in each for each in said)
    said = load(book, "decisions", decisions).remarks
    assert "1 line of the tray settled: 1 new price." in said


def test_the_preview_says_for_how_many(book: Book) -> None:
    """9.16 is paid for 4 of 250 g; without the 4 it would look like one dear pack."""
    text = f"{GOODS.replace('Datum', 'Tag')}{ROW.replace('13.10', '03.10')}"
    (said,) = bring(book, text).preview
    assert "9.16 USD for 4 of 250 g, 2026-10-03." in said


def test_a_price_whose_pack_lacks_a_fact_waits_and_the_rest_is_settled(book: Book) -> None:
    """Syrup is counted in ml and has no density: 200 g of it say no price, and refuse nothing."""
    text = "Datum;Artikel;Preis;Inhalt\n13.10.2026;Zorvik;1,20;200 g\n13.10.2026;Qlp;2,00;1 kg\n"
    bring(book, text)
    decisions = "words,ingredient\nZorvik,syrup\nQlp,barley\n"
    report = load(book, "decisions", decisions)
    assert (report.problems, report.added) == ((), 2)
    assert (
        "'Zorvik' of 2026-10-13 still waits: 200 g of syrup needs its density_g_per_ml. Load that "
        "first, then the decision again."
    ) in report.remarks
    assert [each.words for each in list_tray(book, TODAY)] == ["Zorvik"]
    load(book, "ingredients", "ingredient,base,density_g_per_ml\nsyrup,ml,1.3\n", replace=True)
    assert load(book, "decisions", decisions).problems == ()
    assert list_tray(book, TODAY) == ()


def test_a_thing_without_a_pack_is_proposed_by_the_piece_behind_those_that_know(book: Book) -> None:
    till = (
        "ORLOP SHOP\nDatum 14.11.2026\nKNOBLAUCH           1,20 A\nZWIEBELN 1KG        1,49 A\n"
        "SUMME               2,69\n"
    )
    assert bring(book, till).waiting == 2
    rows = list(csv.DictReader(io.StringIO(decisions_csv(book, list_tray(book, TODAY)))))
    assert [(each["words"], each["base"]) for each in rows] == [
        ("ZWIEBELN 1KG", "g"), ("KNOBLAUCH", "each"),
    ]  # fmt: skip
    assert rows[1]["ingredient"] == ""  # a habit alone decides nothing unseen
    assert "names no pack and no weight" in rows[1]["why"]
    rows[0]["ingredient"], rows[1]["ingredient"] = "onion", "garlic"
    out = io.StringIO()
    filled = csv.DictWriter(out, rows[0].keys())
    filled.writeheader()
    filled.writerows(rows)
    report = load(book, "decisions", out.getvalue())
    assert (report.problems, report.added) == ((), 2)


def test_all_that_a_line_lacks_is_said_at_once(book: Book) -> None:
    """A leaf of syrup, counted in ml, has neither a weight nor syrup a density."""
    load(book, "decisions", "words,ingredient\ntreacle,syrup\n")
    report = bring(book, "Syrup pie\nServes 4\n\n2 leaves treacle\n500 g leeks\n", "dishes")
    said = next(each for each in report.remarks if "waits: to count it" in each)
    assert "measure" in said
    assert "and its density_g_per_ml" in said


def test_titles_above_a_table_tell_tax_and_currency(book: Book) -> None:
    head = ["Nr.", "Bezeichnung", "Inhalt", "Preis", "MwSt %", "Datum"]
    rows = [
        ["alle Preise netto in EUR, zzgl. MwSt."], head,
        ["1001", "leek", "1 kg", 2.0, 7, date(2026, 11, 3)],
        ["Summe", "", "", 2.0, "", ""],
    ]  # fmt: skip
    report = bring(book, workbook(rows))
    assert (report.problems, report.added) == ((), 1)
    title = "Above the table stands 'alle Preise netto in EUR, zzgl. MwSt.': "
    assert f"{title}prices are before tax." in report.remarks
    assert f"{title}the amounts are in EUR." in report.remarks
    assert "1 row sums (line 4)." in report.remarks
    found = ask(book, "SELECT price, currency, tax_pct FROM observation")
    assert [(float(price), currency, float(tax)) for price, currency, tax in found] == [
        (2.0, "EUR", 7.0)
    ]
    rows[0] = ["alle Preise brutto in EUR, inkl. MwSt."]
    assert [each.name for each in bring(book, workbook(rows)).questions] == ["tax"]


def test_a_date_ahead_says_that_it_lies_ahead(book: Book) -> None:
    problem = only(bring(book, f"{GOODS}{ROW}{ROW.replace('2026', '2099')}"))
    assert problem.found == "'13.10.2099', which lies ahead"


@pytest.mark.parametrize(("cell", "amount"), [("ca. 0,95", 0.95), ("about 1.234,50", 1234.5)])
def test_a_printed_amount_in_a_table_keeps_its_words(book: Book, cell: str, amount: float) -> None:
    text = f"Gericht;Datum;Kosten pro Portion\nstock;13.03.2019;1,35\nstock;12.03.2019;{cell}\n"
    report = bring(book, text, "printed")
    assert report.problems == (), [each.sentence() for each in report.problems]
    found = ask(
        book,
        "SELECT cost_per_portion, as_printed FROM printed_figure f JOIN printed_detail d "
        "ON d.figure_row = f.row_id WHERE published_on = '2019-03-12'",
    )
    ((held, words),) = found
    assert float(held) == amount
    assert words.startswith(cell.split()[0])
