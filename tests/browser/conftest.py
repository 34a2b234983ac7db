"""A headless browser and a served book for the tests that use the pages as a reader does."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from pricing.book.connect import Book
from tests import terminal
from tests.browser.serving import chromium_path, opened, serving, window
from tests.dashboard.small_kitchen import small_kitchen
from tests.kitchen import make_book

SETTLED = "[data-testid=stApp][data-test-script-state=notRunning]"


@dataclass(frozen=True, kw_only=True)
class Served:
    """A book and the pages that show it."""

    book: Book
    address: str
    log: Path  # what the server said

    def run(self, *arguments: str) -> terminal.Done:
        """Run `portiondrift` on the same book, as from a terminal beside the server."""
        return terminal.run(*arguments, book=self.book.path)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """The browser. Without one the tests are skipped, or fail where one is required."""
    found = chromium_path()
    if found is None:
        if os.environ.get("PORTIONDRIFT_REQUIRE_BROWSER") == "1":
            pytest.fail("no chromium is installed, and PORTIONDRIFT_REQUIRE_BROWSER is 1")
        pytest.skip("no chromium is installed")
    with opened(found) as browser:
        yield browser


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for all tests: each puts its own book in the place of the file that is served."""
    folder = tmp_path_factory.mktemp("served")
    book, log = make_book(folder), folder / "server.log"
    with serving(book.path, log) as address:
        yield Served(book=book, address=address, log=log)


@contextmanager
def showing(book: Book, server: Served, request: pytest.FixtureRequest) -> Iterator[Served]:
    """Show a book until the block ends, and print what the server said if the test failed."""
    before = server.log.stat().st_size
    book.path.replace(server.book.path)
    yield server
    if getattr(request.node, "failed_call", False):
        print(f"--- the server said\n{server.log.read_bytes()[before:].decode()}")


@pytest.fixture
def served(tmp_path: Path, server: Served, request: pytest.FixtureRequest) -> Iterator[Served]:
    """The small kitchen and its pages."""
    with showing(small_kitchen(tmp_path), server, request) as made:
        yield made


@pytest.fixture
def served_empty(
    tmp_path: Path, server: Served, request: pytest.FixtureRequest
) -> Iterator[Served]:
    """A new book, with official series and nothing else, and its pages."""
    with showing(make_book(tmp_path), server, request) as made:
        yield made


@pytest.fixture
def page(chromium: Browser) -> Iterator[Page]:
    """An empty browser window, 1280 pixels wide, in a profile of its own."""
    with window(chromium, 1280, 1000) as opened_page:
        yield opened_page


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> Iterator[None]:
    """Remember whether the test itself failed, for `served` to show the server's log."""
    report = yield
    if call.when == "call":
        item.failed_call = report.failed  # type: ignore[attr-defined]
    return report
