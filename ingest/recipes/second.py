"""Reads what a recipe line says of its amount once more: the same again, an addition, a size."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from ingest.recipes.amounts import Amount, Stated, read_amount_at, read_measured_at
from ingest.recipes.numbers import FIGURES
from ingest.recipes.words import dimension, words

_BRACKET = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]")
_LATER = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]|,\s*([^,()]*\d[^,()]*)(?=,|$)")
_PLUS_LAST = re.compile(r",?\s+plus\s+(?=\S)", re.IGNORECASE)
_PART_OF_WORDS = re.compile(r"\b(?:plus|or|and|with|in|of|from|into|to)\s*$", re.IGNORECASE)
_AGAIN = re.compile(r"\s*(?:[/|=;]|\bor\b|\s)\s*", re.IGNORECASE)
_ADDED = re.compile(r"\s*,?\s*(?:(?:plus|and|\+|&)|(?P<less>minus|less))\s+", re.IGNORECASE)
_OF_EACH = re.compile(
    r"\s*(?:each|apiece|à|je|chacune?|ciascun[oa]|cada un[oa]|elk|vardera"
    r"|per (?:can|tin|piece|jar|pack|packet|package))\b",
    re.IGNORECASE,
)
_ENDING = re.compile(
    r"[\s,.]*(?:(?:in )?total|in all|altogether|approx(?:imately)?|about)?[\s.]*$", re.I
)
_BETWEEN = re.compile(r"\s*(?:[/,;=|]|\bor\b)?\s*", re.IGNORECASE)
_LAST = re.compile(
    rf"(?<=[\s)])(?:about |approx\.? |à |je )?[{FIGURES}][{FIGURES}\s./–-]*[A-Za-z]{{1,12}}\.?$"
)

_SIZES = ("g", "ml")


@dataclass(frozen=True, kw_only=True)
class Second:
    """What follows the amount; `end` is the place behind it."""

    end: int
    other: Stated | None = None
    added: Stated | None = None
    pack: Stated | None = None


def read_second(text: str, amount: Amount, measures: str) -> Second:
    """Return what stands directly behind an amount: "(250 ml)", "/7 oz", "plus 1 tbsp".

    >>> from ingest.recipes.amounts import read_amount_at
    >>> line = "1 cup plus 2 tbsp flour"
    >>> second = read_second(line, read_amount_at(line, 0, "us"), "us")
    >>> second.added, line[second.end:]
    (Stated(quantity=Fraction(2, 1), unit='tbsp'), ' flour')
    """
    second = Second(end=amount.end, pack=amount.pack, other=amount.other)
    while True:
        more = (
            _in_bracket(text, second, amount, measures)
            or _addition(text, second, measures)
            or _again(text, second, amount, measures)
        )
        if more is None:
            return second
        second = more


def take_out_second(text: str, second: Second, amount: Amount, measures: str) -> tuple[str, Second]:
    """Return the words of the ingredient without an amount in brackets or at the end, and it."""
    for part in _LATER.finditer(text):
        more = _stated(part[1] or part[2] or "", second, amount, measures)
        if more is not None and _weighs(more):
            return f"{text[: part.start()]} {text[part.end() :].strip()}".strip(), more
    plus = None if second.added else _PLUS_LAST.search(text)
    added = plus and read_measured_at(text, plus.end(), measures)
    if plus and added and not text[added.end :].strip(" ."):
        return text[: plus.start()], replace(second, added=added.stated)
    last = None if second.other or plus else _LAST.search(text)
    if last and not _PART_OF_WORDS.search(text[: last.start()]):
        more = _stated(last[0], second, amount, measures)
        said = more and ((more.pack if more.pack != second.pack else None) or more.other)
        if more is not None and said and dimension(said.unit) in _SIZES:
            return text[: last.start()].strip(), more
    return text, second


def _weighs(second: Second) -> bool:
    """Tell whether what was said is more than a bare number: of 80/20 beef, of a page."""
    return second.other is None or second.other.unit != "each"


def _in_bracket(text: str, second: Second, amount: Amount, measures: str) -> Second | None:
    bracket = _BRACKET.match(text, second.end)
    more = bracket and _stated(bracket[1], second, amount, measures)
    return replace(more, end=bracket.end()) if bracket and more else None


def _stated(inner: str, second: Second, amount: Amount, measures: str) -> Second | None:
    """Return what a bracket says when it holds amounts alone: (about 250 ml), (4 oz each)."""
    first = _OF_EACH.match(inner)
    each, at = bool(first), first.end() if first else 0
    found: list[Stated] = []
    while True:
        read = read_amount_at(inner, at, measures)
        if read is None:
            return None
        found.append(read.stated)
        of_each = _OF_EACH.match(inner, read.end)
        each, at = each or bool(of_each), of_each.end() if of_each else read.end
        if _ENDING.match(inner, at):
            break
        between = _BETWEEN.match(inner, at)
        at = between.end() if between else at
    of_one = each or (amount.unit in words("container").values() and amount.high == 1)
    if of_one and dimension(found[0].unit) in _SIZES:
        return None if second.pack else replace(second, pack=found[0])
    again = next((each for each in found if dimension(each.unit) == "g"), found[0])  # a weight wins
    if second.other is not None or again.unit == amount.unit:
        return None
    return replace(second, other=again)


def _addition(text: str, second: Second, measures: str) -> Second | None:
    sign = _ADDED.match(text, second.end)
    read = sign and read_measured_at(text, sign.end(), measures)
    if not sign or not read or second.added:
        return None
    quantity, unit = read.stated
    added = Stated(-quantity if sign["less"] else quantity, unit)
    return replace(second, added=added, end=read.end)


def _again(text: str, second: Second, amount: Amount, measures: str) -> Second | None:
    sign = _AGAIN.match(text, second.end)
    read = sign and read_measured_at(text, sign.end(), measures)
    if not read or second.other or dimension(amount.unit) not in _SIZES:
        return None
    if dimension(read.unit) == "each" or read.unit == amount.unit:
        return None
    return replace(second, other=read.stated, end=read.end)
