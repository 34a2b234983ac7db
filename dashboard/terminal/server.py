"""Serves the web pages of one book to this computer only, until Ctrl+C."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
import webbrowser
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from pathlib import Path
from types import FrameType
from typing import NoReturn

from dashboard.terminal.ports import ADDRESS, free_port
from dashboard.terminal.process import process
from pricing.errors import InputRefused

START_SECONDS = 60.0
LARGEST_UPLOAD_MB = 32
_OPTIONS: dict[str, str | int | bool] = {
    "server.address": ADDRESS,
    "server.headless": True,  # this file opens the browser, not the server
    "server.fileWatcherType": "none",
    "server.enableXsrfProtection": True,
    "server.enableCORS": True,
    "server.maxUploadSize": LARGEST_UPLOAD_MB,
    "browser.gatherUsageStats": False,
    # a date may start from a default and be set by the choice of another dish: no need to warn
    "global.disableWidgetStateDuplicationWarning": True,
    # Python's own search for what is no longer used is enough: one after every run, even one that
    # only looks whether the book has changed, is most of what a page at rest costs
    "runner.postScriptGC": False,
    "browser.serverAddress": ADDRESS,
    "client.toolbarMode": "minimal",
    "client.showErrorDetails": "none",  # a bug's traceback is for this terminal, not for the page
    "client.showErrorLinks": False,
    "theme.paddingTop": "2rem",
    "theme.light.primaryColor": "#0072B2",
    "theme.light.textColor": "#14120F",  # captions, at 60 % of it, have 4.8 to 1 on white
    "theme.dark.primaryColor": "#1B7CBB",  # white letters on it have 4.5 to 1 (WCAG 2.2, 1.4.3)
}


def serve(
    book: Path,
    port: int,
    beside: Callable[[], AbstractContextManager[None]] = nullcontext,
) -> None:
    """Serve the pages of `book` on 127.0.0.1 at `port`, or the next free one, until Ctrl+C.

    `beside` is entered once the pages answer: what else is served as long.

    Prints the address once the pages answer, and opens a browser where there is a display. The
    server ends with this process, however that ends. Raises InputRefused for a port that cannot be.
    """
    free = free_port(port)
    if free != port:
        print(f"Port {port} is in use; taking {free}.", file=sys.stderr)
    with _running(book, free) as server:
        address = f"http://{ADDRESS}:{free}"
        try:
            _wait_until_it_answers(server, f"{address}/_stcore/health")
            print(f"Dashboard: {address}  (stop with Ctrl+C)", flush=True)
            with beside():
                if has_display():
                    webbrowser.open(address)
                status = server.wait()
        except KeyboardInterrupt:
            print("Stopped.", flush=True)
            return
    raise InputRefused(f"The dashboard's server ended by itself (status {status}). Start it again.")


def has_display() -> bool:
    """Tell whether a browser could open here."""
    if os.environ.get("SSH_CONNECTION"):
        return False
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


@contextmanager
def _running(book: Path, port: int) -> Iterator[subprocess.Popen[bytes]]:
    options = {**_OPTIONS, "server.port": port, "browser.serverPort": port}
    before = signal.signal(signal.SIGTERM, _stop)
    try:
        with process("dashboard.served", [json.dumps(options)], book) as server:
            yield server
    finally:
        signal.signal(signal.SIGTERM, before)


def _stop(number: int, frame: FrameType | None) -> NoReturn:
    raise KeyboardInterrupt


def _wait_until_it_answers(server: subprocess.Popen[bytes], address: str) -> None:
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))  # never by a proxy
    deadline = time.monotonic() + START_SECONDS
    while time.monotonic() < deadline:
        if server.poll() is not None:
            break
        try:
            with direct.open(address, timeout=2):
                return
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
    raise InputRefused(
        f"The dashboard did not start within {START_SECONDS:g} seconds; expected an answer at "
        f"{address}. What the server said stands above; try another --port."
    )
