"""What the README tells a reader to type, typed; and its figures, looked up in what is printed."""

from __future__ import annotations

import csv
import os
import re
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from ingest.text.columns import KINDS, TABLES
from tests.kitchen import TODAY

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
BLOCKS = re.findall(r"(?:<!-- (.*?) -->\n)?```sh\n(.*?)```", README, re.S)
FILES = re.findall(r"[Ss]ave\s+this as `([\w.]+)`:\n\n```(?:csv|text)\n(.*?)```", README, re.S)


def commands(mark: str = "") -> list[str]:
    """Return the command lines of the sh blocks under a mark."""
    return [line for label, text in BLOCKS if label == mark for line in text.strip().splitlines()]


@pytest.fixture
def environment(tmp_path: Path) -> dict[str, str]:
    """A shell in which `portiondrift` is this checkout's, and the data folder is empty."""
    bin_folder = tmp_path / "bin"
    bin_folder.mkdir()
    script = bin_folder / "portiondrift"
    script.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m dashboard.cli "$@"\n')
    script.chmod(0o755)
    return {
        **os.environ,
        "PATH": f"{bin_folder}:{os.environ['PATH']}",
        "PYTHONPATH": str(ROOT),
        "XDG_DATA_HOME": str(tmp_path / "data"),
        "PORTIONDRIFT_TODAY": TODAY.isoformat(),
        "COLUMNS": "160",
    }


def test_the_readme_opens_with_the_job_and_names_its_licence() -> None:
    first = README.split("\n\n")[1]
    for word in ("cost per portion", "official consumer price indices", "swaps", "reprice"):
        assert word in " ".join(first.split())
    assert "MIT licence" in README
    assert 'license = "MIT"' in (ROOT / "pyproject.toml").read_text("utf-8")


def test_the_two_commands_are_one_line_each() -> None:
    (main,), (tests,) = commands("main command"), commands("test command")
    assert main.endswith("portiondrift --book demo.duckdb demo")
    assert tests.endswith("-m pytest")


@pytest.mark.parametrize("kind", KINDS)
def test_the_columns_of_every_file_are_told_and_the_required_ones_are_bold(kind: str) -> None:
    table = README.partition("\n## Columns of every file\n")[2].partition("\n## ")[0]
    (told,) = re.findall(rf"^\| `{kind}` \| (.*) \|$", table, re.M)
    told = re.sub(r"\([^()]*\)", "", told)  # what explains them
    columns = [each.strip() for each in told.split(",")]
    assert columns == [
        f"**{column.name}**" if column.required else column.name for column in TABLES[kind]
    ]


def test_ten_minutes_from_an_empty_book(environment: dict[str, str], tmp_path: Path) -> None:
    for name, text in FILES:
        (tmp_path / name).write_text(text, "utf-8")
    typed = commands()
    assert typed.pop() == "portiondrift serve"  # the next test opens it
    book = {**environment, "PORTIONDRIFT_BOOK": "kitchen.duckdb"}
    assert typed.pop(0) == "export PORTIONDRIFT_BOOK=kitchen.duckdb"
    written = typed.index("portiondrift tray --write decisions.csv") + 1
    in_shell(typed[:written], book, tmp_path)
    write_names(tmp_path / "decisions.csv")
    done = in_shell(typed[written:], book, tmp_path)
    assert (tmp_path / "drift.svg").read_text("utf-8").startswith("<svg")
    # by pencil: barley 1 1/2 cups of 236.588 ml at 0.8454 g: 300.02 g, at 1.99 a pound of
    # 453.592 g: 1.316; leeks 400 g at 3.98 a pound: 3.510; a cup of cream at 3.29 a pint: 1.645;
    # butter 2 tbsp, 29.574 ml at 0.9595 g: 28.376 g, at 4.99 a pound: 0.312. Together 6.783, for 4
    assert "$1.70 per portion" in done.stdout
    # every number of a load the text speaks of is there to be undone
    assert "Load 5" in done.stdout
    assert "portiondrift undo 5" in README


def in_shell(
    typed: list[str], environment: dict[str, str], folder: Path
) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        ["bash", "-euo", "pipefail", "-c", "\n".join(typed)],
        env=environment, cwd=folder, capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    return done


def write_names(path: Path) -> None:
    """Write the README's names into a file of decisions; each of its rows gets one."""
    table = README.partition("| words | ingredient |")[2].partition("\n\n")[0]
    names = dict(re.findall(r"^\| (.+?) \| (.+?) \|$", table, re.M))
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert {row["words"] for row in rows} == set(names)
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, rows[0])
        out.writeheader()
        out.writerows({**row, "ingredient": names[row["words"]]} for row in rows)


def test_serve_opens_the_dashboard(environment: dict[str, str], tmp_path: Path) -> None:
    book = {**environment, "PORTIONDRIFT_BOOK": str(tmp_path / "kitchen.duckdb")}
    subprocess.run(
        ["portiondrift", "init", "--currency", "USD"], env=book, check=True, capture_output=True
    )
    address, status = served(["portiondrift", "serve", "--port", "8655"], book, tmp_path)
    assert address.startswith("http://127.0.0.1:")
    assert status == 200


def served(command: list[str] | str, environment: dict[str, str], folder: Path) -> tuple[str, int]:
    """Run a command until it says where the dashboard is; ask that page; end it as Ctrl+C does."""
    import requests

    with subprocess.Popen(
        command, env=environment, cwd=folder, text=True, stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT, shell=isinstance(command, str), start_new_session=True,
    ) as process:  # fmt: skip
        seen = []
        try:
            assert process.stdout is not None
            for line in process.stdout:
                seen.append(line)
                found = re.search(r"http://127\.0\.0\.1:\d+", line)
                if found:
                    return found[0], requests.get(found[0], timeout=60).status_code
        finally:
            os.killpg(process.pid, signal.SIGINT)
            process.wait(timeout=60)
    raise AssertionError("".join(seen))


def test_demo_figures_are_the_demo_books(environment: dict[str, str], tmp_path: Path) -> None:
    table = subprocess.run(
        ["portiondrift", "--book", "demo.duckdb", "demo", "--no-serve"],
        env=environment, cwd=tmp_path, capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    assert table.returncode == 0, table.stderr
    assert len(re.findall(r"^.*\$\d+\.\d\d.*$", table.stdout, re.M)) >= 14
    asked = [label for label, _ in BLOCKS if label.startswith("demo: ")]
    assert len(asked) == 9
    for label in asked:
        (typed,) = commands(label)
        done = subprocess.run(
            ["bash", "-c", typed],
            env=environment, cwd=tmp_path, capture_output=True, text=True, timeout=120, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        told = re.split(r"\n## |\n<!-- ", README.split(typed)[1])[0]
        figures = re.findall(r"\$\d+\.\d\d", told)
        assert len(figures) >= 4
        for figure in figures:
            assert figure in done.stdout, (
                f"{figure} is in the README, but the command prints\n{done.stdout}"
            )


@pytest.mark.skipif(
    "CI" not in os.environ, reason="installs everything anew: set CI=true to run it"
)
def test_main_command_in_a_fresh_clone(tmp_path: Path) -> None:
    clone = tmp_path / "clone"
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    ).stdout  # fmt: skip
    for name in filter(None, listed.split("\0")):
        (clone / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(ROOT / name, clone / name)
    (typed,) = commands("main command")
    clean = {key: value for key, value in os.environ.items() if not key.startswith("PORTIONDRIFT")}
    clean |= {"XDG_DATA_HOME": str(tmp_path / "data")}
    address, status = served(typed, clean, clone)
    assert address.startswith("http://127.0.0.1:")
    assert status == 200
