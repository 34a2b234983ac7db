"""Finds the XML that a PDF carries inside it (Factur-X, ZUGFeRD), by what it is, not its name."""

from __future__ import annotations

import io
import itertools
import logging
from collections.abc import Iterator

from pypdf import PdfReader
from pypdf.errors import DependencyError, LimitReachedError, PyPdfError

from ingest.invoices.xml_tree import NoInvoice

LARGEST_PDF = 200 * 1024 * 1024  # bytes
MOST_INSIDE = 50  # files looked at
# What pypdf raises on damaged files, besides its own errors: it takes their words as given.
_DAMAGED = (
    ArithmeticError, AssertionError, AttributeError, LookupError, NotImplementedError, OSError,
    RecursionError, TypeError, ValueError,
)  # fmt: skip


def files_inside(data: bytes) -> list[bytes]:
    """Return the files that a PDF carries, at most `MOST_INSIDE`. Raises NoInvoice."""
    if len(data) > LARGEST_PDF:
        raise NoInvoice(
            f"a PDF of {len(data) // (1024 * 1024)} MB",
            f"at most {LARGEST_PDF // (1024 * 1024)} MB",
            "Check that it is an invoice.",
        )
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)  # what matters is said in one sentence
    try:
        return list(itertools.islice(_contents(data), MOST_INSIDE))
    except LimitReachedError:
        raise NoInvoice(
            "a PDF with a file inside that grows without end when it is unpacked",
            "an invoice",
            "Ask the sender for the XML file alone.",
        ) from None
    except (PyPdfError, DependencyError, *_DAMAGED):
        raise NoInvoice(
            "a PDF that is damaged or not whole",
            "a PDF that can be opened",
            "Download it again, or ask the sender for the XML file alone.",
        ) from None


def _contents(data: bytes) -> Iterator[bytes]:
    reader = PdfReader(io.BytesIO(data))
    if reader.is_encrypted and not _opened(reader):
        raise NoInvoice(
            "a PDF with a password",
            "a PDF that opens without one",
            "Open it, save it again without its password, and load that.",
        )
    for inside in reader.attachment_list:
        yield inside.content


def _opened(reader: PdfReader) -> bool:
    """Tell whether it opens without a password; many are only locked against changes."""
    try:
        return bool(reader.decrypt(""))
    except (PyPdfError, DependencyError):
        return False
