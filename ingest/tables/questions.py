"""What is asked about a table that does not say everything itself."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ingest.problem_codes import Code
from ingest.report import Question
from ingest.text.sentences import quoted
from pricing.errors import Problem

_FEW = 12  # of more choices the first is no likelier than another
_OF_ONE_FILE = ("day", "dish", "portions")  # questions that each file answers anew
_MOST_CHOICES = 40  # in a sentence


def as_problem(questions: Sequence[Question]) -> Problem:
    """Return all questions as the one problem of a file."""
    answers = " ".join(f'--answer "{each.name}={_example(each)}"' for each in questions)
    once = ", once for all tables with the same headings"
    if any(each.name in _OF_ONE_FILE for each in questions):
        once = ""
    one = len(questions) == 1
    what = "one thing" if one else f"{len(questions)} things"
    asked = " ".join(f"{each.asks}{_choices(each)} {each.evidence}" for each in questions)
    return Problem(
        line=None,
        column=None,
        found=f"{what} that the table does not say. {asked.removesuffix('.')}",
        expected=f"{'an answer' if one else 'an answer to each'}{once}",
        remedy=f"Load it again with {answers}.",
        code=Code.ASKED,
    )


def choices_of(headings: Iterable[str]) -> str:
    """Return headings as they are named in a sentence."""
    return ", ".join(quoted(heading, most=30) for heading in headings)


def _choices(question: Question) -> str:
    if not question.choices:
        return ""
    more = len(question.choices) - _MOST_CHOICES
    named = [*question.choices[:_MOST_CHOICES], *([f"{more:,} more"] if more > 0 else [])]
    return f" ({', '.join(named)})"


def _example(question: Question) -> str:
    """Return what may be told: what is proposed, else one of a few choices."""
    few = question.choices[:1] if len(question.choices) <= _FEW else ()
    return question.proposed or next(iter(few), "…")
