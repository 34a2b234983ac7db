"""Builds the book of the invented demo kitchen through ingest's public door."""

from __future__ import annotations

from pathlib import Path

from ingest.load import load_bytes, undo
from ingest.new_book import create_book
from pricing.book.connect import Book, open_book
from pricing.change.compare import compare
from pricing.change.records import Comparison
from pricing.clock import today
from pricing.contents.printed import PrintedFigure, first_printed, list_printed
from pricing.errors import BookUnreadable

# Loaded in this order; prices_mistake.csv is a slip of the pen that is loaded and then undone.
_KINDS = ("ingredients", "measures", "prices", "dishes", "printed", "swaps")
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
        if report.problems or report.load is None:
            part.unlink()
            what = "; ".join(problem.sentence() for problem in report.problems)
            raise BookUnreadable(f"The demo file {name} was refused: {what or 'it adds nothing'}.")
        if name == MISTAKE:
            undo(book, report.load)
    part.rename(path)
    return Book(path=path)


def _is_demo(book: Book, files: list[tuple[str, str, bytes]]) -> bool:
    from pricing.book.keeping.info import info

    loaded = {(load["kind"], load["file"]) for load in info(book)["loads"]}
    return {(kind, name) for kind, name, _ in files} <= loaded


def then_and_now(book: Book) -> list[tuple[PrintedFigure, Comparison]]:
    """Return each dish's first printed figure with its change since, until today.

    Then: the day that figure was costed for, in the version printed. Now: today. A figure
    that is not out yet is left out.
    """
    return [
        (
            figure,
            compare(
                book,
                figure.dish,
                then=(figure.costed_on, figure.version),
                now=today(),
                recipe_day=figure.costed_on,
            ),
        )
        for figure in first_printed(list_printed(book)).values()
        if figure.published_on <= today()
    ]
