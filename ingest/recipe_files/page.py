"""Finds the recipes of a web page or a JSON file by what schema.org marks up in it."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator

from ingest.recipe_files.from_node import from_node
from ingest.recipe_files.json_text import BrokenJson, read_json, recipes_in
from ingest.recipe_files.microdata import has_microdata, microdata_in
from ingest.recipe_files.recipe import ReadRecipe, RecipesRead
from ingest.recipe_files.tags import MOST_TAGS
from ingest.text.sentences import counted
from pricing.errors import Problem

_PAGE = re.compile(
    r"<(?:!doctype\s+html|html|head|body|script|div|article|section|main|meta|title)\b", re.I
)
_SCRIPT, _SCRIPT_END = re.compile(r"<script\b", re.I), re.compile(r"</script", re.I)
_COPY = "Copy the recipe's text out of it, and load that."


def is_page(text: str) -> bool:
    """Tell whether a text is a web page or a part of one.

    >>> is_page("<!DOCTYPE html>"), is_page("<Invoice>"), is_page("Leek pie <3")
    (True, False, False)
    """
    return text.lstrip("\ufeff \t\n").startswith("<") and bool(_PAGE.search(text[:20000]))


def is_json(text: str) -> bool:
    """Tell whether a text begins as JSON does."""
    return bool(re.match(r"\ufeff?\s*(?:\{\s*[\"}]|\[\s*[\[{\"\]])", text))


def read_page(text: str) -> RecipesRead:
    """Return the recipes of a page, of its JSON-LD, else its microdata; or why there are none."""
    found: list[ReadRecipe] = []
    broken: list[Problem] = []
    for start, script in _scripts(text):
        try:
            found += map(from_node, recipes_in(read_json(script)))
        except BrokenJson as error:
            if "Recipe" in script:
                broken.append(_broken(text.count("\n", 0, start) + 1, error))
    if not any(recipe.lines for recipe in found) and has_microdata(text):
        if (many := text.count("<")) > MOST_TAGS:
            limit = f"at most {MOST_TAGS:,}"
            return RecipesRead(
                form=None, problems=(_problem(f"a web page of {many:,} tags", limit, _COPY),)
            )
        found += map(from_node, recipes_in(microdata_in(text)))
    return _told(found, broken, "a web page")


def read_json_file(text: str) -> RecipesRead:
    """Return the recipes of a JSON file."""
    try:
        found = [from_node(node) for node in recipes_in(read_json(text))]
    except BrokenJson as error:
        if '"Recipe"' not in text[:100_000] and "schema.org/Recipe" not in text[:100_000]:
            return RecipesRead(form=None, problems=(_broken(None, error),))
        return RecipesRead(form="recipe-page", problems=(_broken(None, error),))
    return _told(found, [], "a JSON file")


def _told(found: list[ReadRecipe], broken: list[Problem], what: str) -> RecipesRead:
    recipes = tuple(dict.fromkeys(recipe for recipe in found if recipe.lines))
    if recipes:
        return RecipesRead(form="recipe-page", recipes=recipes)
    if broken:
        return RecipesRead(form="recipe-page", problems=tuple(broken))
    if found:
        with_names = counted(len(found), "recipe")
        problem = _problem(
            f"{what} that names {with_names} without ingredients",
            "recipes with their ingredients",
            "Open the page of the recipe itself, and load that.",
        )
        return RecipesRead(form="recipe-page", problems=(problem,))
    return _none(f"{what} without a recipe in it", "a recipe marked up by schema.org, or text")


def _none(found: str, expected: str) -> RecipesRead:
    return RecipesRead(form=None, problems=(_problem(found, expected, _COPY),))


def _scripts(text: str) -> Iterator[tuple[int, str]]:
    """Yield the JSON-LD blocks of a page, and the place in it at which each begins."""
    at = 0
    while True:
        start = _SCRIPT.search(text, at)
        opened = text.find(">", start.end()) if start else -1
        if start is None or opened < 0:
            return
        ends = _SCRIPT_END.search(text, opened)
        end = ends.start() if ends else len(text)
        if "ld+json" in html.unescape(text[start.end() : opened]).lower():
            yield opened, text[opened + 1 : end]
        at = end


def _broken(line: int | None, error: BrokenJson) -> Problem:
    return Problem(
        line=line,
        column=None,
        found=f"JSON that is broken: {error.why}",
        expected="the whole of a recipe's data",
        remedy="Save the page again, or copy the recipe's text out of it, and load that.",
    )


def _problem(found: str, expected: str, remedy: str) -> Problem:
    return Problem(line=None, column=None, found=found, expected=expected, remedy=remedy)
