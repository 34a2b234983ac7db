"""The command that suggests official series for ingredients."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, remark, the_book
from dashboard.terminal.text_table import text_table
from ingest.offices.suggest import Suggested

if TYPE_CHECKING:
    from ingest.offices.suggest import Suggested


def index_suggest(
    ingredient: Annotated[
        str | None, typer.Argument(help="All without a series unless stated.")
    ] = None,
    office: Annotated[str | None, typer.Option("--office", help="Only series of this one.")] = None,
    write: Annotated[
        Path | None, typer.Option("--write", help="Write a file to look through and load.")
    ] = None,
    weak: Annotated[
        bool, typer.Option("--weak", help="Show weak guesses, too; most of them are wrong.")
    ] = False,
    json: Json = False,
) -> None:
    """Suggest official series for ingredients; nothing is changed until you load them."""
    from ingest.offices.suggest import suggest

    found = suggest(the_book(), ingredient, office=office, weak=weak)
    if write is not None:
        _write(found, write)
        remark(
            f"Wrote {write}: look through it, then "
            f"`portiondrift load ingredients {write} --replace`."
        )
    answer(
        {"ingredients": [each.as_json() for each in found]},
        lambda: suggested_text(found),
        as_json=json,
    )


def _write(found: list[Suggested], path: Path) -> None:
    """Write the best suggestion of each ingredient, in the form of an ingredients file."""
    from pricing.errors import InputRefused

    try:
        with path.open("x", encoding="utf-8", newline="") as file:
            out = csv.writer(file, lineterminator="\n")
            out.writerow(["ingredient", "base", "series", "title of the series", "score"])
            for each in found:
                for best in each.suggestions[:1]:
                    out.writerow([each.ingredient, each.base, best.series, best.title, best.score])
    except OSError as error:
        raise InputRefused(
            f"Cannot write {path}: {error.strerror or error}. Name a new file in a folder of yours."
        ) from error


def suggested_text(found: Sequence[Suggested]) -> str:
    """Return ingredients with the series that may move their prices, best first."""
    if not found:
        return "Every ingredient names a series. Ask for one: `portiondrift index suggest NAME`."
    rows = []
    for each in found:
        name = each.ingredient
        for best in each.suggestions:
            fit = f"{best.score:.2f}{' weak' if best.weak else ''}"
            rows.append([name, best.series, fit, best.last_month or "", best.title])
            name = ""
        if not each.suggestions:
            rows.append([name, "—", "", "", "no title in the book names it"])
    table = text_table(["Ingredient", "Series", "Fit", "To", "Title"], rows, right=(2,))
    return (
        f"{table}\n\nNothing is changed; weak guesses are shown only with --weak. To take what is "
        "shown: `index suggest --write FILE`, look through FILE, then `load ingredients FILE "
        "--replace`."
    )
