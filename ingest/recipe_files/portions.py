"""Reads what a recipe says it makes: so many portions, or a weight."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from ingest.recipe_files.exact_text import exact_text
from ingest.recipe_files.words import any_of, anywhere, words
from ingest.recipes.amounts import read_measured_at
from ingest.recipes.numbers import read_range_at
from ingest.recipes.where import tidy_line
from ingest.recipes.words import any_of as line_words
from ingest.recipes.words import dimension, factor

LONGEST = 300  # characters; what stands behind them is not looked at
_STARTS = re.compile(r"(?<![\w.,/])(?=[\w½¼¾⅓⅔])")
_DOZEN = re.compile(r"\s*(?:dozens?|Dutzend|douzaines?|docenas?|dozzine?)\b", re.IGNORECASE)
_BETWEEN = re.compile(r"[\s:(]*(?:(?:about|approx\.?|up to|ca\.?|circa|env\.?)\s+)?", re.IGNORECASE)
_BEHIND = re.compile(r"[\s-]*(?:\w+\s)?")  # also 4 good servings
_ARTICLE = re.compile(r"an?\b", re.IGNORECASE)
_OTHER_NUMBER = re.compile(
    r"\s*(?:%|°|(?:[-\s]*(?:min|h|hour|stunde|heure|hora|or[ae]|uur)))", re.I
)


@dataclass(frozen=True, kw_only=True)
class Makes:
    """What comes out of a recipe."""

    portions: Fraction | None  # of a range the middle
    batch_weight_g: Fraction | None = None
    said: tuple[str, ...] = ()
    served: bool = False  # the words speak of portions or people, not of loaves


def read_portions(text: str) -> Makes:
    """Return the portions that a text states, in any of its usual spellings.

    >>> str(read_portions("Serves 4 to 6").portions), str(read_portions("für 4 Personen").portions)
    ('5', '4')
    >>> str(read_portions("Makes 2 dozen").portions), str(read_portions("1.2 kg").batch_weight_g)
    ('24', '1200')
    """
    line = tidy_line(text[:LONGEST])
    counts: list[Makes] = []
    weight: Makes | None = None
    at = 0
    while start := _STARTS.search(line, at):
        at = start.end()
        measured = _weight(line, at)
        if measured:
            end, makes = measured
            weight = weight or makes
        else:
            found = _count(line, at)
            if found is None:
                at += 1
                continue
            end, makes = found
            counts.append(makes)
        at = max(end, at + 1)
    best = next((each for each in counts if each.served), counts[0] if counts else None)
    if best is None or best.portions is None:
        return weight or Makes(portions=None)
    others = [
        exact_text(each.portions)
        for each in counts
        if each.portions and each.portions != best.portions
    ]
    said = best.said
    if others:
        taken, left = exact_text(best.portions), ", ".join(others)
        said += (f"'{line}': {taken} is taken as the portions, not {left}",)
    return replace(best, said=said, batch_weight_g=weight.batch_weight_g if weight else None)


def _count(line: str, at: int) -> tuple[int, Makes] | None:
    found = _number(line, at)
    if found is None:
        return None
    low, high, end = found
    dozen = _DOZEN.match(line, end)
    if dozen:
        low, high, end = 12 * low, 12 * high, dozen.end()
    behind = _BEHIND.match(line, end)
    places = (len(line) - len(line[end:].lstrip(" -")), behind.end() if behind else end)
    served = any(any_of("served").match(line, place) for place in places)
    if not served and (_is_length(line, end) or _OTHER_NUMBER.match(line, end)):
        return None
    before = line[:at]
    heads = [*anywhere("serves", "served").finditer(before)]
    served = served or bool(heads and _BETWEEN.fullmatch(before, heads[-1].end()))
    middle = (low + high) / 2
    said = () if low == high else (f"'{line}': the middle is taken, {exact_text(middle)}",)
    return end, Makes(portions=middle, said=said, served=served)


def _number(line: str, at: int) -> tuple[Fraction, Fraction, int] | None:
    """Return a number or a range, in figures or in a word of any of the languages."""
    found = read_range_at(line, at)
    if found and not _ARTICLE.match(line, at):
        return found
    word = any_of("number").match(line, at)
    if word is None:
        return None
    value = Fraction(words("number")[word[0].casefold()])
    return value, value, word.end()


def _weight(line: str, at: int) -> tuple[int, Makes] | None:
    amount = read_measured_at(line, at, "metric")
    if amount is None or dimension(amount.unit) not in ("g", "ml"):
        return None
    size = factor(amount.unit, "metric")
    if dimension(amount.unit) == "ml" or size is None:
        return amount.end, Makes(portions=None, said=(f"'{line}' is no number of portions",))
    return amount.end, Makes(portions=None, batch_weight_g=amount.stated.quantity * size)


def _is_length(line: str, at: int) -> bool:
    behind = len(line) - len(line[at:].lstrip(" -"))
    return bool(line_words("length").match(line, behind))
