"""A server on this machine in the place of every office: documented answers and faults."""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

FOLDER = Path(__file__).parent / "specimens"


@dataclass(kw_only=True)
class Asked:
    """One request as it came in."""

    host: str  # the office's host, which is the first part of the path here
    path: str  # with its query
    headers: dict[str, str]
    body: bytes

    def json(self) -> object:
        return json.loads(self.body)


@dataclass(kw_only=True)
class Answer:
    """What is sent back."""

    content: bytes = b""
    status: int = 200
    headers: dict[str, str] = field(default_factory=dict)
    cut_at: int | None = None  # promise all bytes, send so many


@dataclass(kw_only=True)
class StandIn:
    """The server's script: host → what it says to each request in turn, the last for ever."""

    url: str
    says: dict[str, list[Answer] | Callable[[Asked], Answer]] = field(default_factory=dict)
    asked: list[Asked] = field(default_factory=list)

    def answer(self, asked: Asked) -> Answer:
        self.asked.append(asked)
        said = self.says.get(asked.host)
        if said is None:
            return Answer(status=404, content=b"no such office here")
        if callable(said):
            return said(asked)
        return said.pop(0) if len(said) > 1 else said[0]


def specimen(name: str, **words: object) -> Answer:
    """Return a specimen file as an answer."""
    return Answer(content=(FOLDER / name).read_bytes(), **words)  # type: ignore[arg-type]


@contextmanager
def serving() -> Iterator[StandIn]:
    """Run the server on a free port of 127.0.0.1 for the length of a test."""

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            self._respond()

        def do_POST(self) -> None:
            self._respond()

        def _respond(self) -> None:
            length = int(self.headers.get("Content-Length") or 0)
            _, host, path = self.path.split("/", 2)
            asked = Asked(
                host=host, path=f"/{path}", headers=dict(self.headers), body=self.rfile.read(length)
            )
            answer = stand_in.answer(asked)
            self.send_response(answer.status)
            for name, value in answer.headers.items():
                self.send_header(name, value)
            self.send_header("Content-Length", str(len(answer.content)))
            self.end_headers()
            self.wfile.write(answer.content[: answer.cut_at])

        def log_message(self, format: str, *args: object) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    stand_in = StandIn(url=f"http://127.0.0.1:{server.server_address[1]}")
    thread = threading.Thread(
        target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True
    )
    thread.start()
    try:
        yield stand_in
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
