"""Finds where a recipe line's amount stands: first, behind "juice of", or last."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace
from fractions import Fraction

from ingest.recipes.amounts import KITCHEN, Amount, read_amount_at, skip_words
from ingest.recipes.numbers import FIGURES
from ingest.recipes.units import read_kitchen_unit_at
from ingest.recipes.words import any_of, dimension

LONGEST_LINE = 1000  # characters; what stands behind them is rest
_PLAIN = str.maketrans({"⁄": "/", "\u2010": "-", "\u2011": "-", "×": "x"})  # hyphens, signs
_BULLET = re.compile(r"^(?:[-–—•·*▢□◦‣▪+~≈]\s*)+(?=\S)")
_LABEL = re.compile(r"^([^\W\d][^:\d]{0,40}):\s+(?=\S)")
_OF = re.compile(rf"^[^,;:(){FIGURES}]{{2,60}}?\s(?:of|from)\s+", re.IGNORECASE)
_NUMBER = re.compile(rf"(?<![\w.,/])[{FIGURES}]")
_OF_WHAT, _WHAT = re.compile(r"\s+of\s+\S", re.IGNORECASE), re.compile(r"\s+\w")
_SMALL = ("pinch", "handful", "dash", "splash", "knob", "drizzle", "glug")  # also without "of"
_BRACKET = re.compile(r"\(\s*(?:(?:about|approx\.?|ca\.?|circa|c\.)\s+)?", re.IGNORECASE)
_BEHIND = re.compile(r"\s*(?:$|[,(;/])")


@dataclass(frozen=True, kw_only=True)
class Place:
    """An amount in a line, or none; the words before it and behind it."""

    before: str  # is the ingredient where nothing stands behind, else rest
    amount: Amount | None
    is_last: bool  # the ingredient stands before the amount


def tidy_line(text: str) -> str:
    """Return a line in single spaces, without hidden characters, bullet and emphasis.

    >>> tidy_line("• 1 1⁄2\\xa0cups  milk")
    '1 1/2 cups milk'
    """
    kept = "".join(
        " " if unicodedata.category(each) in ("Cc", "Zs", "Zl", "Zp") else each
        for each in unicodedata.normalize("NFC", text)
        if unicodedata.category(each) not in ("Cf", "Cs")
    )
    return _BULLET.sub("", " ".join(kept.translate(_PLAIN).split()))


def find_amount(line: str, measures: str) -> Place:
    """Return the amount of a line, and the words before it.

    >>> find_amount("juice of 1 lemon", "us").before, find_amount("Rice: 200 g", "us").is_last
    ('juice of', True)
    """
    if any_of("vague").match(line):
        return Place(before="", amount=None, is_last=False)
    amount = read_amount_at(line, 0, measures) or _one_without_a_number(line)
    if amount is not None:
        return Place(before="", amount=amount, is_last=False)
    last = _last(line, measures)
    if last is not None:
        return last
    of = _OF.match(line)
    amount = read_amount_at(line, of.end(), measures) if of else None
    if of and amount:
        return Place(before=of[0].strip(), amount=amount, is_last=False)
    return Place(before="", amount=None, is_last=False)


def take_off_label(line: str) -> tuple[str, str]:
    """Return what a line is headed with ("Optional: 1 tomato"), and the line behind it."""
    label = _LABEL.match(line)
    return (label[1], line[label.end() :]) if label else ("", line)


def take_off_vague(line: str) -> tuple[str, str]:
    """Return words such as "a little" at the beginning of a line, and what stands behind them.

    >>> take_off_vague("a little oil"), take_off_vague("oil")
    (('a little', 'oil'), ('', 'oil'))
    """
    found = any_of("vague").match(line)
    if found is None:
        return "", line
    _, at = skip_words(line, found.end(), "size", "shape")
    unit = read_kitchen_unit_at(line, at, *KITCHEN)  # a few drops of
    end = unit[1] if unit and line[unit[1] :].strip() else found.end()
    return line[:end], line[end:].strip()


def _one_without_a_number(line: str) -> Amount | None:
    """Return the one of "pinch of salt", "large handful of parsley"."""
    said, at = skip_words(line, 0, "size", "shape")
    unit = read_kitchen_unit_at(line, at, *KITCHEN)
    if unit is None or line[at : unit[1]].lower() != unit[0]:
        return None
    of = _WHAT if unit[0] in _SMALL else _OF_WHAT
    if not of.match(line, unit[1]):
        return None
    one = Fraction(1)
    return Amount(low=one, high=one, unit=unit[0], end=unit[1], said=said)


def _behind(line: str, count: Amount, measures: str) -> Amount | None:
    """Return the amount of "leeks - 3 big ones (about 700 g)": the weight, else the 3."""
    bracket = _BRACKET.search(line, count.end)
    if bracket is not None:
        amount = read_amount_at(line, bracket.end(), measures)
        if amount and dimension(amount.unit) in ("g", "ml") and line[amount.end :].strip() == ")":
            return replace(amount, end=len(line))
    _, end = skip_words(line, count.end, "size", "shape")
    alone = not line[end:].strip(" .") or line[end:].strip() == "ones"
    return replace(count, end=len(line)) if alone else None


def _last(line: str, measures: str) -> Place | None:
    """Return an amount that stands behind the ingredient: water ¼ cup, rice: 200 g."""
    number = _NUMBER.search(line, 1)
    if number is None or any(each in line[: number.start() - 1] for each in "([;"):
        return None
    before = line[: number.start()].strip()
    amount = read_amount_at(line, number.start(), measures)
    if amount is None or "," in before[:-1]:
        return None
    name = before.removesuffix("x").strip(" ,:–—-(")
    found = Place(before=name, amount=amount, is_last=True)
    if before.endswith("("):  # butter (50 g)
        closed = line[amount.end :].strip() == ")" and dimension(amount.unit) in ("g", "ml")
        return replace(found, amount=replace(amount, end=len(line))) if closed else None
    if amount.unit == "each":  # eggs: 3
        if re.search(r"\s[–—-]$", before) and (behind := _behind(line, amount, measures)):
            return replace(found, amount=behind)
        alone = not line[amount.end :].strip() and re.search(r"(?:[:–—-]|\bx)$", before)
        return found if alone else None
    return found if _BEHIND.match(line, amount.end) else None
