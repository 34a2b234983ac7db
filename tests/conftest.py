"""Each test runs on the same day and on no book of whoever runs it; long ones begin first."""

from __future__ import annotations

import fcntl
import os
import shutil
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from pricing.book import connect
from pricing.book.connect import Book
from tests.kitchen import TODAY
from tests.loops import WHOLE, rounds
from tests.order import seconds, unit

# One thread a question: DuckDB's others would only stand in the way of a second process of tests.
# (The books of tests are so small that it gives one to their questions anyway.)
connect._CONFIG["threads"] = 1

# no deadline: how long an example takes depends on what else the machine does
settings.register_profile("whole", max_examples=100, deadline=None)
settings.register_profile("quick", max_examples=rounds(100), deadline=None)
settings.load_profile("whole" if WHOLE else "quick")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: -seconds(item.nodeid))


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Keep together in one process what tests/order.py keeps together."""
    from xdist.scheduler import LoadFileScheduling

    class ByUnit(LoadFileScheduling):
        def _split_scope(self, nodeid: str) -> str:
            return unit(nodeid)

    return ByUnit(config, log) if config.getoption("dist") == "loadfile" else None


@pytest.fixture(autouse=True)
def _same_day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PORTIONDRIFT_TODAY", TODAY.isoformat())
    monkeypatch.delenv("PORTIONDRIFT_BOOK", raising=False)


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book of the demo kitchen, built once by whichever process needs it first."""
    from dashboard.demo import make_demo

    folder = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        folder = folder.parent  # all processes of a run share it
    path = folder / "demo.duckdb"
    with (folder / "demo.lock").open("w") as lock, pytest.MonkeyPatch.context() as patch:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not path.exists():
            patch.setenv("PORTIONDRIFT_TODAY", TODAY.isoformat())
            make_demo(path)
    return path


@pytest.fixture(scope="module")
def demo(demo_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Book:
    """A copy of the demo kitchen's book for the tests of a file."""
    path = tmp_path_factory.mktemp("demo") / "demo.duckdb"
    shutil.copyfile(demo_file, path)
    return Book(path=path)
