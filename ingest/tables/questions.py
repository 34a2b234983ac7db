"""What is asked about a table that does not say everything itself."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ingest.report import Question
from ingest.text.sentences import quoted
from pricing.errors import Problem


def as_problem(questions: Sequence[Question]) -> Problem:
    """Return all questions as the one problem of a file."""
    return Problem(
        line=None,
        column=None,
        found=" ".join(_found(each) for each in questions),
        expected="to be told once: " + ", ".join(each.name for each in questions),
        remedy="Tell it as " + ", ".join(f"{each.name}={_example(each)}" for each in questions)
        + "; it is kept for tables with these headings.",
    )  # fmt: skip


def choices_of(headings: Iterable[str]) -> str:
    """Return headings as they are named in a sentence."""
    return ", ".join(quoted(heading, most=30) for heading in headings)


def _found(question: Question) -> str:
    choices = f" ({', '.join(question.choices[:12])})" if question.choices else ""
    return f"{question.asks}{choices} {question.evidence}".strip()


def _example(question: Question) -> str:
    return question.proposed or (question.choices[0] if question.choices else "…")
