"""The small invented documents of these tests, and PDFs that carry them."""

from __future__ import annotations

import io
from collections.abc import Mapping
from pathlib import Path

from pypdf import PdfWriter

from ingest.load import FileReport, load_bytes
from pricing.book.connect import Book
from tests.kitchen import TODAY

FOLDER = Path(__file__).parent / "documents"
UBL = (FOLDER / "ubl_invoice.xml").read_bytes()
CREDIT_NOTE = (FOLDER / "ubl_credit_note.xml").read_bytes()
CII = (FOLDER / "cii_invoice.xml").read_bytes()


def pdf(files: Mapping[str, bytes], password: str | None = None, *, owner: str = "owner") -> bytes:
    """Return a PDF of one blank page that carries these files; `password` is needed to open it."""
    writer = PdfWriter()
    writer.add_blank_page(width=200, height=200)
    for name, data in files.items():
        writer.add_attachment(name, data)
    if password is not None:
        writer.encrypt(user_password=password, owner_password=owner, algorithm="RC4-128")
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def load_invoice(book: Book, data: bytes, name: str = "upload", **options: bool) -> FileReport:
    """Load a document as an upload; its name says nothing."""
    return load_bytes(book, "prices", name, data, today=TODAY, **options)


def changed(data: bytes, *changes: tuple[str, str]) -> bytes:
    """Return a document with texts in place of others, each of which it has."""
    text = data.decode()
    for before, after in changes:
        assert before in text, before
        text = text.replace(before, after)
    return text.encode()
