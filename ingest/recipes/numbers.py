"""Reads a number or a range of numbers where it stands in a recipe line."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from functools import cache

from ingest.recipes.words import choice, words
from pricing.measures.quantities import VULGAR_FRACTIONS

FIGURES = rf"\d{VULGAR_FRACTIONS}"  # for a set of a pattern: what a number in figures begins with
_VULGAR = f"[{VULGAR_FRACTIONS}]"
_FRACTION = rf"(?:(?P<top>\d{{1,3}})\s?[/⁄]\s?(?P<bottom>\d{{1,3}})(?!\d)|(?P<vulgar>{_VULGAR}))"
_MIXED = re.compile(rf"(?P<whole>\d{{1,4}})(?:(?={_VULGAR})|(?:\s*(?:&|and|-)\s*|\s+)){_FRACTION}")
_GLUED = re.compile(rf"\d{{1,4}}{_VULGAR}")
# 1 1/2 and 1-1/2 are one and a half; in 1 1/2-ounce and in 2 ½ inch a count stands before a size
_SIZE_NEXT = re.compile(r"\s?-\s?[A-Za-z]|\s?(?:inch|cm|mm)\b")
_SIMPLE = re.compile(_FRACTION)
_THOUSANDS = re.compile(r"[1-9]\d{0,2}(?:,\d{3})+(?![\d,])")
_DECIMAL = re.compile(r"(?P<whole>\d{0,6})[.,](?P<part>\d{1,6})(?!\d|[.,]\d)")
_WHOLE = re.compile(r"[1-9]\d{0,6}(?!\d|[.,]\d)")
_NO_AMOUNT_NEXT = re.compile(
    r"\s?[%°]|\s?-?\s?(?:percent|per cent|degrees)\b|(?!x)[A-Za-z]+\d", re.I
)
_TO = re.compile(r"-?\s*(?:[-–—]|\bto\b|\bor\b)\s*(?:about\s+)?", re.IGNORECASE)


def read_number_at(text: str, at: int) -> tuple[Fraction, int] | None:
    """Return the number above 0 that begins at `at`, and where it ends; None where there is none.

    A comma before three digits parts thousands, before other digits decimals ("1,5 kg").

    >>> read_number_at("1½ cups", 0), read_number_at("about 1-1/2 cups", 6)
    ((Fraction(3, 2), 2), (Fraction(3, 2), 11))
    """
    found = _digits_at(text, at) or _word_at(text, at)
    if found is None or found[0] <= 0 or _NO_AMOUNT_NEXT.match(text, found[1]):
        return None
    return found


def read_range_at(text: str, at: int) -> tuple[Fraction, Fraction, int] | None:
    """Return the lower and the higher number of a range, or one number twice, and its end.

    >>> read_range_at("2 to 3 leeks", 0), read_range_at("4 leeks", 0)
    ((Fraction(2, 1), Fraction(3, 1), 6), (Fraction(4, 1), Fraction(4, 1), 1))
    """
    first = read_number_at(text, at)
    if first is None:
        return None
    low, end = first
    if to := _TO.match(text, end):
        second = read_number_at(text, to.end())
        if second and second[0] != low and not text[to.end()].isalpha():
            return min(low, second[0]), max(low, second[0]), second[1]
    if text[at].isalpha() and (to := _TO.match(text, end)):
        second = _word_at(text, to.end())
        if second and second[0] > low >= 1:
            return low, second[0], second[1]
    return low, low, end


def _digits_at(text: str, at: int) -> tuple[Fraction, int] | None:
    if mixed := _MIXED.match(text, at):
        fraction = _value(mixed)
        glued = _GLUED.match(text, at)
        if (
            fraction is not None
            and fraction < 1
            and (glued or not _SIZE_NEXT.match(text, mixed.end()))
        ):
            return int(mixed["whole"]) + fraction, mixed.end()
    if simple := _SIMPLE.match(text, at):
        fraction = _value(simple)
        return None if fraction is None else (fraction, simple.end())
    if thousands := _THOUSANDS.match(text, at):
        return Fraction(thousands[0].replace(",", "")), thousands.end()
    if decimal := _DECIMAL.match(text, at):
        return Fraction(f"{decimal['whole'] or 0}.{decimal['part']}"), decimal.end()
    if whole := _WHOLE.match(text, at):
        return Fraction(whole[0]), whole.end()
    return None


def _value(match: re.Match[str]) -> Fraction | None:
    if match["vulgar"]:
        return Fraction(unicodedata.normalize("NFKC", match["vulgar"]).replace("⁄", "/"))
    top, bottom = int(match["top"]), int(match["bottom"])
    return Fraction(top, bottom) if bottom else None


@cache
def _number_words() -> re.Pattern[str]:
    return re.compile(choice(words("number")) + r"(?![-’'.])", re.IGNORECASE)


def _word_at(text: str, at: int) -> tuple[Fraction, int] | None:
    found = _number_words().match(text, at)
    if found is None:
        return None
    return Fraction(words("number")[" ".join(found[0].lower().split())]), found.end()
