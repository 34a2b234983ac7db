"""What came of loading one file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Self

from pricing.errors import Problem


class Remark(str):
    """A sentence about a file. One with a code can be worded anew by a face with other means."""

    code: str | None  # one of ingest/problem_codes.py
    number: int | None  # how many it counts
    would: str | None  # of a thing that is done: the same sentence where nothing is stored yet

    def __new__(
        cls,
        sentence: str,
        code: str | None = None,
        number: int | None = None,
        would: str | None = None,
    ) -> Self:
        made = super().__new__(cls, sentence)
        made.code, made.number, made.would = code, number, would
        return made


def said_as_stored(remarks: Sequence[str], *, refused: bool, dry_run: bool) -> tuple[str, ...]:
    """Return the sentences that hold: of things done none, where the file is refused.

    In a dry run they say what would be done.

    >>> done = Remark("2 lines wait.", would="2 lines would wait.")
    >>> said_as_stored([done, "Read."], refused=False, dry_run=True)
    ('2 lines would wait.', 'Read.')
    >>> said_as_stored([done, "Read."], refused=True, dry_run=False)
    ('Read.',)
    """
    said = []
    for each in remarks:
        would = each.would if isinstance(each, Remark) else None
        if would is None:
            said.append(each)
        elif not refused:
            said.append(would if dry_run else each)
    return tuple(said)


@dataclass(frozen=True, kw_only=True)
class Question:
    """One thing that must be told before a file can be read; the answer is `name=answer`."""

    name: str
    asks: str
    choices: tuple[str, ...]  # none where any words may be told
    proposed: str | None
    evidence: str  # what was found, in words
    default: str | None = None  # taken unless it is told, and said; None: it must be told


@dataclass(frozen=True, kw_only=True)
class FileReport:
    """The outcome of one file; `added` and `already` count data rows."""

    file: str  # as the user named it
    load: int | None = None  # the number that `undo` takes; None when nothing was stored
    added: int = 0  # in a dry run: what would be added
    already: int = 0  # in the book before, or on an earlier row of the file
    problems: tuple[Problem, ...] = ()
    refused_file: str | None = None  # path of the file with the refused rows, under skip_bad
    refused_text: str | None = None  # what it holds; also when there is no folder to write it to
    remarks: tuple[str, ...] = ()  # plain sentences, and Remarks
    series: tuple[tuple[str, str | None], ...] = ()  # id and title, of a file of an office
    form: str | None = None  # own, table, workbook, ubl, pdf-cii, recipe-page …; or None
    waiting: int = 0  # lines that no ingredient of the book goes by
    document: Mapping[str, Any] | None = None  # what an e-invoice says
    questions: tuple[Question, ...] = ()  # what a table does not say; nothing was stored
    preview: tuple[str, ...] = ()  # its first lines, as they would be read

    @classmethod
    def refused(cls, file: str, problems: Sequence[Problem], remarks: Sequence[str] = ()) -> Self:
        """Return the report of a file of which nothing was taken."""
        return cls(file=file, problems=tuple(problems), remarks=tuple(remarks))

    def as_json(self) -> dict[str, Any]:
        """Return the keys of `load --json`."""
        return {
            "file": self.file,
            "load": self.load,
            "added": self.added,
            "already": self.already,
            "problems": [problem.as_json() for problem in self.problems],
            "refused_file": self.refused_file,
            "remarks": list(self.remarks),
            "series": [series for series, _ in self.series],
            "form": self.form,
            "waiting": self.waiting,
            "document": None if self.document is None else dict(self.document),
            "questions": [
                {
                    "name": each.name,
                    "asks": each.asks,
                    "choices": list(each.choices),
                    "proposed": each.proposed,
                    "evidence": each.evidence,
                }
                for each in self.questions
            ],
            "preview": list(self.preview),
        }
