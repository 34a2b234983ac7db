"""What the rules of a kind made of a file's rows: problems, and what is to be stored."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from ingest.text.rows import Row
from pricing.book.append import Columns
from pricing.book.connect import Connection
from pricing.errors import Problem


@dataclass(frozen=True, kw_only=True)
class Options:
    """How a file is to be taken."""

    today: date
    replace: bool = False  # facts that differ from the book's take their place
    accept_unusual: bool = False  # prices far from what the book expects are taken
    # answers to what a file does not say or says in two ways, by name: {"portions": "4"}
    told: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Stored:
    """Columns by table, and the ingredients whose kept prices they change."""

    tables: Mapping[str, Columns]
    touched: frozenset[int] = frozenset()


def _nothing(con: Connection) -> Stored:
    return Stored(tables={})


@dataclass(kw_only=True)
class Checked:
    """The outcome of a kind's rules. `added` and `already` count the data rows without problems."""

    problems: list[Problem] = field(default_factory=list)
    # Line → why, for rows without a problem of their own that hang together with a refused one: the
    # other lines of a dish version, the first of two rows that contradict each other.
    left_out: dict[int, str] = field(default_factory=dict)
    whole: bool = False  # one problem refuses all rows, whatever may be skipped
    added: int = 0
    already: int = 0
    waiting: int = 0  # recipe lines that wait for a decision
    remarks: list[str] = field(default_factory=list)
    store: Callable[[Connection], Stored] = _nothing  # gives new names their ids

    def leave_out(self, rows: Iterable[Row], why: str) -> None:
        """Keep rows from being stored because of another row's problem."""
        for row in rows:
            self.left_out.setdefault(row.line, why)

    def bad_lines(self) -> set[int]:
        """Return the lines that are not to be stored."""
        return {each.line for each in self.problems if each.line is not None} | set(self.left_out)
