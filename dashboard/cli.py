"""The entry of `portiondrift`: runs a command; a user's error is one sentence and a status."""

from __future__ import annotations

import io
import sys

from dashboard import terminal
from dashboard.commands import answers, book, claims, data, series, series_use, web, weights, why
from dashboard.commands.app import app
from pricing.errors import PortionDriftError

COMMANDS = (
    book,
    data,
    answers,
    why,
    claims,
    series,
    series_use,
    weights,
    web,
)  # importing them made their commands


def main() -> None:
    """Run a command; an error a user can mend is one sentence and an exit status."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # amounts and tables need more than ASCII
            stream.reconfigure(encoding=None if stream.isatty() else "utf-8", errors="replace")
    try:
        app(_book_first(sys.argv[1:]))
    except PortionDriftError as error:
        sys.exit(terminal.refused(error))
    except KeyboardInterrupt:
        sys.exit(130)
    except BrokenPipeError:
        sys.exit(1)


def _book_first(arguments: list[str]) -> list[str]:
    """Let --book stand after the command, too."""
    for place, word in enumerate(arguments):
        if word == "--":
            break
        if word == "--book":
            return arguments[place : place + 2] + arguments[:place] + arguments[place + 2 :]
        if word.startswith("--book="):
            return [word, *arguments[:place], *arguments[place + 1 :]]
    return arguments


if __name__ == "__main__":
    main()
