"""Reads an e-invoice, whatever its syntax and whether it lies inside a PDF."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ingest.invoices.cii import PATHS as CII
from ingest.invoices.cost import with_costs
from ingest.invoices.document import Invoice
from ingest.invoices.elements import Elements, local_name
from ingest.invoices.pdf import files_inside
from ingest.invoices.recognise import is_pdf, is_xml
from ingest.invoices.terms import read_terms
from ingest.invoices.ubl import PATHS as UBL
from ingest.invoices.xml_tree import NoInvoice, parse
from ingest.text.sentences import quoted
from pricing.errors import Problem

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_EXPECTED = "an e-invoice of EN 16931: UBL 2.1 or UN/CEFACT CII"
_REMEDY = "Ask the sender for an e-invoice, or log its prices by hand."


@dataclass(frozen=True, kw_only=True)
class Document:
    """A file that is an e-invoice, or may have been meant as one."""

    form: str | None  # ubl, cii, pdf-ubl or pdf-cii; None where it holds none
    invoice: Invoice | None = None  # None where there are problems
    problems: tuple[Problem, ...] = ()


def read_document(data: bytes) -> Document:
    """Return the invoice in a file that `is_document`, or every reason that it cannot be read."""
    try:
        if is_pdf(data):
            form, root = _inside(files_inside(data))
        else:
            root = parse(data)
            form = _form(root) or ""
            if not form:
                raise NoInvoice(f"XML that begins with {_name(root)}", _EXPECTED, _REMEDY)
    except NoInvoice as error:
        return Document(form=None, problems=(error.problem,))
    elements = Elements()
    invoice = read_terms(root, (UBL | CII)[root.tag], elements)
    if elements.problems:
        return Document(form=form, problems=tuple(elements.problems))
    return Document(form=form, invoice=with_costs(invoice))


def _inside(files: Sequence[bytes]) -> tuple[str, Element]:
    """Return the one invoice among the files of a PDF. Raises NoInvoice."""
    found: list[tuple[str, Element]] = []
    for data in files:
        if not is_xml(data):
            continue
        root = parse(data)
        if form := _form(root):
            found.append((f"pdf-{form}", root))
    if len(found) == 1:
        return found[0]
    if found:
        raise NoInvoice(
            f"a PDF with {len(found)} e-invoices inside",
            "one",
            "Save each of them as a file of its own, and load those.",
        )
    raise NoInvoice("a PDF without an e-invoice inside", _EXPECTED, _REMEDY)


def _form(root: Element) -> str | None:
    if root.tag in UBL:
        return "ubl"
    return "cii" if root.tag in CII else None


def _name(root: Element) -> str:
    return quoted(local_name(root))
