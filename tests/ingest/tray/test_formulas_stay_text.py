"""What looks like a formula in a name from elsewhere stays text in the files that are written."""

from __future__ import annotations

import csv
from pathlib import Path

from ingest.load import load_bytes, load_file
from pricing.book.connect import Book
from pricing.book.keeping.export import export
from tests.kitchen import TODAY, load, make_book
from tests.loading import ask

FORMULA = '=HYPERLINK("http://e.x")'
BEGINS = ("=", "+", "-", "@")


def test_names_of_decisions_and_titles_of_recipes_are_no_formulas(
    book: Book, tmp_path: Path
) -> None:
    table = f"Datum;Artikel;Preis;Inhalt\n13.10.2026;{FORMULA.replace(chr(34), chr(39))};1,20;1 kg"
    assert load_bytes(book, "prices", "t.csv", table.encode(), today=TODAY).waiting == 1
    words = FORMULA.replace('"', "'")
    decisions = f'words,ingredient,base\n"{words}",=1+1 sauce,g\n'
    assert load(book, "decisions", decisions).problems == ()
    recipe = "=2+2 Pie\nServes 4\n\n500 g leeks\n"
    assert load_bytes(book, "dishes", "r.txt", recipe.encode(), today=TODAY).problems == ()
    folder = tmp_path / "out"
    found = []
    for file in export(book, folder):
        with file.open(encoding="utf-8", newline="") as lines:
            found += [cell for row in csv.reader(lines) for cell in row]
    assert "'=1+1 sauce" in found
    assert "'=2+2 Pie" in found
    assert f"'{words}" in found
    assert [cell for cell in found if cell.startswith(BEGINS)] == []
    again = make_book(tmp_path / "again", {})
    for kind in ("ingredients", "measures", "dishes", "prices"):
        if (folder / f"{kind}.csv").exists():
            report = load_file(again, kind, folder / f"{kind}.csv", today=TODAY)
            assert report.problems == (), [each.sentence() for each in report.problems]
    assert ("=1+1 sauce",) in ask(again, "SELECT name FROM ingredient")
    assert ("=2+2 Pie",) in ask(again, "SELECT name FROM dish")
    assert ask(again, "SELECT product FROM observation") == [(words,)]
