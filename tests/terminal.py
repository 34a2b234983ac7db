"""Runs `portiondrift` as from a terminal: in this process, or in one of its own."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import traceback
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

import pytest

from dashboard import cli
from tests.kitchen import TODAY

Done = subprocess.CompletedProcess[str]


def run(*arguments: str, book: Path | None = None) -> Done:
    """Run `portiondrift` here: the same status and the same words, in a fifth of the time.

    What only a process has (what it imports, its locks and limits) is asked of `in_a_process`.
    """
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", write_through=True) for _ in range(2))
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(err):
        for name, value in _told(book).items():
            if value is None:
                patch.delenv(name, raising=False)
            else:
                patch.setenv(name, value)
        patch.setattr(sys, "argv", ["portiondrift", *arguments])
        _forget_options()
        status = _status()
    said = [stream.buffer.getvalue().decode("utf-8") for stream in (out, err)]  # type: ignore[attr-defined]
    return Done([*arguments], status, *said)


def in_a_process(*arguments: str, book: Path | None = None) -> Done:
    """Run `portiondrift` in a process of its own."""
    environment = {**os.environ, **_told(book)}
    return subprocess.run(
        [sys.executable, "-m", "dashboard.cli", *arguments],
        env={name: value for name, value in environment.items() if value is not None},
        capture_output=True, text=True, check=False,
    )  # fmt: skip


def answer(*arguments: str, book: Path, status: int = 0) -> dict[str, Any]:
    """Run with --json; stdout must be one JSON object and nothing else."""
    done = run(*arguments, book=book)
    assert done.returncode == status, done.stderr
    assert done.stdout.count("\n") == 1
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


def _told(book: Path | None) -> dict[str, str | None]:
    """Return the environment of a command: the day, the width of the terminal, the book."""
    return {
        "PORTIONDRIFT_TODAY": TODAY.isoformat(),
        "COLUMNS": "160",
        "PORTIONDRIFT_BOOK": None if book is None else str(book),
    }


def _forget_options() -> None:
    """Set the options before the command back, as a new process finds them."""
    callback = cli.app.registered_callback
    assert callback is not None
    assert callback.callback is not None
    callback.callback(book=None, json=False)


def _status() -> int:
    try:
        cli.main()
    except SystemExit as end:
        if isinstance(end.code, str):
            sys.stderr.write(f"{end.code}\n")
        return end.code if isinstance(end.code, int) else int(end.code is not None)
    except Exception:  # what a process would end with
        traceback.print_exc()
        return 1
    return 0
