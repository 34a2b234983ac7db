"""Reads the list of deliberate faults, and picks some of them by date."""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

LIST = Path(__file__).with_name("faults.toml")


@dataclass(frozen=True, kw_only=True)
class Fault:
    """One rule spoilt in one place."""

    id: str
    file: str  # from the root of the project
    before: str  # words that stand in the file once
    after: str  # what they become
    tests: tuple[str, ...]  # node ids: every one of them must fail
    why: str  # what a reader would be told wrongly


def read_faults(path: Path = LIST) -> list[Fault]:
    """Return the faults in the order of the list."""
    listed = tomllib.loads(path.read_text("utf-8"))["fault"]
    return [Fault(**{**each, "tests": tuple(each["tests"])}) for each in listed]


def place_of(fault: Fault, root: Path) -> str | None:
    """Return why the fault cannot be set in the tree at `root`; None when it can."""
    path = root / fault.file
    found = path.read_text("utf-8").count(fault.before) if path.is_file() else 0
    if found == 1:
        return None
    where = [
        str(each.relative_to(root))
        for top in ("pricing", "ingest", "dashboard")
        for each in sorted((root / top).rglob("*.*"))
        if each.suffix in (".py", ".sql", ".csv", ".toml")
        and fault.before in each.read_text("utf-8")
    ]
    said = f"they stand in {', '.join(where)}" if where else "they stand nowhere else either"
    return f"{fault.file} has its words {found} times, not once; {said}"


def sample(faults: Sequence[Fault], many: int, day: date) -> list[Fault]:
    """Return `many` faults of a day: the same for the same day, and each in its turn.

    They follow each other in an order of their own, so that the days between them try all.
    """
    mixed = sorted(faults, key=lambda each: hashlib.sha256(each.id.encode()).digest())
    start = day.toordinal() * many
    return [mixed[(start + step) % len(mixed)] for step in range(min(many, len(mixed)))]
