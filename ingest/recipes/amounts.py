"""Reads the amount that begins at a place in a recipe line: number, unit, size of a pack."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple

from ingest.recipes.numbers import FIGURES, read_range_at
from ingest.recipes.units import read_kitchen_unit_at, read_unit_at
from ingest.recipes.words import any_of, dimension, factor

_TIMES = re.compile(rf"\s?[xX×]\s?(?=[{FIGURES}])")
_TIMES_NO_SIZE = re.compile(r"\s?[xX]\s+(?=\S)")
_AGAIN = re.compile(r"\s?/\s?")
_NAME = re.compile(r"-[^\W\d]")  # 5-spice is no five of them
_THOUSANDS = re.compile(r"\d,\d{3}\s*$")
_TO = re.compile(r"\s*(?:[-–—]|to\b)\s*", re.IGNORECASE)
_ARTICLE = re.compile(r"\s*(?:of\s+)?(?:an?|the)(?=\s)", re.IGNORECASE)  # half of a lemon
_HYPHENED = re.compile(rf"[(\s]*[.,/{FIGURES}]+(?:[-\s]*to[-\s]*\d+)?\s?-\s?[A-Za-z]")
_GAP = re.compile(r"[\s–-]{0,3}")
_LENGTH_END = re.compile(
    r"(?:[-\s]*(?:long|thick|wide|square|round)\b)?\s*[/)(]?\s*", re.IGNORECASE
)
KITCHEN = ("container", "part", "measure")


class Stated(NamedTuple):
    """A further statement of an amount; of a range the middle."""

    quantity: Fraction
    unit: str


@dataclass(frozen=True, kw_only=True)
class Amount:
    """An amount as it stands in a line."""

    low: Fraction
    high: Fraction
    unit: str  # of the table of units or of words.csv; "each" where none is named
    end: int  # the place in the line behind it
    pack: Stated | None = None  # what one of `unit` holds
    other: Stated | None = None  # the same again, where it stands before the unit
    said: tuple[str, ...] = ()  # words that it passed: of size, "about"

    @property
    def stated(self) -> Stated:
        """The amount in one number."""
        return Stated((self.low + self.high) / 2, self.unit)


def read_amount_at(text: str, at: int, measures: str) -> Amount | None:
    """Return the amount that begins at `at`, None where no number does.

    >>> line = "2 (14-ounce) cans of beans"
    >>> amount = read_amount_at(line, 0, "us")
    >>> amount.unit, amount.pack, line[amount.end:]
    ('can', Stated(quantity=Fraction(14, 1), unit='oz'), ' of beans')
    """
    count = _count(text, at)
    if count is None:
        return None
    sized = _times_a_size(text, count, measures)
    times = _TIMES_NO_SIZE.match(text, count.end)
    count = replace(count, end=times.end()) if times else count
    return (
        sized
        or _one_pack(text, count, measures)
        or _sized_packs(text, count, measures)
        or _measured(text, count, measures)
        or _unit_behind_a_bracket(text, count, measures)
        or _kitchen_unit(text, count, *KITCHEN)
        or _piece_of_a_length(text, count)
        or (None if _NAME.match(text, count.end) else count)
    )


def read_measured_at(text: str, at: int, measures: str) -> Amount | None:
    """Return a number with a unit of the table that begins at `at`."""
    count = _count(text, at)
    return count and _measured(text, count, measures)


def skip_words(text: str, at: int, *kinds: str) -> tuple[tuple[str, ...], int]:
    """Return the words of these kinds that stand at `at`, and the place behind them.

    >>> skip_words("3 large, thick slices", 1, "size", "shape")
    (('large', 'thick'), 15)
    """
    said: list[str] = []
    while True:
        at = _gap(text, at)
        found = any_of(*kinds).match(text, at)
        if found is None:
            return tuple(said), at
        said.append(found[0])
        at = found.end() + (text[found.end() : found.end() + 1] == ",")


def _count(text: str, at: int) -> Amount | None:
    said, start = skip_words(text, at, "about")
    found = read_range_at(text, start)
    if found is None:
        return None
    low, high, end = found
    article = _ARTICLE.match(text, end) if high < 1 else None
    return Amount(low=low, high=high, unit="each", end=article.end() if article else end, said=said)


def _measured(text: str, count: Amount, measures: str) -> Amount | None:
    """Return a count with a unit of the table behind it: 1 lb 2 oz, ¾ cup to 1 cup."""
    said, at = skip_words(text, count.end, "size", "shape")
    unit = read_unit_at(text, at, measures)
    if unit is None:
        return None
    amount = replace(count, unit=unit[0], end=unit[1], said=count.said + said)
    if (
        unit[0] in ("kg", "l")
        and amount.low == amount.high
        and _THOUSANDS.search(text[: count.end])
    ):
        kilos = amount.low / 1000  # 1,250 kg: no recipe takes a tonne
        return replace(amount, low=kilos, high=kilos)
    return _up_to(text, _with_smaller_unit(text, amount, measures), measures)


def _with_smaller_unit(text: str, amount: Amount, measures: str) -> Amount:
    """Return 1 lb 2 oz in pounds."""
    smaller = _count(text, _gap(text, amount.end))
    unit = smaller and not smaller.said and read_unit_at(text, _gap(text, smaller.end), measures)
    if not smaller or not unit or dimension(unit[0]) != dimension(amount.unit):
        return amount
    if dimension(unit[0]) == "each" or amount.low != amount.high or smaller.low != smaller.high:
        return amount
    larger_holds, holds = factor(amount.unit, measures), factor(unit[0], measures)
    if not larger_holds or not holds or smaller.low * holds >= larger_holds:
        return amount
    total = amount.low + smaller.low * holds / larger_holds
    return replace(amount, low=total, high=total, end=unit[1])


def _up_to(text: str, amount: Amount, measures: str) -> Amount:
    """Return the range of "¾ cup to 1 cup", in one unit."""
    to = _TO.match(text, amount.end)
    if to is None or amount.low != amount.high or to.end() == amount.end:
        return amount
    high = _count(text, to.end())
    unit = high and read_unit_at(text, _gap(text, high.end), measures)
    if not high or not unit or unit[0] != amount.unit or high.high <= amount.low:
        return amount
    return replace(amount, high=high.high, end=unit[1])


def _kitchen_unit(text: str, count: Amount, *kinds: str) -> Amount | None:
    said, at = skip_words(text, count.end, "size", "shape")
    unit = read_kitchen_unit_at(text, at, *kinds)
    if unit is None:
        return None
    return replace(count, unit=unit[0], end=unit[1], said=count.said + said)


def _times_a_size(text: str, count: Amount, measures: str) -> Amount | None:
    """Return 2 x 400 g tins, with or without the tins."""
    times = _TIMES.match(text, count.end)
    size = times and read_measured_at(text, times.end(), measures)
    if not size:
        return None
    slash = _AGAIN.match(text, size.end)
    again = slash and read_measured_at(text, slash.end(), measures)  # 2 x 400 g/14 oz tins
    said = (*count.said, text[slash.end() : again.end]) if slash and again else count.said
    packs = replace(count, end=(again or size).end, pack=size.stated, said=said)
    return _kitchen_unit(text, packs, *KITCHEN) or packs


def _one_pack(text: str, count: Amount, measures: str) -> Amount | None:
    """Return 400 g tin, which is one."""
    size = _measured(text, count, measures)
    if size is None or dimension(size.unit) == "each" or size.unit == "cup":
        return None
    one = replace(size, low=Fraction(1), high=Fraction(1), pack=size.stated)
    if size.low <= 2 and size.high >= 4 * size.low:  # 1 - 8 oz packet: a dash, not a range
        one = replace(one, low=size.low, high=size.low, pack=Stated(size.high, size.unit))
    pack = _kitchen_unit(text, one, "container")
    return pack if pack and text[pack.end :].strip() else None


def _sized_packs(text: str, count: Amount, measures: str) -> Amount | None:
    """Return 2 (14-ounce) cans, 2 14-ounce cans, 1 (28- to 32-oz) can."""
    at = _gap(text, count.end)
    bracket = text[at : at + 1] in ("(", "[")
    size = read_measured_at(text, at + bracket, measures)
    if size is None:
        return None
    end = size.end
    if bracket:
        end = text.find(")" if text[at] == "(" else "]", size.end)
        if end < 0:
            return None
        end += 1
    passed = text[size.end : end].strip(" )]/,")
    said = (*count.said, passed) if passed else count.said
    packs = replace(count, end=end, pack=size.stated, said=said)
    each = packs if _HYPHENED.match(text, at) else None  # 4 (6-ounce) fillets
    return _kitchen_unit(text, packs, *KITCHEN) or each


def _unit_behind_a_bracket(text: str, count: Amount, measures: str) -> Amount | None:
    """Return ¼ (50 ml) cup."""
    at = _gap(text, count.end)
    close = text.find(")", at)
    inner = read_measured_at(text, at + 1, measures) if text[at : at + 1] == "(" else None
    if inner is None or close < 0:
        return None
    return _measured(text, replace(count, end=close + 1, other=inner.stated), measures)


def _piece_of_a_length(text: str, count: Amount) -> Amount | None:
    """Return a 2-inch piece, 1 (2-inch) piece, 3 1-inch strips; the length is passed."""
    start = at = _gap(text, count.end)
    one = count
    if text[at : at + 1] == "(":
        at += 1
    inner = read_range_at(text, at)
    if inner:
        at = _gap(text, inner[2])
    else:
        one = replace(count, low=Fraction(1), high=Fraction(1))
    length = any_of("length").match(text, at)
    if length is None:
        return None
    behind = length.end()
    while more := _LENGTH_END.match(text, behind):
        again = read_range_at(text, more.end())
        length = any_of("length").match(text, _gap(text, again[2])) if again else None
        behind = length.end() if length else more.end()
        if length is None:
            break
    said = (*count.said, re.sub(r"[()]", "", text[start if inner else 0 : behind]).strip())
    one = replace(one, end=behind, said=said)
    return _kitchen_unit(text, one, *KITCHEN) or one


def _gap(text: str, at: int) -> int:
    found = _GAP.match(text, at)
    return found.end() if found else at
