"""Draws a page as a PDF to print, by WeasyPrint: text that can be searched and copied."""

from __future__ import annotations

from typing import Any

from pricing.errors import InputRefused


def draw_pdf(page: str) -> bytes:
    """Return the page in HTML as a PDF. Raises InputRefused where WeasyPrint cannot run here."""
    try:
        import weasyprint
    except (ImportError, OSError):  # OSError: the library Pango is not there
        raise InputRefused(
            "Cannot draw a PDF here: WeasyPrint, or the library Pango that it draws with, is not "
            "installed. Install portiondrift[pdf] and Pango, or write .html and print it from a "
            "browser."
        ) from None

    def from_nowhere(url: str, *_: Any, **__: Any) -> Any:
        raise ValueError(f"a report asks for nothing from elsewhere: {url}")

    drawn = weasyprint.HTML(string=page, url_fetcher=from_nowhere).write_pdf()
    return bytes(drawn)
