"""The entry of `portiondrift`: runs a command; a user's error is one sentence and a status."""

from __future__ import annotations

import io
import os
import sys

import typer

from dashboard import terminal
from dashboard.commands import (
    answers,
    book,
    claims,
    data,
    series,
    series_use,
    swaps,
    till,
    web,
    weights,
    why,
)
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
    swaps,
    till,
    weights,
    web,
)  # importing them made their commands


UsageError = typer.BadParameter.__bases__[0]  # what every wrong command raises: has no public name


def main() -> None:
    """Run a command; an error a user can mend is one sentence and an exit status."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # amounts and tables need more than ASCII
            stream.reconfigure(encoding=None if stream.isatty() else "utf-8", errors="replace")
    try:
        # not standalone: a wrong command is answered here, as JSON too where that was asked for
        sys.exit(app(_book_first(sys.argv[1:]), standalone_mode=False))
    except UsageError as error:
        sys.exit(terminal.misused(error))
    except PortionDriftError as error:
        sys.exit(terminal.refused(error))
    except KeyboardInterrupt:
        sys.exit(130)
    except BrokenPipeError:
        # nobody reads the rest; without this Python complains when it flushes at the end
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
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
