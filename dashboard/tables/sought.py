"""Finds rows by the words a reader types."""

from __future__ import annotations


def holds_every_word(text: str, sought: str) -> bool:
    """Tell whether each word of `sought`, or the part of one, stands in `text`; case is ignored.

    >>> holds_every_word("Saffron barley", "BAR saff"), holds_every_word("Saffron barley", "rice")
    (True, False)
    """
    return all(word in text.casefold() for word in sought.casefold().split())
