"""Words a remedy for a page: where the terminal names an option, the page has a field."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ingest.problem_codes import Code
from ingest.report import Remark

if TYPE_CHECKING:
    from pricing.errors import Problem

_ABOVE = "the tick box above"
_TRAY = "`portiondrift tray`"
_REMEDIES: dict[str, str] = {
    Code.UNUSUAL_PRICE: f"Correct the price or the pack, or take it as it is with {_ABOVE}.",
    Code.FACT_DIFFERS: (
        f"Correct the row, or load the file with {_ABOVE} to change the fact from now on."
    ),
    Code.RECIPE_DIFFERS: (
        f"Give the new recipe a version of its own, or load the file with {_ABOVE}."
    ),
    Code.VALUE_DIFFERS: (
        f"Give the day of the new release in released_on, or load the file with {_ABOVE}."
    ),
    Code.DISH_UNWEIGHED: f"Load that dish with its batch_weight_g first, with {_ABOVE}.",
    Code.ASKED: "Answer in the field above.",
    Code.NO_LINE: "Check which table was saved; name its columns in the field above.",
    Code.MANY_SERIES: "Name series, items or a country in the field above.",
}


def remedy_on_the_page(problem: Problem) -> str:
    """Return what to do about a problem, for a reader who has the fields of the page."""
    if problem.code == Code.SERIES_UNNAMED:
        return f"Name it in the field above: {problem.series}."
    return _REMEDIES.get(problem.code or "", problem.remedy)


def problem_words(problem: Problem) -> str:
    """Return a problem as a sentence that stands beside what it is about."""
    remedy = remedy_on_the_page(problem)
    return f"Found {problem.found}; expected {problem.expected}. {remedy}"


def remark_on_the_page(remark: str) -> str:
    """Return a remark about a file, for a reader who has the fields of the page."""
    if isinstance(remark, Remark) and remark.code == Code.SERIES_LEFT_OUT:
        wanted = "name those you want in the field above"
        return f"{remark.number:,} series besides the food ladder; {wanted}: left out."
    return remark.replace(_TRAY, "the Tray, in the room Book")
