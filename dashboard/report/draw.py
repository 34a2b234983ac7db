"""Which file a report becomes, by the ending of its name."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from dashboard.words.document import Document
from dashboard.words.report import report_document

if TYPE_CHECKING:
    from pricing.report.records import Report


def draw_report(found: Report, ending: str) -> bytes:
    """Return the bytes of the report's file. The same report gives the same bytes."""
    return DRAWN[ending](found)


def draw_document(document: Document, ending: str) -> bytes:
    """Return the bytes of a document's file: .html or .md."""
    return DOCUMENTS[ending](document)


def _html(document: Document) -> bytes:
    from dashboard.report.html import draw_html

    return draw_html(document).encode()


def _markdown(document: Document) -> bytes:
    from dashboard.report.markdown import draw_markdown

    return draw_markdown(document).encode()


def _workbook(found: Report) -> bytes:
    from dashboard.report.workbook import draw_workbook

    return draw_workbook(found, report_document(found))


def _pdf(found: Report) -> bytes:
    from dashboard.report.html import draw_html
    from dashboard.report.pdf import draw_pdf

    return draw_pdf(draw_html(report_document(found)))


DOCUMENTS: dict[str, Callable[[Document], bytes]] = {".html": _html, ".md": _markdown}
DRAWN: dict[str, Callable[[Report], bytes]] = {
    ".html": lambda found: _html(report_document(found)),
    ".md": lambda found: _markdown(report_document(found)),
    ".xlsx": _workbook,
    ".pdf": _pdf,
}
