"""The entry of `portiondrift`: runs a command; a user's error is one sentence and a status."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable

import typer

from dashboard.terminal import (
    amount,
    backup,
    bench,
    card,
    check,
    compare,
    cost,
    demo,
    dishes,
    drift,
    drivers,
    evidence,
    export,
    index_check,
    index_fetch,
    index_link,
    index_list,
    index_load,
    index_show,
    index_suggest,
    inflation,
    info,
    ingredients,
    init,
    load,
    outlook,
    output,
    price,
    prices,
    printed,
    publish,
    rebase,
    report,
    reprint,
    restore,
    season,
    serve,
    setting,
    swap,
    swaps,
    till,
    tray,
    undo,
    weights,
)
from dashboard.terminal.app import app, index
from dashboard.terminal.table_format import with_format
from pricing.errors import PortionDriftError

COMMANDS: tuple[Callable[..., None], ...] = (
    cost.cost,
    drift.drift,
    compare.compare,
    rebase.rebase,
    init.init,
    info.info,
    dishes.dishes,
    ingredients.ingredients,
    prices.prices,
    setting.setting,
    check.check,
    backup.backup,
    restore.restore,
    export.export,
    printed.printed,
    publish.publish,
    reprint.reprint,
    report.report,
    card.card,
    evidence.evidence,
    load.load,
    tray.tray,
    undo.undo,
    price.price,
    swaps.swaps,
    amount.amount,
    swap.swap,
    till.till,
    bench.bench,
    serve.serve,
    demo.demo,
    weights.weights,
    drivers.drivers,
    inflation.inflation,
    season.season,
    outlook.outlook,
)  # as --help lists them
INDEX_COMMANDS: dict[str, Callable[..., None]] = {
    "list": index_list.index_list,
    "show": index_show.index_show,
    "load": index_load.index_load,
    "fetch": index_fetch.index_fetch,
    "suggest": index_suggest.index_suggest,
    "link": index_link.index_link,
    "check": index_check.index_check,
}


def _as_asked(command: Callable[..., None]) -> Callable[..., None]:
    """Return a command; one whose file lays out tables takes --format, too."""
    tables = hasattr(sys.modules[command.__module__], "text_table")
    return with_format(command, output.choose_format) if tables else command


for each in COMMANDS:
    app.command(cls=load.LoadCommand if each is load.load else None)(_as_asked(each))
for name, each in INDEX_COMMANDS.items():
    index.command(name)(_as_asked(each))

# what every wrong command raises; it has no public name
UsageError: type[Exception] = typer.BadParameter.__bases__[0]


def main() -> None:
    """Run a command; an error a user can mend is one sentence and an exit status."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # amounts and tables need more than ASCII
            stream.reconfigure(encoding=None if stream.isatty() else "utf-8", errors="replace")
    try:
        # not standalone: a wrong command is answered here, as JSON too where that was asked for
        sys.exit(app(_book_first(sys.argv[1:]), standalone_mode=False))
    except UsageError as error:
        sys.exit(output.misused(error))
    except PortionDriftError as error:
        sys.exit(output.refused(error))
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
