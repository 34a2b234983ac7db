"""What came of loading one file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from pricing.errors import Problem


@dataclass(frozen=True, kw_only=True)
class FileReport:
    """The outcome of one file; `added` and `already` count data rows."""

    file: str  # as the user named it
    batch: int | None  # None when nothing was stored
    added: int  # in a dry run: what would be added
    already: int  # in the book before, or on an earlier row of the file
    problems: tuple[Problem, ...]
    refused_file: str | None = None  # path of the file with the refused rows, under skip_bad
    refused_text: str | None = None  # what it holds; also when there is no folder to write it to
    remarks: tuple[str, ...] = ()
    series: tuple[tuple[str, str | None], ...] = ()  # id and title, of a file of an office

    def as_json(self) -> dict[str, Any]:
        """Return the keys of the contract's `load --json`."""
        return {
            "file": self.file,
            "batch": self.batch,
            "added": self.added,
            "already": self.already,
            "problems": [problem.as_json() for problem in self.problems],
            "refused_file": self.refused_file,
            "remarks": list(self.remarks),
            "series": [series for series, _ in self.series],
        }
