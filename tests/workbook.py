"""Writes workbooks for tests."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from openpyxl import Workbook


def workbook(rows: Sequence[Sequence[Any]], **more: Sequence[Sequence[Any]]) -> bytes:
    """Return an XLSX of a sheet with these rows, and of more sheets by their names."""
    book = Workbook()
    for sheet, cells in zip(
        [book.active, *map(book.create_sheet, more)], [rows, *more.values()], strict=True
    ):
        for row in cells:
            sheet.append(list(row))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
