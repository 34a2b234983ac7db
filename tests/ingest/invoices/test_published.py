"""The example documents published with EN 16931: what we read adds up to their own totals."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from ingest.invoices.document import Invoice
from ingest.invoices.read import read_document

# Published with the validation artefacts of EN 16931 (EUPL 1.2), in both its syntaxes; SOURCE.md
# is there. One is named RoundingIssue: its sums fail in binary fractions, not in decimals.
FOLDER = Path(__file__).parents[4] / "shared" / "reference" / "en16931"
FILES = sorted(FOLDER.glob("*.[xX][mM][lL]"))
CENT = Decimal("0.01")
# Forints are paid whole: its tax of 27 % on 69,180.00, which is 18,678.60, is stated as 18,679.00
WHOLE = {"cii_huf_example_cii.xml": Decimal(1)}
pytestmark = pytest.mark.skipif(not FILES, reason="the published documents are not here")


def read(path: Path) -> Invoice:
    document = read_document(path.read_bytes())
    assert document.problems == ()
    assert document.form == path.name.partition("_")[0]
    assert document.invoice is not None
    return document.invoice


def test_all_seventeen_are_here() -> None:
    assert len(FILES) == 17


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_our_lines_allowances_charges_and_tax_are_its_totals(path: Path) -> None:
    invoice = read(path)
    lines = sum((line.net for line in invoice.lines), Decimal(0))
    assert abs(lines - invoice.lines_net) < CENT
    shared = sum((each.amount for each in invoice.shared), Decimal(0))
    assert abs(shared - (invoice.charges - invoice.allowances)) < CENT
    assert abs(lines + shared - invoice.net) < CENT
    assert abs(invoice.net + invoice.tax - invoice.total) < CENT


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_what_its_lines_cost_with_tax_is_its_total(path: Path) -> None:
    invoice = read(path)
    costs = sum((Fraction(line.cost or 0) for line in invoice.lines), Fraction(0))
    assert abs(costs - Fraction(invoice.net)) < CENT
    paid = sum(
        (
            Fraction(line.cost or 0) * (1 + Fraction(line.tax_pct or 0) / 100)
            for line in invoice.lines
        ),
        Fraction(0),
    )
    assert abs(paid - Fraction(invoice.total)) < WHOLE.get(path.name, CENT)


@pytest.mark.parametrize(
    ("name", "told"),
    [  # read off the documents with the eye
        (
            "ubl_ubl-tc434-creditnote1.xml",
            ("018304 / 28865", "My Supplier Company", "EUR", "-100.11"),
        ),
        ("ubl_ubl-tc434-example5.xml", ("TOSL110", "SellerCompany", "DKK", "2337.50")),
        ("cii_CII_example9.xml", ("20150483", "Bluem BV", "EUR", "177.87")),
        (
            "cii_huf_example_cii.xml",
            ("21/001003559/996", "DKV Euro Service GmbH + Co. KG", "HUF", "87859.00"),
        ),
    ],
)
def test_what_stands_at_head_and_foot(name: str, told: tuple[str, str, str, str]) -> None:
    invoice = read(FOLDER / name)
    found = (invoice.number, invoice.supplier, invoice.currency, f"{invoice.payable:f}")
    assert found == told
