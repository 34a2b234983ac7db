"""What was read of one recipe, before its ingredients are known to the book."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from pricing.errors import Problem


@dataclass(frozen=True, kw_only=True)
class ReadRecipe:
    """A recipe as it stands in a page or a text."""

    title: str  # may be empty
    lines: tuple[tuple[int, str], ...]  # of the ingredients: line of the text, or place in the list
    portions: Fraction | None = None  # of a range the middle; None where none are stated
    portions_text: str = ""  # as written: "Serves 4 to 6"
    minutes: int | None = None  # from start to end, as stated
    batch_weight_g: Fraction | None = None  # what it makes, where that is stated as a weight
    source: str | None = None  # author or address, as stated
    published: date | None = None
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class RecipesRead:
    """What was found in one file; nothing of it may be taken while there are problems."""

    form: str | None  # "recipe-page" or "recipe-text"; None where it is neither
    recipes: tuple[ReadRecipe, ...] = ()
    problems: tuple[Problem, ...] = ()
