"""The process that serves the pages: it ends when the process that started it does."""

from __future__ import annotations

import gc
import os
import sys
import threading
from pathlib import Path

APP = Path(__file__).resolve().with_name("app.py")


def serve_until_let_go(flags: list[str]) -> None:
    """Serve the pages with these flags of the server, until standard input is closed."""

    def follow() -> None:
        while os.read(0, 1):  # nothing is ever written: it returns when the other end is closed
            pass
        os._exit(0)

    threading.Thread(target=follow, daemon=True).start()
    threading.Thread(target=get_ready, daemon=True).start()
    from streamlit.web import cli

    sys.argv = ["streamlit", "run", str(APP), *flags]
    cli.main()


def get_ready() -> None:
    """Read the libraries of the pages while the server starts and the browser draws its frame.

    They stay for good: Python's search for what is no longer used then leaves them out, which
    takes a twelfth of a second each time that it looks through all of them.
    """
    import dashboard.app  # noqa: F401

    gc.collect()
    gc.freeze()


if __name__ == "__main__":
    serve_until_let_go(sys.argv[1:])
