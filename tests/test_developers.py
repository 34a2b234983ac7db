"""What DEVELOPERS.md says of the tree is so: rooms and files are there, and no room is left out."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[1]
TEXT = (ROOT / "DEVELOPERS.md").read_text("utf-8")
FILE = re.compile(
    r"`([\w./-]+(?:/|\.(?:py|sql|csv|toml|md)))`"
)  # a folder, or a file by its ending


def section(title: str) -> str:
    return TEXT.partition(f"\n## {title}\n")[2].partition("\n## ")[0]


def rows(text: str) -> list[str]:
    """Return the rows of the tables without their headings."""
    return [line for line in text.splitlines() if line.startswith("| ") and "|---" not in line][1:]


def paths(text: str) -> list[str]:
    return FILE.findall(text)


def test_every_file_of_where_does_a_change_go_is_there() -> None:
    named = paths(section("Where does a change go?"))
    assert len(named) >= 30
    assert [path for path in named if not (ROOT / path).exists()] == []


def test_twelve_changes_were_tried_and_each_names_a_file() -> None:
    tried, _, more = section("Where does a change go?").partition("And some more:")
    assert len(rows(tried)) == 12
    assert [row for row in rows(tried) + rows(more) if not paths(row)] == []


def test_every_room_is_on_the_map() -> None:
    told = {row.split("`")[1].rstrip("/") for row in rows(section("The map"))}
    there = {
        str(path.parent.relative_to(ROOT))
        for package in ("pricing", "ingest", "dashboard")
        for path in (ROOT / package).rglob("__init__.py")
    }
    within = {each for each in there if "/".join(each.split("/")[:-1]) == "ingest/offices"}
    assert told - {"demo_prices", "tests"} == there - within
    offices = next(row for row in rows(section("The map")) if "`ingest/offices/`" in row)
    assert all(f"`{each.removeprefix('ingest/offices/')}/`" in offices for each in within)


def test_every_other_file_it_speaks_of_is_there() -> None:
    for title in ("Tests", "Decisions and why"):
        named = paths(section(title))
        assert named
        assert [path for path in named if not (ROOT / path).exists()] == []


def test_the_modules_it_tells_to_run_are_there() -> None:
    modules = re.findall(r"python -m ((?:tests|ingest)\.[\w.]+)", TEXT)
    assert len(modules) >= 8
    for module in modules:
        path = ROOT / module.replace(".", "/")
        assert path.with_suffix(".py").exists() or (path / "__main__.py").exists(), module
