"""Reads the recipes of a file, told by its content alone to be a web page, JSON or text."""

from __future__ import annotations

import re

from ingest.recipe_files.kinds_of_line import read_line
from ingest.recipe_files.page import is_json, is_page, read_json_file, read_page
from ingest.recipe_files.plain import read_plain
from ingest.recipe_files.recipe import ReadRecipe, RecipesRead
from ingest.recipe_files.words import anywhere
from ingest.text.any_encoding import read_any_text
from ingest.text.sentences import counted, quoted
from pricing.errors import Problem

MOST_LINES = 10_000  # of a text
MOST_INGREDIENTS = 500  # of one recipe
_EXPECTED = "a web page with a recipe, or a recipe's text"
_ARCHIVE = re.compile(r"(?:From|MIME-Version|Content-Type|Snapshot-Content-Location):", re.I)
_XML = re.compile(r"\ufeff?\s*<\?xml")


def read_recipes(data: bytes, name: str) -> RecipesRead:
    """Return the recipes of a file, or why there are none; `name` is used in sentences alone.

    >>> read = read_recipes(b"Leek pie\\nServes 4\\n\\n200 g leeks\\n3 eggs\\n", "pie.txt")
    >>> read.form, read.recipes[0].title, read.recipes[0].lines
    ('recipe-text', 'Leek pie', ((4, '200 g leeks'), (5, '3 eggs')))
    """
    text = read_any_text(data, _EXPECTED)
    if isinstance(text, Problem):
        return RecipesRead(form=None, problems=(text,))
    if is_page(text):
        return _understood(read_page(text))
    if is_json(text):
        return _understood(read_json_file(text))
    if _ARCHIVE.match(text) and "multipart/related" in text[:4000]:
        return _none("a web page saved as an archive (MHTML)", "Save it as HTML alone.")
    if _XML.match(text):
        return _none(
            "XML", "An e-invoice is a file of prices: load it so. Of a recipe copy the text."
        )
    if not text.strip():
        return _none(f"an empty file {quoted(name)}", "Copy the recipe's text into it.")
    lines = text.count("\n") + 1
    if lines > MOST_LINES:
        return _none(f"a text of {lines:,} lines", "Split it: the recipes of a text of at most "
                     f"{MOST_LINES:,} lines are read.")  # fmt: skip
    recipes = tuple(read_plain(text))
    if not recipes:
        return _without_amounts(text)
    return _understood(RecipesRead(form="recipe-text", recipes=recipes))


def _understood(read: RecipesRead) -> RecipesRead:
    """Refuse recipes of which no line has an amount or a unit that is known."""
    if endless := next((each for each in read.recipes if len(each.lines) > MOST_INGREDIENTS), None):
        found = f"{_named(endless)} with {len(endless.lines):,} ingredients"
        least = f"at most {MOST_INGREDIENTS}"
        problem = _problem(found, least, "Part it, or check what it is.")
        return RecipesRead(form=read.form, problems=(problem,))
    unread = [recipe for recipe in read.recipes if not _has_amounts(recipe)]
    if not unread:
        return read
    problems = tuple(
        _problem(
            f"{_named(recipe)}, of whose "
            f"{counted(len(recipe.lines), 'line')} none has an amount that can be read",
            "amounts and units of English recipes, or in g, kg, ml, cl, dl, l and numbers",
            "The words of its language may not be known: write the amounts in these.",
            recipe.lines[0][0] if read.form == "recipe-text" else None,
        )
        for recipe in unread
    )
    return RecipesRead(form=read.form, problems=problems)


def _named(recipe: ReadRecipe) -> str:
    return quoted(recipe.title) if recipe.title else "a recipe"


def _has_amounts(recipe: ReadRecipe) -> bool:
    return any(read_line(line).quantity is not None for _, line in recipe.lines)


def _without_amounts(text: str) -> RecipesRead:
    lines = [line for line in text.split("\n") if line.strip()]
    heading = anywhere("ingredients", "method", "served").search(text[:100_000])
    if re.search(r"\d", text) and not heading:
        return _none(
            f"a text of {counted(len(lines), 'line')} in which no amount of anything can be read",
            "The words of its language may not be known: write one ingredient a line, its amount "
            "in g, kg, ml, cl, dl, l or a number.",
        )
    return _none(
        f"a text of {counted(len(lines), 'line')} without an ingredient and its amount",
        "Write one ingredient a line, its amount first, such as 200 g leeks.",
    )


def _none(found: str, remedy: str) -> RecipesRead:
    return RecipesRead(form=None, problems=(_problem(found, _EXPECTED, remedy),))


def _problem(found: str, expected: str, remedy: str, line: int | None = None) -> Problem:
    return Problem(line=line, column=None, found=found, expected=expected, remedy=remedy)
