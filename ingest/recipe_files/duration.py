"""Reads how long a recipe takes, as ISO 8601 or in words, in minutes."""

from __future__ import annotations

import re
from fractions import Fraction

from ingest.recipe_files.words import any_of
from ingest.recipes.numbers import read_range_at

# ISO 8601-1:2019, 5.5.2: parts may be left out, the last may have decimals, point or comma.
_PART = r"(?:(\d{{1,9}}(?:[.,]\d{{1,9}})?){0})?"
_ISO = re.compile(
    r"\s*[-+]?P"
    + "".join(_PART.format(each) for each in "YMWD")
    + r"(?:T"
    + "".join(_PART.format(each) for each in "HMS")
    + r"(\d{1,4})?)?\s*",
    re.IGNORECASE,
)
_MINUTES = (
    *map(Fraction, (525600, 43800, 10080, 1440, 60, 1)),
    Fraction(1, 60),
)  # a year of 365 days
_MOST = 525600  # minutes: what takes longer than a year is a mistake
_GLUED = re.compile(r"\s*(\d{1,2})\s*[hH]\s*(\d{2})\b")  # 1h30


def read_duration(text: str) -> int | None:
    """Return the minutes of an ISO 8601 duration; None where it is none, or of 0 or over a year.

    A number behind the last unit counts in the next smaller one, as pages have it.

    >>> read_duration("PT1H30M"), read_duration("P0DT45M"), read_duration("PT1H30")
    (90, 45, 90)
    """
    found = _ISO.fullmatch(text[:100])
    if found is None:
        return None
    *parts, loose = found.groups()
    total = Fraction(0)
    for part, minutes in zip(parts, _MINUTES, strict=True):
        total += Fraction((part or "0").replace(",", ".")) * minutes
    if loose and parts[5] is None and parts[4] is not None:
        total += int(loose)
    return _sensible(total)


def read_time_at(text: str, at: int = 0) -> int | None:
    """Return the minutes that begin at a place in a line: "1 hour 15 min", "90 Minuten".

    >>> read_time_at("1 hour 15 min"), read_time_at("45 Minuten"), read_time_at("2 leeks")
    (75, 45, None)
    """
    if glued := _GLUED.match(text, at):
        return _sensible(Fraction(60 * int(glued[1]) + int(glued[2])))
    total = Fraction(0)
    for kind, minutes in (("hour", 60), ("minute", 1)):
        found = read_range_at(text, _behind(text, at, " \t,&"))
        unit = found and any_of(kind).match(text, _behind(text, found[2], " \t-"))
        if found and unit:
            total += (found[0] + found[1]) / 2 * minutes
            at = unit.end() + (text[unit.end() : unit.end() + 1] == ".")
    return _sensible(total)


def _behind(text: str, at: int, passed: str) -> int:
    return len(text) - len(text[at:].lstrip(passed))


def _sensible(minutes: Fraction) -> int | None:
    return round(minutes) if 0 < minutes <= _MOST else None
