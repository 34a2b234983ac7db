"""A file that a reader chose, or text that was pasted, and how it is to be loaded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ingest.load import FileReport, load_bytes
from pricing.book.connect import Book


@dataclass(frozen=True, kw_only=True)
class ChosenFile:
    """A file that a reader chose, and how it is to be loaded, as `load_bytes` has it."""

    kind: str
    name: str
    data: bytes
    replace: bool = False
    unusual: bool = False
    series: tuple[str, ...] = ()
    title: str | None = None

    def load_into(self, book: Book, *, today: date, dry_run: bool = False) -> FileReport:
        """Load it, or in a dry run say what that would do."""
        return load_bytes(
            book, self.kind, self.name, self.data, today=today, dry_run=dry_run,
            replace=self.replace, accept_unusual=self.unusual, series=self.series,
            title=self.title,
        )  # fmt: skip
