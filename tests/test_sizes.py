"""No module, function or list of parameters of the program grows out of sight."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pricing

ROOT = Path(__file__).parents[1]
MODULES = [
    path
    for package in ("pricing", "ingest", "dashboard")
    for path in (ROOT / package).rglob("*.py")
]
# The public doors, whose parameters are what a user may ask for. A command is one, too: it has the
# name of its file in dashboard/terminal/.
PUBLIC = {*pricing.__all__, "load_file", "load_bytes", "fetch"}


def functions() -> Iterator[tuple[Path, ast.FunctionDef | ast.AsyncFunctionDef]]:
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                yield path, node


def test_a_module_has_300_lines_at_most() -> None:
    assert len(MODULES) > 200
    long = [path for path in MODULES if len(path.read_text("utf-8").splitlines()) > 300]
    assert long == []


def test_a_function_has_45_lines_at_most() -> None:
    long = [
        f"{path.name}: {node.name}"
        for path, node in functions()
        if (node.end_lineno or node.lineno) - node.lineno + 1 > 45
    ]
    assert long == []


def test_a_function_has_six_parameters_at_most_but_a_public_one() -> None:
    many = []
    for path, node in functions():
        given = node.args.posonlyargs + node.args.args + node.args.kwonlyargs
        names = [each.arg for each in given if each.arg not in ("self", "cls")]
        command = path.parent.name == "terminal" and node.name == path.stem
        if len(names) > 6 and node.name not in PUBLIC and not command:
            many.append(f"{path.name}: {node.name}")
    assert many == []


def test_a_module_says_first_what_it_is_for() -> None:
    silent = [path for path in MODULES if not ast.get_docstring(ast.parse(path.read_text("utf-8")))]
    assert silent == []
