"""The list of deliberate faults can be set, and the runner tells one caught from one that passes.

The faults themselves are tried by `python -m tests.spoilt`.
"""

from __future__ import annotations

import ast
import re
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest

from tests.spoilt.faults import Fault, place_of, read_faults, sample
from tests.spoilt.run import Outcome, run_tests, try_fault

ROOT = Path(__file__).parents[1]
FAULTS = read_faults()


def test_there_are_sixty_at_least_and_each_has_a_name_of_its_own() -> None:
    assert len(FAULTS) >= 60
    assert len({fault.id for fault in FAULTS}) == len(FAULTS)
    assert len({(fault.file, fault.before, fault.after) for fault in FAULTS}) == len(FAULTS)


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.id)
def test_a_fault_can_be_set_and_names_tests_that_are_there(fault: Fault) -> None:
    assert place_of(fault, ROOT) is None
    assert fault.before != fault.after
    assert fault.why.endswith(".")
    assert fault.tests
    for test in fault.tests:
        file, _, name = test.partition("::")
        assert name in functions(file), test


@cache
def functions(file: str) -> frozenset[str]:
    tree = ast.parse((ROOT / file).read_text("utf-8"))
    return frozenset(each.name for each in tree.body if isinstance(each, ast.FunctionDef))


STEPS = Path("pricing/book/migrations")
MADE = re.compile(r"^(?:CREATE(?: OR REPLACE)?|DROP) (?:TABLE|VIEW|MACRO|TRIGGER) (\w+)", re.M)


def gone_later(fault: Fault) -> str | None:
    """Return the table, view, macro or trigger spoilt, if a step drops it or makes it anew later.

    Such a fault spoils nothing that a book of today has.
    """
    steps = [
        path for path in sorted((ROOT / STEPS).glob("*.sql")) if path.name >= Path(fault.file).name
    ]
    before, after = "\n".join(path.read_text("utf-8") for path in steps).split(fault.before, 1)
    spoilt = MADE.findall(before + fault.before)[-1]
    return spoilt if spoilt in MADE.findall(after) else None


IN_STEPS = [fault for fault in FAULTS if Path(fault.file).parent == STEPS]


def test_a_fault_in_a_step_of_the_book_spoils_what_the_last_step_leaves() -> None:
    assert len(IN_STEPS) >= 10
    assert {fault.id: gone_later(fault) for fault in IN_STEPS} == {
        fault.id: None for fault in IN_STEPS
    }


def test_a_view_that_a_later_step_makes_anew_is_told() -> None:
    (now,) = (fault for fault in IN_STEPS if fault.id == "earlier-release")
    former = replace(now, file=str(STEPS / "0003_official_series.sql"))
    assert place_of(former, ROOT) is None  # it can be set, and no test would see it
    assert gone_later(former) == "series_value_now"


def test_a_day_has_its_ten_and_the_days_after_it_have_the_others() -> None:
    day = date(2026, 11, 24)
    assert sample(FAULTS, 10, day) == sample(FAULTS[::-1], 10, day)
    days = -(-len(FAULTS) // 10)
    tried = {each.id for n in range(days) for each in sample(FAULTS, 10, day + timedelta(days=n))}
    assert tried == {fault.id for fault in FAULTS}
    assert len({each.id for each in sample(FAULTS, 10, day)}) == 10


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    """A project of one rule and two tests, of which one guards it."""
    (tmp_path / "pricing").mkdir()
    (tmp_path / "tests").mkdir()
    (tmp_path / "pricing" / "rule.py").write_text("def fresh(age):\n    return age <= 45\n")
    (tmp_path / "tests" / "test_rule.py").write_text(
        "from pricing.rule import fresh\n\n"
        "def test_the_edge():\n    assert fresh(45)\n\n"
        "def test_a_young_price():\n    assert fresh(3)\n"
    )
    return tmp_path


def tried(tree: Path, after: str, *tests: str, before: str = "age <= 45") -> Outcome:
    fault = Fault(
        id="x", file="pricing/rule.py", before=before, after=after, why="",
        tests=tuple(f"tests/test_rule.py::{test}" for test in tests),
    )  # fmt: skip
    return try_fault(fault, tree)


def test_a_fault_is_caught_when_every_named_test_fails(tree: Path) -> None:
    assert tried(tree, "age < 45", "test_the_edge") == Outcome(caught=True, said="")
    assert (tree / "pricing" / "rule.py").read_text().endswith("age <= 45\n")  # put right again
    passed = tried(tree, "age < 45", "test_the_edge", "test_a_young_price")
    assert passed == Outcome(caught=False, said="PASSED by tests/test_rule.py::test_a_young_price")
    results = run_tests(["tests/test_rule.py::test_the_edge"], tree)
    assert results == {"tests/test_rule.py::test_the_edge": [None]}


@pytest.mark.parametrize(
    ("after", "said"),
    [
        ("aeg < 45", "broken: NameError: name 'aeg' is not defined"),
        ("age <", "did not get as far as failing: collection failure"),
    ],
)
def test_code_that_cannot_run_is_not_caught_but_broken(tree: Path, after: str, said: str) -> None:
    outcome = tried(tree, after, "test_the_edge")
    assert not outcome.caught
    assert said in outcome.said


def test_a_fault_that_cannot_be_set_says_where_its_words_stand(tree: Path) -> None:
    (tree / "pricing" / "grid.sql").write_text("age <= 60")
    outcome = tried(tree, "age < 60", "test_the_edge", before="age <= 60")
    assert not outcome.caught
    assert outcome.said.endswith("0 times, not once; they stand in pricing/grid.sql")
