"""The process that serves the pages: it ends when the process that started it does."""

from __future__ import annotations

import gc
import json
import sys
import threading
from pathlib import Path

import streamlit
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route
from streamlit.starlette import App

from dashboard.let_go import end_when_let_go
from dashboard.views.pages import FORMER, TITLES

APP = Path(__file__).resolve().with_name("app.py")
_INDEX = Path(streamlit.__file__).parent / "static" / "index.html"
# Without it the page of a room, such as /dishes, would first ask for /dishes/_stcore/health, which
# is not there: two errors in the browser's console, and two replies that are waited for.
_WHERE = '<script>window.__streamlit = {BACKEND_BASE_URL: window.location.origin + "/"}</script>'


def rooms() -> list[Route]:
    """Return the rooms' addresses: each answers with a page that knows where its server is."""
    text = _INDEX.read_text("utf-8").replace("<head>", f"<head>{_WHERE}", 1)

    async def index(request: Request) -> Response:
        return HTMLResponse(text, headers={"Cache-Control": "no-cache"})

    return [Route(f"/{name}", index, methods=["GET"]) for name in ("", *TITLES, *FORMER)]


def serve_until_let_go(options: dict[str, str | int | bool]) -> None:
    """Serve the pages with these options of the server, until standard input is closed."""
    end_when_let_go()
    threading.Thread(target=get_ready, daemon=True).start()
    sys.argv = [str(APP)]  # its folder is what the server puts on the path of modules
    App(APP, routes=rooms()).run(config=options)


def get_ready() -> None:
    """Read the libraries of the pages while the server starts and the browser draws its frame.

    They stay for good: Python's search for what is no longer used then leaves them out, which
    takes a twelfth of a second each time that it looks through all of them.
    """
    import dashboard.app  # noqa: F401

    gc.collect()
    gc.freeze()


if __name__ == "__main__":
    serve_until_let_go(json.loads(sys.argv[1]))
