"""The command that opens the dashboard."""

from __future__ import annotations

from dashboard.terminal.options import Port
from dashboard.terminal.output import the_book


def serve(port: Port = 8501) -> None:
    """Open the web dashboard on this computer."""
    from dashboard.terminal.server import serve as run

    run(the_book().path, port)
