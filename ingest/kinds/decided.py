"""Finds what words of a list, an invoice or a recipe were decided to be."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ingest.kinds.kitchen import Kitchen
from pricing.book import tray
from pricing.book.connect import Connection
from pricing.book.known import KnownIngredient
from pricing.names import name_key

NOT_AN_INGREDIENT = "not an ingredient"
_ANYONE = ""  # the key of no sender


@dataclass(frozen=True, kw_only=True)
class Decided:
    """What some words are."""

    ingredient: KnownIngredient | None  # None: not an ingredient
    pack: str | None = None  # of one, where the words do not say it
    product: str | None = None


class DecidedWords:
    """What was decided before, and the names and aliases of the book.

    An item number or GTIN goes before words, and words of a sender before those of anyone.
    """

    def __init__(self, con: Connection, kitchen: Kitchen) -> None:
        self._kitchen = kitchen
        by_id = {each.ingredient_id: each for each in kitchen.ingredients.values()}
        self._by_words: dict[tuple[str, str], Decided] = {}
        for each in tray.decisions(con):
            ingredient = None if each.ingredient_id is None else by_id.get(each.ingredient_id)
            if each.ingredient_id is None or ingredient is not None:
                self._by_words[each.sender_key, each.words_key] = Decided(
                    ingredient=ingredient, pack=each.pack, product=each.product
                )
        self._by_item: dict[tuple[str, str], Decided] = {}
        self._by_gtin: dict[str, Decided] = {}
        for sender, words, item_number, gtin in tray.numbered_words(con):
            decided = self.of_words(sender, words)
            if decided is not None and item_number:
                self._by_item[sender, item_number] = decided
            if decided is not None and gtin:
                self._by_gtin[gtin] = decided

    def add(self, new: Iterable[tuple[str, str, Decided]]) -> None:
        """Let more decisions count: sender key, words key, what they are."""
        for sender_key, words_key, decided in new:
            self._by_words[sender_key, words_key] = decided

    def of_words(self, sender_key: str, words_key: str) -> Decided | None:
        """Return what was decided of words alone."""
        return self._by_words.get((sender_key, words_key)) or self._by_words.get(
            (_ANYONE, words_key)
        )

    def find(
        self,
        words: str,
        sender: str | None = None,
        *,
        item_number: str | None = None,
        gtin: str | None = None,
    ) -> Decided | None:
        """Return what a description is: decided, or by name or alias. None: nobody knows yet."""
        sender_key = name_key(sender or "")
        found = (
            self._by_item.get((sender_key, item_number or ""))
            or self._by_gtin.get(gtin or "")
            or self.of_words(sender_key, name_key(words))
        )
        if found is not None:
            return found
        for name in filter(None, (words, item_number)):
            ingredient = self._kitchen.find(name)
            if ingredient is not None:
                return Decided(ingredient=ingredient)
        return None
