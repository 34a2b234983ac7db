"""The problems of a file as a table."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from dashboard.words.remedies import remedy_on_the_page
from pricing.errors import Problem


def problem_rows(problems: Sequence[Problem]) -> pd.DataFrame:
    """Return problems as a table: where, what was found, what was expected, what to do."""
    return pd.DataFrame(
        {
            "Line": [problem.line for problem in problems],
            "Column": [problem.column or "" for problem in problems],
            "Found": [problem.found for problem in problems],
            "Expected": [problem.expected for problem in problems],
            "What to do": [remedy_on_the_page(problem) for problem in problems],
        }
    )
