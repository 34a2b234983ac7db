"""Finds what words of a list, an invoice or a recipe were decided to be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ingest.kinds.kitchen import Kitchen
from ingest.matching.words import number_key
from pricing.book import tray
from pricing.book.connect import Connection
from pricing.book.known import KnownIngredient
from pricing.names import name_key

_ANYONE = ""  # the key of no sender


@dataclass(frozen=True, kw_only=True)
class Decided:
    """What some words are."""

    ingredient: KnownIngredient | None  # None: not an ingredient
    pack: str | None = None  # of one, where the words do not say it
    product: str | None = None


class DecidedWords:
    """What was decided before, and the names and aliases of the book.

    An item number or GTIN goes before words, and words of a sender before those of anyone. Words
    that nobody decided on are what the same words in the other number are: egg, eggs.
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
        self._by_number: dict[tuple[str, str], Decided | None] | None = None  # None: they differ
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
        self._by_number = None

    def of_words(self, sender_key: str, words_key: str) -> Decided | None:
        """Return what was decided of words alone."""
        return self._by_words.get((sender_key, words_key)) or self._by_words.get(
            (_ANYONE, words_key)
        )

    def in_other_number(self, sender_key: str, words_key: str) -> Decided | None:
        """Return what the same words are in the singular or plural, if they are but one thing."""
        if self._by_number is None:
            self._by_number = self._numbered()
        key = number_key(words_key)
        return self._by_number.get((sender_key, key)) or self._by_number.get((_ANYONE, key))

    def _numbered(self) -> dict[tuple[str, str], Decided | None]:
        """Return what was decided, and below that the names, by words in the singular."""
        named = {(_ANYONE, key): Decided(ingredient=each) for key, each in self._names()}
        found: dict[tuple[str, str], Decided | None] = {}
        for known in (self._by_words, named):
            there: dict[tuple[str, str], Decided | None] = {}
            for (sender, words), decided in known.items():
                key = (sender, number_key(words))
                there[key] = decided if there.get(key, decided) == decided else None
            found = {**there, **found}
        return found

    def _names(self) -> Iterator[tuple[str, KnownIngredient]]:
        yield from self._kitchen.aliases.items()
        yield from self._kitchen.ingredients.items()

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
        return self.in_other_number(sender_key, name_key(words))
