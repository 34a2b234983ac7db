"""Tells rows that are no items: sums, taxes, titles, deposits, reductions."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from ingest.tables.grid import Cell
from ingest.tables.words import row_words
from ingest.text.fold import fold

_REST = re.compile(r"[0-9 %]*")


@lru_cache(maxsize=20_000)
def row_kind(words: str) -> str | None:
    """Return total, tax, reduction or deposit, by the words a row begins with; None for an item.

    A sum is named by such words alone; a reduction or deposit may name its item after them.

    >>> row_kind("Zwischensumme:"), row_kind("Total cereal 500 g"), row_kind("Rabatt Lauch 20%")
    ('total', None, 'reduction')
    """
    return _kind(fold(words))


def first_words(cells: tuple[Cell, ...]) -> str:
    """Return the first cell of a row that holds letters."""
    for cell in cells:
        if isinstance(cell, str) and any(map(str.isalpha, cell)):
            return cell
    return ""


@cache
def _longest() -> int:
    return max(len(words.split()) for words in row_words())


def _kind(folded: str) -> str | None:
    parts = folded.split()
    for length in range(min(_longest(), len(parts)), 0, -1):
        kind = row_words().get(" ".join(parts[:length]))
        if kind is None or kind == "unpriced":
            continue
        rest = parts[length:]
        if kind in ("reduction", "deposit"):
            return kind
        if all(_REST.fullmatch(word) or _is_sum_word(word) for word in rest):
            return kind
        return None
    return None


def _is_sum_word(word: str) -> bool:
    return row_words().get(word) in ("total", "tax") or word in _BESIDE


_BESIDE = frozenset(
    [
        "eur",
        "usd",
        "gbp",
        "chf",
        "pln",
        "sek",
        "dkk",
        "incl",
        "inkl",
        "excl",
        "exkl",
        "netto",
        "brutto",
        "net",
        "gross",
        "ht",
        "ttc",
        "of",
        "page",
        "seite",
        "und",
        "and",
        "et",
        "y",
        "e",
        "en",
        "i",
        "och",
        "for",
        "zzgl",
        "inc",
    ]
)
