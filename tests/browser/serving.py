"""Serves a book's pages and opens a headless browser, for tests and the picture of the README."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, expect, sync_playwright

from dashboard.terminal.ports import free_port
from tests.kitchen import TODAY

_ARGUMENTS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
PATIENCE_MS = 60_000


def chromium_path() -> str | None:
    return shutil.which("chromium") or shutil.which("chromium-browser")


@contextmanager
def opened(path: str) -> Iterator[Browser]:
    """Open the browser at `path`."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=_ARGUMENTS)
        yield browser
        browser.close()


@contextmanager
def window(browser: Browser, width: int, height: int) -> Iterator[Page]:
    """Open an empty window, in a profile of its own."""
    context = browser.new_context(viewport={"width": width, "height": height})
    context.set_default_timeout(PATIENCE_MS)
    expect.set_options(timeout=PATIENCE_MS)
    yield context.new_page()
    context.close()


@contextmanager
def serving(book: Path, log: Path) -> Iterator[str]:
    """Serve a book's pages and yield their address; what the server says goes to `log`."""
    command = ["--book", str(book), "serve", "--port", str(free_port(18500))]
    told = {"PORTIONDRIFT_TODAY": TODAY.isoformat(), "PORTIONDRIFT_WAIT_SECONDS": "2"}
    with (
        log.open("w") as out,
        subprocess.Popen(
            [sys.executable, "-m", "dashboard.cli", *command],
            stdout=subprocess.PIPE,
            stderr=out,
            text=True,
            env={**os.environ, **told},
        ) as process,
    ):
        assert process.stdout is not None
        said = process.stdout.readline().split()
        try:
            assert said[:1] == ["Dashboard:"], log.read_text()
            yield said[1]
        finally:
            process.terminate()
            process.wait(timeout=60)
