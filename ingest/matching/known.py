"""What a proposal rests on and what it says: ingredients, earlier decisions, questions, answers."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from pricing.measures.quantities import IngredientFacts


@dataclass(frozen=True, kw_only=True)
class KnownIngredient:
    """An ingredient of the book, as far as proposals need it."""

    ingredient_id: int
    name: str
    facts: IngredientFacts  # base unit, and what turns packs into it
    aliases: tuple[str, ...] = ()
    category: str | None = None
    expected: float | None = None  # money of the book per base unit; None where nothing is known


@dataclass(frozen=True, kw_only=True)
class Decided:
    """What was decided for one description before."""

    words: str
    ingredient_id: int | None  # None: not an ingredient
    pack: str | None = None
    product: str | None = None
    sender: str | None = None


@dataclass(frozen=True, kw_only=True)
class Asked:
    """A description that waits for its ingredient."""

    words: str
    sender: str | None = None
    price: Decimal | None = None  # of one pack
    currency_is_books: bool = True
    pack: str | None = None  # where a column or a unit states it


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """What a description may mean; it waits for someone to say so."""

    ingredient_id: int | None  # None with a score above 0: not an ingredient, by earlier decisions
    pack: str | None
    product: str | None
    score: float  # 0: nothing found; 1: the same words were decided before
    why: tuple[str, ...]
    others: tuple[tuple[int, float], ...]  # other ingredients with their scores, best first
