"""Another process that uses a book, for tests of who may do what at the same time."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]
NOBODY = 65534

as_nobody = pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only the superuser becomes another"
)

_HOLD = """
import sys, duckdb
con = duckdb.connect(sys.argv[1], read_only=sys.argv[2] == "reading")
print("holding", flush=True)
sys.stdin.readline()
"""


@contextmanager
def holding(path: Path, how: str) -> Iterator[subprocess.Popen[str]]:
    """Let another process hold the book, `reading` or `writing`, until the block ends."""
    with subprocess.Popen(
        [sys.executable, "-c", _HOLD, str(path), how],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        assert process.stdout.readline() == "holding\n"
        try:
            yield process
        finally:
            process.stdin.close()
            process.wait(timeout=60)


def run(code: str, *arguments: str | Path, uid: int | None = None) -> str:
    """Run Python code in a process of its own and return what it printed.

    The superuser may write anywhere, so with `uid` the code runs as that user; it is given `main`
    to call after its imports, which a stranger might not be able to read.
    """
    become = f"import os; os.setuid({uid})\n" if uid is not None else ""
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\n{become}main()", *map(str, arguments)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout
