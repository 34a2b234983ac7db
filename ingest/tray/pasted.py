"""Reads a recipe's text into the columns of a dishes file, for a page where it can be mended."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from ingest.kinds.decided import DecidedWords
from ingest.kinds.kitchen import Kitchen
from ingest.matching.known import Asked
from ingest.recipe_files.read import read_recipes
from ingest.recipe_files.recipe import ReadRecipe
from ingest.tray.proposer import matched_ingredients, proposer
from ingest.tray.recipe_rows import COLUMNS, RecipeReader, RecipeRows, said_of
from pricing.book.connect import Book, Connection, reading
from pricing.errors import InputRefused
from pricing.names import WAITING, nearest, waiting_words

_LINE = ("ingredient", "quantity", "unit", "note")
_MOST_OTHERS = 3


@dataclass(frozen=True, kw_only=True)
class PastedRecipe:
    """A recipe as it was read. What it does not say is blank."""

    head: Mapping[str, str]  # by column: dish, version, effective_from, portions, batch_weight_g
    lines: tuple[Mapping[str, str], ...]  # ingredient (or "waiting: WORDS"), quantity, unit, note
    likely: Mapping[str, tuple[str, ...]]  # words that wait → ingredients they may mean
    said: tuple[str, ...]  # what was decided for the reader


def read_pasted(book: Book, text: str, *, today: date) -> tuple[PastedRecipe, ...]:
    """Return the recipes of a text. Raises InputRefused where there is none, and BookUnreadable."""
    read = read_recipes(text.encode(), "the text")
    if read.problems:
        said = [f"Found {each.found}; expected {each.expected}." for each in read.problems]
        raise InputRefused(" ".join([*said, read.problems[0].remedy]))
    with reading(book) as con:
        kitchen = Kitchen(con)
        decided = DecidedWords(con, kitchen)
        found = []
        for recipe in read.recipes:
            reader = RecipeReader(kitchen, decided, told={}, before={}, today=today)
            found.append((recipe, reader.read([recipe], numbered=False)))
        words = {w for _, rows in found for _, _, cells in rows.rows for w in _waits(cells[5])}
        likely = _likely(con, kitchen, sorted(words))
    return tuple(_pasted(recipe, rows, likely) for recipe, rows in found)


def _pasted(
    recipe: ReadRecipe, found: RecipeRows, likely: Mapping[str, tuple[str, ...]]
) -> PastedRecipe:
    rows = [dict(zip(COLUMNS, cells, strict=True)) for _, _, cells in found.rows]
    head = {name: text for name, text in rows[0].items() if name not in _LINE} if rows else {}
    return PastedRecipe(
        head=head or {"dish": recipe.title},
        lines=tuple({name: row[name] for name in _LINE} for row in rows),
        likely=likely,
        said=tuple(said_of(found)),
    )


def _waits(ingredient: str) -> list[str]:
    words = waiting_words(ingredient) if ingredient.startswith(WAITING) else None
    return [words] if words else []


def _likely(con: Connection, kitchen: Kitchen, words: list[str]) -> dict[str, tuple[str, ...]]:
    """Return the ingredients that words may mean, the likeliest first."""
    known = matched_ingredients(kitchen, {})
    proposals = proposer(con, known, kitchen.system).propose([Asked(words=each) for each in words])
    found, names = {}, [each.name for each in known.values()]
    for each, proposal in zip(words, proposals, strict=True):
        others = [other for other, _ in proposal.others[:_MOST_OTHERS]]
        ids = [key for key in (proposal.ingredient_id, *others) if key in known]
        likely = [known[key].name for key in ids if key is not None]
        found[each] = tuple(likely or nearest(each, names))
    return found
