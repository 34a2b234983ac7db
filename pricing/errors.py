"""Errors a user can cause: each is one sentence that says what was found, where, and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Problem:
    """One thing wrong with one place of one file (or one argument)."""

    line: int | None  # physical line on which the row starts; the header is 1
    column: str | None  # the header's name
    found: str
    expected: str
    remedy: str  # as the terminal words it
    # For a caller that decides by what is wrong, or words the remedy itself; neither is printed.
    code: str | None = None  # what is wrong in a word: ingest/problem_codes.py lists them
    series: str | None = None  # id of the official series it is about

    def sentence(self) -> str:
        where = [] if self.line is None else [f"line {self.line}"]
        if self.column is not None:
            where.append(f"column {self.column}")
        at = f"{', '.join(where)}: " if where else ""
        return f"{at}found {self.found}; expected {self.expected}. {self.remedy}"

    def as_json(self) -> dict[str, str | int | None]:
        return {
            "line": self.line,
            "column": self.column,
            "found": self.found,
            "expected": self.expected,
            "remedy": self.remedy,
        }


class PortionDriftError(Exception):
    """Base of every error that is a user's to mend. `str(error)` is the whole sentence."""


class InputRefused(PortionDriftError, ValueError):
    """A file or a form whose rows were not taken; `problems` lists every reason."""

    def __init__(self, sentence: str, problems: Sequence[Problem] = ()) -> None:
        super().__init__(sentence)
        self.problems = tuple(problems)


class UnknownName(PortionDriftError, KeyError):
    """A dish, ingredient, version or series that the book does not hold."""

    def __init__(self, kind: str, name: str, near: Sequence[str] = (), remedy: str = "") -> None:
        self.kind, self.name, self.near = kind, name, tuple(near)
        hint = f" Nearest: {', '.join(self.near)}." if self.near else ""
        super().__init__(
            f"The book has no {kind} called '{name}'.{hint}{' ' + remedy if remedy else ''}"
        )

    def __str__(self) -> str:  # KeyError would show the repr of its argument
        return str(self.args[0])


class MeasureRefused(PortionDriftError, ValueError):
    """A quantity, unit or pack that cannot be read, or not in this book's measure system."""

    def __init__(self, *, found: str, expected: str, remedy: str) -> None:
        self.found, self.expected, self.remedy = found, expected, remedy
        super().__init__(f"Found {found}; expected {expected}. {remedy}")


class RecipeRefused(PortionDriftError, ValueError):
    """A dish that cannot be unfolded: a cycle, or a sub-recipe without the fact its line needs."""


class NotComplete(PortionDriftError, ValueError):
    """A figure that was to be published but is only "at least": a line of it has no price."""


class BookUnreadable(PortionDriftError, OSError):
    """The book's file is missing, locked, damaged, read-only or from a newer version."""


class DateRefused(PortionDriftError, ValueError):
    """A date or month outside what the question allows."""


class SeriesRefused(PortionDriftError, ValueError):
    """A month in which an official series has no usable value, or a series that is missing."""
