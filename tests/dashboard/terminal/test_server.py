"""The server: its port, that it answers, and that nothing of it is left behind."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from dashboard.terminal.ports import ADDRESS, free_port
from dashboard.terminal.server import has_display
from pricing.book.connect import Book
from pricing.errors import InputRefused


@contextmanager
def taken_port() -> Iterator[int]:
    with socket.socket() as listener:
        listener.bind((ADDRESS, 0))
        listener.listen()
        yield listener.getsockname()[1]


def test_a_port_in_use_is_left_for_the_next_free_one() -> None:
    with taken_port() as port:
        found = free_port(port)
        assert port < found <= port + 100
    assert free_port(port) == port


@pytest.mark.parametrize("port", [0, -1, 65536])
def test_a_port_that_cannot_be_is_refused(port: int) -> None:
    with pytest.raises(InputRefused, match="from 1 to 65535"):
        free_port(port)


def test_a_browser_is_opened_only_where_there_is_a_display(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "SSH_CONNECTION"):
        monkeypatch.delenv(name, raising=False)
    assert not has_display()
    monkeypatch.setenv("DISPLAY", ":0")
    assert has_display()
    monkeypatch.setenv("SSH_CONNECTION", "192.0.2.1 22 192.0.2.2 22")
    assert not has_display()


@contextmanager
def serving(book: Path, port: int) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """Run `portiondrift serve`; yield the process and the line that says where it answers."""
    with subprocess.Popen(
        [sys.executable, "-m", "dashboard.cli", "--book", str(book), "serve", "--port", str(port)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        try:
            yield process, process.stdout.readline()
        finally:
            process.kill()


def answers(port: int) -> bool:
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    try:
        with direct.open(f"http://{ADDRESS}:{port}/_stcore/health", timeout=2) as reply:
            return bool(reply.status == 200)
    except OSError:
        return False


def goes_quiet(port: int, seconds: float = 60) -> bool:
    deadline = time.monotonic() + seconds
    while answers(port) and time.monotonic() < deadline:
        time.sleep(0.1)
    return not answers(port)


def test_ctrl_c_ends_the_server_and_leaves_nothing_behind(kitchen: Book) -> None:
    with taken_port() as taken:
        free = free_port(taken)
        with serving(kitchen.path, taken) as (process, line):
            assert line == f"Dashboard: http://{ADDRESS}:{free}  (stop with Ctrl+C)\n"
            assert answers(free)
            process.send_signal(signal.SIGINT)
            said, problems = process.communicate(timeout=60)
        assert process.returncode == 0
        assert said == "Stopped.\n"
        assert f"Port {taken} is in use; taking {free}." in problems
        assert "Traceback" not in problems
        assert goes_quiet(free)


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL is of POSIX systems")
def test_the_server_ends_even_when_its_starter_is_killed(kitchen: Book) -> None:
    port = free_port(18731)
    with serving(kitchen.path, port) as (process, line):
        assert line.startswith("Dashboard:")
        process.kill()
        process.wait(timeout=60)
        assert goes_quiet(port)
