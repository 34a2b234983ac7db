"""The problems of a file as a table, with the page's fields where the terminal has options."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pandas as pd

from pricing.errors import Problem

_FIELDS = (
    (re.compile(r"with --(?:accept-unusual|replace)\b"), "with the tick box above"),
    (re.compile(r"with --series, once for each"), "in the field above"),
    (re.compile(r"with --series (\S+)\."), r"in the field above: \1."),
    (re.compile(r"with --series\b"), "in the field above"),
)


def problem_rows(problems: Sequence[Problem]) -> pd.DataFrame:
    """Return problems as a table: where, what was found, what was expected, what to do."""
    return pd.DataFrame(
        {
            "Line": [problem.line for problem in problems],
            "Column": [problem.column or "" for problem in problems],
            "Found": [problem.found for problem in problems],
            "Expected": [problem.expected for problem in problems],
            "What to do": [on_the_page(problem.remedy) for problem in problems],
        }
    )


def on_the_page(sentence: str) -> str:
    """Return a sentence with the fields of the page where the terminal has options.

    >>> on_the_page("Name it with --series D7BU.")
    'Name it in the field above: D7BU.'
    """
    for said, here in _FIELDS:
        sentence = said.sub(here, sentence)
    return sentence
