"""Loads a pandas DataFrame with our own columns, checked and reported as a CSV file would be."""

from __future__ import annotations

import csv
import io
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace as changed
from datetime import date, datetime, time
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from ingest.kinds.checked import Options
from ingest.one_file import Incoming, table_of, take
from ingest.report import FileReport
from ingest.text.columns import TABLES
from ingest.text.csv_text import Sheet, read_sheet
from ingest.text.read_file import ReadFile, read_columns
from ingest.text.readers import month
from pricing.book.connect import Book
from pricing.clock import today as clock_today
from pricing.errors import InputRefused
from pricing.names import name_key

if TYPE_CHECKING:
    import pandas as pd

_NAME = "frame"  # of the file that it stands for
FORM = "frame"


def load_frame(
    book: Book,
    kind: str,
    frame: pd.DataFrame,
    *,
    today: date | None = None, dry_run: bool = False, skip_bad: bool = False,
    replace: bool = False, accept_unusual: bool = False,
) -> FileReport:  # fmt: skip
    """Load a frame with the columns of a kind, as `load_file` loads a CSV file of them.

    The header counts as line 1, so that a problem in row n (from 0) is one of line n + 2; the
    index is not read. A date may be a date, a datetime at midnight or text; an amount a Decimal,
    an int, text, or a float, which counts with all of its digits: 0.1 + 0.2 is refused where four
    decimals are the most. None, NaN and NaT are empty cells. Refused rows are in `refused_text`.
    Raises InputRefused for an unknown kind or what is no frame, and BookUnreadable.
    """
    kind = table_of(kind)
    data, starts = _as_csv(kind, frame)
    options = Options(
        today=today or clock_today(), replace=replace, accept_unusual=accept_unusual, told={}
    )
    sheet = read_sheet(data)
    read = read_columns(kind, _numbered(sheet, starts)) if isinstance(sheet, Sheet) else sheet
    if not isinstance(read, ReadFile):
        lined = [
            each if each.line is None else changed(each, line=_row(starts, each.line))
            for each in read
        ]
        return changed(FileReport.refused(_NAME, lined), form=FORM)
    file = Incoming(shown=_NAME, name=_NAME, data=data, read=read)
    report = take(book, kind, file, options, dry_run=dry_run, skip_bad=skip_bad)
    return changed(report, form=FORM)


def _as_csv(kind: str, frame: Any) -> tuple[bytes, list[int]]:
    """Return the frame as a file, and the physical line on which each of its rows starts."""
    import pandas as pd

    if not isinstance(frame, pd.DataFrame):
        raise InputRefused(
            f"Found {type(frame).__name__}; expected a pandas DataFrame. "
            "Make one, with the columns of the kind of file."
        )
    months = {column.name for column in TABLES[kind] if column.reader is month}
    names = [str(name) for name in frame.columns]
    columns = [
        [
            _cell(value, in_months=name_key(name) in months)
            for value in _values(frame.iloc[:, place])
        ]
        for place, name in enumerate(names)
    ]
    out = io.StringIO(newline="")
    # all in quotation marks, so that a blank row keeps its line and a line end stays in its cell
    writer = csv.writer(out, lineterminator="\n", quoting=csv.QUOTE_ALL)
    starts, line = [], 1
    for cells in [names, *map(list, zip(*columns, strict=True))]:
        starts.append(line)
        writer.writerow(cells)
        line += 1 + sum(map(_line_ends, cells))
    return out.getvalue().encode("utf-8", "replace"), starts


def _values(column: Any) -> Any:
    """Return the cells of a column; a float of half the size keeps its own few digits."""
    return column.to_numpy() if column.dtype == "float32" else column


def _line_ends(cell: str) -> int:
    return cell.count("\n") + cell.count("\r") - cell.count("\r\n")


def _numbered(sheet: Sheet, starts: Sequence[int]) -> Sheet:
    """Return a sheet whose lines are those of the frame's rows, whatever their cells hold."""
    if len(starts) == starts[-1]:
        return sheet
    rows = tuple(changed(row, line=_row(starts, row.line)) for row in sheet.rows)
    return changed(sheet, rows=rows)


def _row(starts: Sequence[int], line: int) -> int:
    return bisect_right(starts, line)


def _cell(value: Any, *, in_months: bool) -> str:
    """Return the text of a cell as a CSV file would have it.

    >>> import datetime
    >>> _cell(datetime.datetime(2026, 11, 24), in_months=False), _cell(1.5, in_months=False)
    ('2026-11-24', '1.5')
    """
    import numpy as np
    import pandas as pd

    if isinstance(value, str):
        return value
    if value is None or (pd.api.types.is_scalar(value) and pd.isna(value)):
        return ""
    if isinstance(value, bool | np.bool_):
        return "yes" if value else "no"
    if isinstance(value, date):
        if in_months:
            return f"{value:%Y-%m}"
        midnight = isinstance(value, datetime) and value.time() == time.min
        return value.isoformat()[:10] if midnight else value.isoformat()
    if isinstance(value, float | np.floating | Decimal):
        exact = Decimal(str(value))  # the shortest digits that are this number
        whole = exact.is_finite() and exact == exact.to_integral_value()
        return f"{exact.to_integral_value() if whole else exact:f}"
    return str(value)
