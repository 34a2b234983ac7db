"""What is wrong with a file, as a table, and what is told of it, in words for a page's fields."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from ingest.problem_codes import Code
from ingest.report import Remark
from pricing.errors import Problem

# Where the terminal's remedy names an option, the page's names what stands above the table.
_REMEDIES: dict[str | None, str] = {
    Code.UNUSUAL_PRICE: (
        "Correct the price or the pack, or take it as it is with the tick box above."
    ),
    Code.FACT_DIFFERS: (
        "Correct the row, or load the file with the tick box above to change the fact from now on."
    ),
    Code.RECIPE_DIFFERS: (
        "Give the new recipe a version of its own, or load the file with the tick box above."
    ),
    Code.VALUE_DIFFERS: (
        "Give the day of the new release in released_on, or load the file with the tick box above."
    ),
    Code.DISH_UNWEIGHED: "Load that dish with its batch_weight_g first, with the tick box above.",
    Code.MANY_SERIES: "Name series, items or a country in the field above.",
    Code.SERIES_UNNAMED: "Name it in the field above: {series}.",
}


def problem_rows(problems: Sequence[Problem]) -> pd.DataFrame:
    """Return problems as a table: where, what was found, what was expected, what to do."""
    return pd.DataFrame(
        {
            "Line": [problem.line for problem in problems],
            "Column": [problem.column or "" for problem in problems],
            "Found": [problem.found for problem in problems],
            "Expected": [problem.expected for problem in problems],
            "What to do": [remedy_words(problem) for problem in problems],
        }
    )


def remedy_words(problem: Problem) -> str:
    """Return what to do about a problem on a page."""
    words = _REMEDIES.get(problem.code)
    return words.format(series=problem.series) if words else problem.remedy


def remark_words(remark: str) -> str:
    """Return a remark about a file as a page says it."""
    if isinstance(remark, Remark) and remark.code == Code.SERIES_LEFT_OUT:
        return (
            f"{remark.number:,} series besides the food ladder; name those you want in the field "
            "above: left out."
        )
    return remark
