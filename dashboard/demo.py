"""Builds the book of the invented demo kitchen through ingest's public door, and reads it out."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from dashboard.answers import shown_change, signed_percent
from dashboard.text_table import text_table
from ingest.load import load_bytes, undo
from ingest.new_book import create_book
from pricing.book.connect import Book, open_book
from pricing.change.compare import compare
from pricing.clock import today
from pricing.contents.printed import first_claims
from pricing.days import month_words
from pricing.errors import BookUnreadable
from pricing.money import show_money

# Loaded in this order; prices_mistake.csv is a slip of the pen that is loaded and then undone.
_KINDS = ("ingredients", "measures", "prices", "dishes", "claims", "swaps")
MISTAKE = "prices_mistake.csv"
FOLDER = Path(__file__).parents[1] / "demo_prices"  # beside this package, installed or not


def _files() -> list[tuple[str, str, bytes]]:
    """Return (kind, file name, bytes) of the demo's files, in loading order."""
    names = sorted(each.name for each in FOLDER.glob("*.csv"))
    return [
        (kind, name, (FOLDER / name).read_bytes())
        for kind in _KINDS
        for name in names
        if name.split(".")[0].split("_")[0] == kind
    ]


def demo_path(named: Path | None) -> Path:
    """Return where the demo book goes: the file named, else one in the user's data folder."""
    if named is not None:
        return named
    import platformdirs

    return Path(platformdirs.user_data_dir("portiondrift", appauthor=False)) / "demo.duckdb"


def make_demo(path: Path) -> Book:
    """Return the demo book at `path`, built now unless it stands there already.

    Raises BookUnreadable when another book stands there.
    """
    files = _files()
    if path.exists():
        book = open_book(path)
        if not _is_demo(book, files):
            raise BookUnreadable(
                f"Found a price book at {path} already that is not this version's demo kitchen; "
                "expected none, so that nothing is overwritten. Name another file with --book."
            )
        return book
    part = path.with_name(path.name + ".part")
    part.unlink(missing_ok=True)
    book = create_book(part, "USD", "us")
    for kind, name, data in files:
        report = load_bytes(book, kind, name, data, today=today())
        if report.problems or report.batch is None:
            part.unlink()
            what = "; ".join(problem.sentence() for problem in report.problems)
            raise BookUnreadable(f"The demo file {name} was refused: {what or 'it adds nothing'}.")
        if name == MISTAKE:
            undo(book, report.batch)
    part.rename(path)
    return Book(path=path)


def _is_demo(book: Book, files: list[tuple[str, str, bytes]]) -> bool:
    from pricing.book.keeping.info import info

    held = {(batch["kind"], batch["file"]) for batch in info(book)["batches"]}
    return {(kind, name) for kind, name, _ in files} <= held


def then_and_now(book: Book) -> tuple[list[dict[str, Any]], str]:
    """Return the dishes then and now, as rows and as text.

    Then: the day a dish's cost was first published, in the version published. Now: today.
    """
    rows, table, currency = [], [], ""
    for claim in first_claims(book):
        found = compare(book, claim.dish, then=(claim.published_on, claim.version), now=today())
        corners, currency = found.corners, found.currency
        rows.append(
            {
                "dish": claim.dish,
                "published_on": claim.published_on,
                "published": claim.cost_per_portion,
                "then": corners.then_recipe_then,
                "now": corners.now_recipe_now,
                "change": found.change,
                "price_effect": found.price_effect,
                "recipe_effect": found.recipe_effect,
            }
        )
        table.append(
            [
                claim.dish,
                month_words(claim.published_on),
                show_money(claim.cost_per_portion, currency),
                show_money(corners.then_recipe_then, currency),
                show_money(corners.now_recipe_now, currency),
                signed_percent(found.change / corners.then_recipe_then),
                *shown_change(found)[1:],
            ]
        )
    text = "\n".join(
        [
            f"The demo kitchen, an invented one: cost per portion then and now ({today()})",
            "",
            text_table(
                ["Dish", "Published", "Printed", "Then", "Now", "Change", "By price", "By recipe"],
                table,
                right=(2, 3, 4, 5, 6, 7),
            ),
            "",
            "Printed: as published. Then: recosted for that day. By price and by recipe add up to "
            "the change.",
            f"Cost one yourself:  portiondrift --book '{book.path}' cost '{rows[0]['dish']}' "
            f"--on {today()}"
            if rows
            else "",
        ]
    )
    return rows, text
