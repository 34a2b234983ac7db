"""The process that serves the phone's room to the home network, and tells each code."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import uvicorn

from dashboard.let_go import end_when_let_go
from dashboard.phone.answers import application
from dashboard.phone.gate import Gate


def serve_to_the_network(
    book: str, address: str, port: int, certificate: str | None, key: str | None
) -> None:
    """Serve until standard input is closed; each line of standard output is a code."""
    end_when_let_go()
    gate = Gate(tell=lambda code: print(code, flush=True))
    uvicorn.run(
        application(Path(book), gate, encrypted=certificate is not None),
        host=address,
        port=port,
        ssl_certfile=certificate,
        ssl_keyfile=key,
        access_log=False,
        log_level="warning",
        server_header=False,
        limit_concurrency=64,
        ws="none",
    )


if __name__ == "__main__":
    serve_to_the_network(**json.loads(sys.argv[1]))
