"""The entry of `portiondrift`: runs a command; a user's error is one sentence and a status."""

from __future__ import annotations

import sys

from dashboard import terminal
from dashboard.commands import answers, book, data, series, web
from dashboard.commands.app import app
from pricing.errors import PortionDriftError

COMMANDS = (book, data, answers, series, web)  # importing them made their commands


def main() -> None:
    """Run a command; an error a user can mend is one sentence and an exit status."""
    try:
        app()
    except PortionDriftError as error:
        sys.exit(terminal.refused(error))
    except KeyboardInterrupt:
        sys.exit(130)
    except BrokenPipeError:
        sys.exit(1)


if __name__ == "__main__":
    main()
