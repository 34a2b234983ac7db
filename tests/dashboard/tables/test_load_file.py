"""What to do about a file, in words for a page: it has fields and no options of the terminal."""

from __future__ import annotations

import pytest

from dashboard.tables.load_file import problem_rows, remark_words
from ingest.problem_codes import Code
from ingest.report import Remark
from pricing.book.connect import Book
from pricing.errors import Problem
from tests.kitchen import load

# Their remedies name no option, so a page says them as they are; the last is a remark.
SAID_AS_THEY_ARE = {Code.NO_VALUE, Code.UNKNOWN_LAYOUT, Code.SERIES_LEFT_OUT}


def to_do(problem: Problem) -> str:
    return str(problem_rows([problem])["What to do"][0])


@pytest.mark.parametrize("code", sorted(set(Code) - SAID_AS_THEY_ARE))
def test_every_other_code_has_words_that_name_what_the_page_has(code: Code) -> None:
    problem = Problem(
        line=2,
        column=None,
        found="x",
        expected="y",
        remedy="Use --this.",
        code=code,
        series="own:X",
    )
    assert to_do(problem).endswith((" above.", " from now on.", " above: own:X."))
    assert " above" in to_do(problem)
    assert "--" not in to_do(problem)


def test_a_problem_without_words_of_its_own_is_told_as_it_is(kitchen: Book) -> None:
    """The braces are the file's: they are no place for the id of a series."""
    (problem,) = load(kitchen, "measures", "ingredient,measure,grams\nleek,x,{series}").problems
    assert problem.code is None
    assert to_do(problem) == problem.remedy


def test_a_fact_that_differs_is_changed_with_the_tick_box(kitchen: Book) -> None:
    (problem,) = load(kitchen, "ingredients", "ingredient,base,grams_each\nleek,g,200").problems
    assert to_do(problem) == (
        "Correct the row, or load the file with the tick box above to change the fact from now on."
    )


def test_a_remark_that_counts_is_worded_anew_and_the_others_are_not() -> None:
    left_out = Remark("1,250 series: name those you want with --series", Code.SERIES_LEFT_OUT, 1250)
    assert remark_words(left_out) == (
        "1,250 series besides the food ladder; name those you want in the field above: left out."
    )
    assert remark_words("2 series of rates: left out.") == "2 series of rates: left out."
    assert remark_words(Remark("3 of them.")) == "3 of them."
