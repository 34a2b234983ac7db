"""Serves the web pages of one book to this computer only, until Ctrl+C."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
import webbrowser
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import NoReturn

from pricing.errors import InputRefused

ADDRESS = "127.0.0.1"  # this computer only: a price book has no passwords
START_SECONDS = 60.0
LARGEST_UPLOAD_MB = 32
_ROOT = Path(__file__).resolve().parents[2]  # where the packages stand
_OPTIONS = {
    "server.address": ADDRESS,
    "server.headless": "true",  # this file opens the browser, not the server
    "server.fileWatcherType": "none",
    "server.enableXsrfProtection": "true",
    "server.enableCORS": "true",
    "server.maxUploadSize": str(LARGEST_UPLOAD_MB),
    "browser.gatherUsageStats": "false",
    # a date may start from a default and be set by the choice of another dish: no need to warn
    "global.disableWidgetStateDuplicationWarning": "true",
    # Python's own search for what is no longer used is enough: one after every run, even one that
    # only looks whether the book has changed, is most of what a page at rest costs
    "runner.postScriptGC": "false",
    "browser.serverAddress": ADDRESS,
    "client.toolbarMode": "minimal",
    "client.showErrorDetails": "none",  # a bug's traceback is for this terminal, not for the page
    "client.showErrorLinks": "false",
    "theme.paddingTop": "2rem",
    "theme.light.primaryColor": "#0072B2",
    "theme.light.textColor": "#14120F",  # captions, at 60 % of it, have 4.8 to 1 on white
    "theme.dark.primaryColor": "#1B7CBB",  # white letters on it have 4.5 to 1 (WCAG 2.2, 1.4.3)
}


def serve(book: Path, port: int) -> None:
    """Serve the pages of `book` on 127.0.0.1 at `port`, or the next free one, until Ctrl+C.

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
            if has_display():
                webbrowser.open(address)
            status = server.wait()
        except KeyboardInterrupt:
            print("Stopped.", flush=True)
            return
    raise InputRefused(f"The dashboard's server ended by itself (status {status}). Start it again.")


def free_port(wanted: int) -> int:
    """Return `wanted`, or the next port on which nothing listens. Raises InputRefused."""
    if not 1 <= wanted <= 65535:
        raise InputRefused(
            f"Found port {wanted}; expected a number from 1 to 65535. Give another with --port."
        )
    for port in range(wanted, min(wanted + 100, 65536)):
        with socket.socket() as tried:
            if os.name == "posix":  # a port that was just let go may be taken again
                tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                tried.bind((ADDRESS, port))
            except OSError:
                continue
            return port
    raise InputRefused(f"Found no free port from {wanted} on. Give another with --port.")


def has_display() -> bool:
    """Tell whether a browser could open here."""
    if os.environ.get("SSH_CONNECTION"):
        return False
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


@contextmanager
def _running(book: Path, port: int) -> Iterator[subprocess.Popen[bytes]]:
    options = {**_OPTIONS, "server.port": str(port), "browser.serverPort": str(port)}
    flags = [f"--{name}={value}" for name, value in options.items()]
    paths = [str(_ROOT), *filter(None, [os.environ.get("PYTHONPATH")])]
    server = subprocess.Popen(
        [sys.executable, "-m", "dashboard.served", *flags],
        env={
            **os.environ,
            "PORTIONDRIFT_BOOK": str(book.resolve()),
            "PYTHONPATH": os.pathsep.join(paths),
        },
        stdin=subprocess.PIPE,  # its end tells the server that this process is gone
        stdout=subprocess.DEVNULL,  # the server's own greeting; errors go to stderr
        start_new_session=os.name == "posix",  # Ctrl+C reaches this process, which ends the other
    )
    before = signal.signal(signal.SIGTERM, _stop)
    try:
        yield server
    finally:
        signal.signal(signal.SIGTERM, before)
        server.terminate()
        try:
            server.wait(timeout=5)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()


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
