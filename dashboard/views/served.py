"""The process that serves the pages: it ends when the process that started it does."""

from __future__ import annotations

import os
import sys
import threading
from pathlib import Path

APP = Path(__file__).resolve().parents[1] / "app.py"


def serve_until_let_go(flags: list[str]) -> None:
    """Serve the pages with these flags of the server, until standard input is closed."""

    def follow() -> None:
        while os.read(0, 1):  # nothing is ever written: it returns when the other end is closed
            pass
        os._exit(0)

    threading.Thread(target=follow, daemon=True).start()
    from streamlit.web import cli

    sys.argv = ["streamlit", "run", str(APP), *flags]
    cli.main()


if __name__ == "__main__":
    serve_until_let_go(sys.argv[1:])
