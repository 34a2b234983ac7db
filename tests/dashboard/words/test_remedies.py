"""A page words a remedy with its own fields, by what is wrong."""

from __future__ import annotations

import pytest

from dashboard.words.remedies import remark_on_the_page, remedy_on_the_page
from ingest.problem_codes import Code
from ingest.report import Remark
from pricing.errors import Problem


def problem(code: str | None, series: str | None = None) -> Problem:
    return Problem(
        line=2, column=None, found="it", expected="other", remedy="Load it with --option.",
        code=code, series=series,
    )  # fmt: skip


# the remedies of these name no option of the terminal; the last is a remark
NO_OPTION = (Code.NO_VALUE, Code.UNKNOWN_LAYOUT, Code.SERIES_LEFT_OUT)


@pytest.mark.parametrize("code", [each for each in Code if each not in NO_OPTION])
def test_no_remedy_with_a_code_names_an_option(code: Code) -> None:
    said = remedy_on_the_page(problem(code, "D7BU"))
    assert "--" not in said
    assert "above" in said


def test_a_series_to_name_is_named() -> None:
    said = remedy_on_the_page(problem(Code.SERIES_UNNAMED, "D7BU"))
    assert said == "Name it in the field above: D7BU."


def test_any_other_remedy_stays() -> None:
    assert remedy_on_the_page(problem(None)) == "Load it with --option."


def test_a_remark_that_counts_series_names_the_field() -> None:
    remark = Remark("1,204 series besides …", Code.SERIES_LEFT_OUT, 1204)
    assert remark_on_the_page(remark) == (
        "1,204 series besides the food ladder; name those you want in the field above: left out."
    )
    assert remark_on_the_page("Read as Latin-1.") == "Read as Latin-1."
