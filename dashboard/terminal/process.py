"""A server in a process of its own, which ends with this one."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

_ROOT = Path(__file__).resolve().parents[2]  # where the packages stand


@contextmanager
def process(
    module: str, arguments: Sequence[str], book: Path, *, says: bool = False
) -> Iterator[subprocess.Popen[bytes]]:
    """Run a module on a book until the block ends; `says`: what it prints is read here."""
    paths = [str(_ROOT), *filter(None, [os.environ.get("PYTHONPATH")])]
    server = subprocess.Popen(
        [sys.executable, "-m", module, *arguments],
        env={
            **os.environ,
            "PORTIONDRIFT_BOOK": str(book.resolve()),
            "PYTHONPATH": os.pathsep.join(paths),
        },
        stdin=subprocess.PIPE,  # its end tells the server that this process is gone
        # else the server's own greeting, which nobody needs; errors go to stderr
        stdout=subprocess.PIPE if says else subprocess.DEVNULL,
        start_new_session=os.name == "posix",  # Ctrl+C reaches this process, which ends the other
    )
    try:
        yield server
    finally:
        server.terminate()
        try:
            server.wait(timeout=5)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()
