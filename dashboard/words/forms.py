"""Says in which form a file came, by the code of its report."""

from __future__ import annotations

_FORMS = {
    "own": "a table with this program's own columns",
    "table": "a table with columns of its own",
    "workbook": "a workbook",
    "ubl": "an e-invoice (UBL)",
    "cii": "an e-invoice (CII)",
    "pdf-ubl": "a PDF with an e-invoice inside (UBL)",
    "pdf-cii": "a PDF with an e-invoice inside (CII)",
    "till": "the text of a till receipt",
    "till-text": "the text of a till receipt",
    "recipe-page": "a saved page or data file with recipes",
    "recipe-text": "recipes written as text",
}


def form_words(form: str | None) -> str:
    """Return how a file was read, as a sentence; "" where its form was not recognised.

    >>> form_words("ubl"), form_words(None)
    ('Read as an e-invoice (UBL).', '')
    """
    if not form:
        return ""
    return f"Read as {_FORMS.get(form, form)}."
