"""Reads texts, numbers and days out of an invoice's elements, and lists all that are wrong."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from ingest.text.sentences import quoted
from pricing.errors import Problem

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

# Source of the form of numbers: XML Schema Part 2, xs:decimal. No exponents, no commas.
_NUMBER = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
_LONGEST_NUMBER = 24  # characters: Decimal keeps 28 figures exactly
_LONGEST_TEXT = 1000  # characters of a name or a number of a document
_DAY = re.compile(r"([0-9]{4})-?([0-9]{2})-?([0-9]{2})(?:Z|[-+][0-9]{2}:[0-9]{2})?")
_WHOLE = re.compile(r"[0-9]{1,9}")
_ASK = "Ask the sender for a correct document, or log its prices by hand."


def local_name(element: Element) -> str:
    """Return an element's name without its namespace."""
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else ""


def path(words: str) -> str:
    """Return a path of names as ElementTree finds it in any namespace.

    >>> path("Item/Name")
    '{*}Item/{*}Name'
    """
    return "/".join(f"{{*}}{word}" for word in words.split("/"))


def line_numbers(written: Sequence[str | None]) -> list[int]:
    """Return the number of each line: as written where each has one of its own, else its place.

    >>> line_numbers(["10", "20"]), line_numbers(["1", "1"]), line_numbers(["A", "B"])
    ([10, 20], [1, 2], [1, 2])
    """
    if all(text and _WHOLE.fullmatch(text) for text in written):
        numbers = [int(text or 0) for text in written]
        if len(set(numbers)) == len(numbers):
            return numbers
    return list(range(1, len(written) + 1))


class Elements:
    """Reads elements; what is missing or cannot be read becomes a problem."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []
        self.line: int | None = None  # see line_numbers; None outside of lines

    def maybe(self, at: Element, words: str, currency: str | None = None) -> str | None:
        """Return the first text at this path, spaces folded; None where there is none.

        With a currency, one that is said to be of another is passed over.
        """
        for found in at.iterfind(path(words)):
            if currency is not None and found.get("currencyID", currency) != currency:
                continue
            written = found.text or ""
            if len(written) > _LONGEST_TEXT:
                self.wrong(words, f"a text of {len(written):,} characters", "a short one")
            if text := " ".join(written[:_LONGEST_TEXT].split()):
                return text
        return None

    def text(self, at: Element, *choices: str) -> str:
        """Return the text at the first of the paths that has one; it must be there."""
        for words in choices:
            if found := self.maybe(at, words):
                return found
        self.wrong(choices[0], "nothing there", "a text: the standard asks for it")
        return ""

    def number(
        self, at: Element, words: str, default: Decimal | None = None, currency: str | None = None
    ) -> Decimal:
        """Return the number at this path, `default` where there is none; without one it must be."""
        text = self.maybe(at, words, currency)
        if text is None:
            if default is None:
                self.wrong(words, "nothing there", "a number: the standard asks for it")
            return default or Decimal(0)
        if not _NUMBER.fullmatch(text) or len(text) > _LONGEST_NUMBER:
            self.wrong(words, quoted(text), "a number such as 12.50")
            return Decimal(0)
        return Decimal(text)

    def day(self, at: Element, words: str) -> date:
        """Return the day at this path, written 2026-11-24 or 20261124."""
        text = self.text(at, words)
        if match := _DAY.fullmatch(text):
            try:
                return date(int(match[1]), int(match[2]), int(match[3]))
            except ValueError:
                pass
        if text:
            self.wrong(words, quoted(text), "a day such as 2026-11-24")
        return date.min

    def wrong(self, words: str, found: str, expected: str) -> None:
        """Note a problem of this line, or of the whole document, at a path."""
        column = words.rpartition("/")[2]
        self.problems.append(
            Problem(line=self.line, column=column, found=found, expected=expected, remedy=_ASK)
        )
