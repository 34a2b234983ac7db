"""Decisions made on a page: the same columns and the same checks as a file of decisions."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from datetime import date

from ingest.kinds.checked import Options
from ingest.one_file import Incoming, take
from ingest.report import FileReport
from ingest.text.columns import TABLES
from pricing.book.connect import Book

NAME = "the tray"  # of such a load, where a file has its name
FIRST_LINE = 2  # of the decisions, by which problems name them


def decide(
    book: Book, decisions: Sequence[Mapping[str, str]], *, today: date, accept_unusual: bool = False
) -> FileReport:
    """Store decisions as one load; each maps columns of a decisions file to its texts.

    A decision that a check refuses is left out with its problems, whose line is its place among
    the decisions and FIRST_LINE; each of the others is settled whole. A decision on words decided
    before takes the place of the former one. Raises BookUnreadable.
    """
    options = Options(today=today, replace=True, accept_unusual=accept_unusual)
    file = Incoming(shown=NAME, name=NAME, data=_as_csv(decisions), numbered=False)
    return take(book, "decisions", file, options, dry_run=False, skip_bad=True)


def _as_csv(decisions: Sequence[Mapping[str, str]]) -> bytes:
    out = io.StringIO()
    rows = csv.DictWriter(
        out, [each.name for each in TABLES["decisions"]], restval="", lineterminator="\n"
    )
    rows.writeheader()
    rows.writerows(decisions)
    return out.getvalue().encode()
