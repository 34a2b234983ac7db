"""Spoils a copy of the project, runs the tests that must fail, and says what came of it."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from tests.spoilt.faults import Fault, place_of

COPIED = (
    "pricing", "ingest", "dashboard", "tests", "demo_prices", "pyproject.toml", "README.md",
    "DEVELOPERS.md",
)  # fmt: skip
LONGEST = 180  # seconds for the tests of one fault
# A test that ends so says that the spoilt code cannot run, not that its answer is wrong.
CANNOT_RUN = re.compile(
    r"\W*(\w+\.)*(SyntaxError|IndentationError|NameError|UnboundLocalError|ImportError|"
    r"ModuleNotFoundError|AttributeError|ParserException|BinderException|CatalogException)\b"
)


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """What came of one fault."""

    caught: bool
    said: str  # why not, else ""


def copy_tree(root: Path, to: Path, *, compiled: bool = False) -> Path:
    """Copy what the tests need; with `compiled` also the compiled form of the modules."""
    skipped = None if compiled else shutil.ignore_patterns("__pycache__")
    to.mkdir(parents=True)
    for name in COPIED:
        if (root / name).is_dir():
            shutil.copytree(root / name, to / name, ignore=skipped)
        elif (root / name).exists():
            shutil.copy2(root / name, to / name)
    return to


def try_fault(fault: Fault, tree: Path) -> Outcome:
    """Spoil the tree, run the named tests, put it right again."""
    refused = place_of(fault, tree)
    if refused is not None:
        return Outcome(caught=False, said=f"cannot be set: {refused}")
    path = tree / fault.file
    was, held = path.read_bytes(), path.stat()
    try:
        path.write_bytes(was.replace(fault.before.encode(), fault.after.encode()))
        results = run_tests(fault.tests, tree)
    finally:
        path.write_bytes(was)
        os.utime(path, ns=(held.st_atime_ns, held.st_mtime_ns))  # its compiled form holds again
    return judge(fault.tests, results)


def judge(tests: Collection[str], results: dict[str, list[str | None]] | str) -> Outcome:
    """Tell from the results of the named tests whether each of them failed as it should."""
    if isinstance(results, str):
        return Outcome(caught=False, said=f"broken: {results}")
    passed, broken = [], []
    for test in tests:
        failures = [each for each in results.get(test, []) if each is not None]
        if not failures:
            passed.append(test)
        elif all(CANNOT_RUN.match(each) for each in failures):
            broken.append(failures[0].splitlines()[0])
    if passed:
        return Outcome(caught=False, said=f"PASSED by {', '.join(passed)}")
    if broken:
        return Outcome(caught=False, said=f"broken: {'; '.join(broken)}")
    return Outcome(caught=True, said="")


def run_tests(
    tests: Collection[str], tree: Path, *, unspoilt: bool = False
) -> dict[str, list[str | None]] | str:
    """Run tests by node id; return, by id, how each of its cases failed (None: it passed).

    A text instead says why there are no such results. Only an unspoilt tree keeps its modules
    compiled: two faults of one size within a second would look alike. It may take its time.
    """
    report = tree / "results.xml"
    report.unlink(missing_ok=True)
    environment = {**os.environ, "PYTHONPATH": str(tree)}
    if not unspoilt:
        environment["PYTHONDONTWRITEBYTECODE"] = "1"
    command = [
        sys.executable, "-m", "pytest", "-n", "0", "-q", "--tb=short", "-p", "no:cacheprovider",
        "-o", "addopts=", f"--junitxml={report}", *tests,
    ]  # fmt: skip
    try:
        done = subprocess.run(
            command, cwd=tree, env=environment, capture_output=True, text=True,
            timeout=None if unspoilt else LONGEST, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return f"the tests did not end within {LONGEST} seconds"
    results = _read(report) if report.exists() else {}
    if done.returncode not in (0, 1) and not isinstance(results, str):
        return f"pytest ended with {done.returncode}: {_last_line(done)}"
    return results


def _last_line(done: subprocess.CompletedProcess[str]) -> str:
    return (done.stderr.strip() or done.stdout.strip()).splitlines()[-1]


def _read(report: Path) -> dict[str, list[str | None]] | str:
    results: dict[str, list[str | None]] = {}
    for case in ElementTree.parse(report).iter("testcase"):
        if (error := case.find("error")) is not None:
            why = (error.get("message") or "an error").splitlines()[0]
            return f"{case.get('name')} did not get as far as failing: {why}"
        test = f"{(case.get('classname') or '').replace('.', '/')}.py::{case.get('name')}"
        failure = case.find("failure")
        said = None if failure is None else failure.get("message") or "failed"
        results.setdefault(test.split("[")[0], []).append(said)
    return results
