"""Writes the recipes of a page or a text as rows of dishes; what is not known waits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from ingest.kinds.decided import Decided, DecidedWords
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.waiting_amount import SOME, as_written, missing_of
from ingest.matching.new_name import two_foods
from ingest.problem_codes import Code
from ingest.recipe_files.amount import line_amount
from ingest.recipe_files.exact_text import exact_text
from ingest.recipe_files.recipe import ReadRecipe
from ingest.recipe_files.small_amount import small_amount
from ingest.recipes.line import read_recipe_line
from ingest.text.sentences import counted, quoted
from pricing.book.known import KnownIngredient
from pricing.errors import MeasureRefused, Problem
from pricing.measures.read import read_pack
from pricing.names import WAITING, name_key

COLUMNS = (
    "dish", "version", "effective_from", "portions", "batch_weight_g", "ingredient", "quantity",
    "unit", "note",
)  # fmt: skip
_NO_AMOUNT = ("no amount is said",)
_Amount = tuple[str, str, tuple[str, ...]]  # quantity, unit, what was decided for the reader


@dataclass(kw_only=True)
class RecipeRows:
    """Rows of dishes, by the line on which each stands."""

    rows: list[tuple[int, str, Sequence[str]]] = field(default_factory=list)  # line, raw, cells
    waiting: int = 0
    problems: list[Problem] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


class RecipeReader:
    """Reads recipes against what the kitchen knows and decided."""

    def __init__(
        self,
        kitchen: Kitchen,
        decided: DecidedWords,
        *,
        told: Mapping[str, str],
        before: Mapping[str, tuple[str, date]],
        today: date,
    ) -> None:
        self._kitchen, self._decided = kitchen, decided
        self._told, self._before, self._today = told, before, today
        self._found = RecipeRows()
        self._line = 0

    def read(self, recipes: Sequence[ReadRecipe], *, numbered: bool) -> RecipeRows:
        """Return the rows of all recipes; `numbered`: their lines are those of a text."""
        for recipe in recipes:
            self._recipe(recipe, alone=len(recipes) == 1, numbered=numbered)
        return self._found

    def _recipe(self, recipe: ReadRecipe, *, alone: bool, numbered: bool) -> None:
        first = recipe.lines[0][0]
        dish = self._told.get("dish", "") if alone else ""
        dish = dish or recipe.title
        portions = self._told.get("portions") or (
            "" if recipe.portions is None else exact_text(recipe.portions)
        )
        if not dish:
            self._ask(first, "dish", "a recipe without a name", "its name", "leek pie")
        if not portions:
            what = f"{quoted(dish)}, which does not say" if dish else "a recipe that does not say"
            found = f"{what} how many it serves"
            self._ask(first, "portions", found, "how many portions it makes", "4")
        version, begins = self._version(dish, recipe)
        weight = "" if recipe.batch_weight_g is None else exact_text(recipe.batch_weight_g)
        self._found.remarks += recipe.remarks
        before = len(self._found.rows)
        for number, text in recipe.lines:
            self._line = number if numbered else self._line + 1
            for name, amount in self._lines_of(text):
                note = "; ".join(dict.fromkeys((text, *amount[2])))
                cells = (dish, version, begins, portions, weight, name, *amount[:2], note)
                self._found.rows.append((self._line, text, cells))
        if len(self._found.rows) == before:
            self._found.problems.append(_no_ingredient(first, dish))

    def _version(self, dish: str, recipe: ReadRecipe) -> tuple[str, str]:
        """Return the label and the first day: as told, as when it was loaded before, as stated."""
        label, begins = self._told.get("version"), self._told.get("from")
        before = self._before.get(name_key(dish))
        if before is not None and not begins and label in (None, before[0]):
            return before[0], before[1].isoformat()
        stated = recipe.published
        if not begins:
            known = stated is not None and stated <= self._today
            begins = (stated if known and stated is not None else self._today).isoformat()
        return label or begins, begins

    def _ask(self, line: int, name: str, found: str, expected: str, such_as: str) -> None:
        self._found.problems.append(
            Problem(
                line=line,
                column=name,
                found=found,
                expected=expected,
                remedy=f'Say it with --answer "{name}={such_as}".',
                code=Code.ASKED,
            )
        )

    def _lines_of(self, text: str) -> Iterator[tuple[str, _Amount]]:
        """Yield what `_line_of` does; of "salt and pepper" without an amount, of each."""
        whole = read_recipe_line(text, self._kitchen.system)
        both = () if whole.quantity is not None else two_foods(whole.item)
        if not both or self._decided.find(" ".join(whole.item.split())) is not None:
            yield from self._line_of(text)
            return
        self._found.remarks.append(f"{quoted(text)} is read as two lines: {' and '.join(both)}.")
        for food in both:
            yield from self._line_of(f"{food}, {whole.rest}" if whole.rest else food)

    def _line_of(self, text: str) -> Iterator[tuple[str, _Amount]]:
        """Yield the ingredient's name and the amount of a line; nothing where it is no food."""
        read = read_recipe_line(text, self._kitchen.system)
        words = " ".join((read.item or text).split())
        known = self._decided.find(words)
        if known is not None and known.ingredient is None:
            self._found.remarks.append(
                f"{quoted(text)} is left out: decided before to be no ingredient."
            )
            return
        stated = line_amount(read, self._kitchen.system)
        amount = None if stated is None else (stated.quantity, stated.unit, stated.said)
        small = small_amount(read, text)
        by_word = None if small is None else (small[0], small[1], (small[2],))
        if known is not None and known.ingredient is not None:
            # a measure of the kitchen's own goes before what is said of a knob or a handful
            own = self._kitchen.facts(known.ingredient).grams_by_measure
            likely = [amount, by_word] if amount and amount[1] in own else [by_word, amount]
            if amount is None:
                likely.append(self._amount_decided(known))
            lacks = []
            for each in filter(None, likely):
                lacking = self._lacks(known.ingredient, each)
                if lacking is None:
                    yield known.ingredient.name, each
                    return
                lacks.append(lacking)
            if lacks:
                self._found.remarks.append(
                    f"{quoted(text)} waits: to count it, {known.ingredient.name} needs {lacks[0]}."
                )
        self._found.waiting += 1
        yield f"{WAITING} {words}", by_word or amount or ("1", SOME, _NO_AMOUNT)

    def _amount_decided(self, known: Decided) -> _Amount | None:
        """Return the amount that a decision states for lines without one, as its pack."""
        if known.pack is None or known.ingredient is None:
            return None
        own = list(self._kitchen.facts(known.ingredient).grams_by_measure)
        try:
            return (*as_written(read_pack(known.pack, self._kitchen.system, own)), _NO_AMOUNT)
        except MeasureRefused:
            return None

    def _lacks(self, ingredient: KnownIngredient, amount: _Amount) -> str | None:
        """Return all that an amount lacks before the ingredient can be bought by it, or None."""
        state = ("as_purchased", None)
        return missing_of(amount[:2], (None, ingredient), state, self._kitchen)


def _no_ingredient(line: int, dish: str) -> Problem:
    of = f"{quoted(dish)}, each line of which was" if dish else "a recipe whose every line was"
    return Problem(
        line=line,
        column=None,
        found=f"{of} decided before to be no ingredient",
        expected="at least one ingredient",
        remedy="Decide anew what its words are, or leave the recipe out.",
    )


def said_of(found: RecipeRows) -> list[str]:
    """Return what is to be said of the recipes beside what their dishes say."""
    decided = [_choice(raw, cells[-1]) for _, raw, cells in found.rows if cells[-1] != raw]
    said = list(dict.fromkeys(found.remarks))
    if decided:
        said.append(
            f"{counted(len(decided), 'line')} read with a choice, kept in its note: "
            + "; ".join(decided[:3])
            + ("; and others." if decided[3:] else ".")
        )
    return said


def _choice(text: str, note: str) -> str:
    """Return what was chosen, after the line unless it names the line itself."""
    chosen = note.removeprefix(text).lstrip("; ")
    return chosen if chosen.startswith(quoted(text)) else f"{quoted(text)}: {chosen}"
