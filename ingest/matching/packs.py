"""Reads the pack out of a supplier's description, as a text that `read_pack` reads."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from ingest.matching.pack_patterns import pack_words, patterns
from pricing.errors import MeasureRefused
from pricing.measures.quantities import as_amount
from pricing.measures.read import read_pack

LONGEST_WORDS = 500  # characters; a longer text describes no product, so no pack is read in it
_TAKEN = "\x01"  # stands where a pattern has found something
_EGGS_SOLD = frozenset({4, 6, 8, 9, 10, 12, 15, 16, 18, 20, 24, 30, 36, 60, 90, 120, 180, 360})
_HALVES = frozenset({"½", "1/2", "half", "halbes", "media", "demi", "mezza", "meia", "pół"})
_HALF_DOZEN = "6 each"
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"}
_FRACTIONS = frozenset({(1, 2), (1, 3), (1, 4), (1, 8), (2, 3), (3, 4)})
_NET_FROM = 100  # 400/240 g is net and drained; 12/1 l is twelve of them


@dataclass(frozen=True, kw_only=True)
class PackFound:
    """A pack read out of a description."""

    pack: str  # as read_pack reads it: "2 x 454 g"
    count: int  # single things in it: 2 of "2 x 454 g", 12 of "12 each", 1 of "454 g"
    approx: bool = False  # the description says that it is only near it
    rest: str = ""  # the description without what was read as a pack
    pieces: str | None = None  # where it states a weight and pieces, those: "4 each"
    whole: str | None = None  # of "250G 10PK", "250 g": ten may also be the pieces of one pack


@dataclass(frozen=True, kw_only=True)
class _Size:
    counts: tuple[int, ...]
    amount: str  # number and unit
    approx: bool


def pack_in_words(words: str, measures: str) -> PackFound | None:
    """Return the pack that a description states, None where it states none that can be read.

    `measures` is the book's measure system: a bare pint is read only where it has one size. Of
    several sizes the multiplied one counts, else the first; a weight before pieces.

    >>> pack_in_words("ZORVIK BTR 454G 2PK", "uk").pack
    '2 x 454 g'
    >>> pack_in_words("Weidemilch 3,5 % 1 l", "metric").rest
    'Weidemilch 3,5 %'
    """
    if len(words) > LONGEST_WORDS:
        return None
    reading = _Reading(unicodedata.normalize("NFC", " ".join(words.split())))
    for found in reading.packs():
        try:
            read_pack(found.pack, measures)
        except MeasureRefused:
            continue
        return replace(found, rest=reading.rest())
    return None


def is_bare(pack: str | None) -> bool:
    """Tell whether a pack is a number alone, whose unit nobody says: "12".

    >>> is_bare("12"), is_bare("12 each"), is_bare(None)
    (True, False, False)
    """
    return pack is not None and re.fullmatch(r"[0-9]+(?:\.[0-9]+)?", pack) is not None


def times(pack: str, count: Decimal, measures: str, own_measures: Collection[str] = ()) -> str:
    """Return `count` packs as the text of one pack. Raises MeasureRefused.

    >>> times("500 g", Decimal(2), "uk"), times("6 x 330 ml", Decimal(3), "uk")
    ('2 x 500 g', '5940 ml')
    """
    held = read_pack(pack, measures, own_measures)
    if count == 1:
        return pack
    if count == count.to_integral_value() and count > 0 and not _is_multiplied(pack):
        counted = f"{int(count)} x {pack}"
        read_pack(counted, measures, own_measures)
        return counted
    total = as_amount(Fraction(held.amount) * Fraction(count), f"{count} x {pack}")
    return f"{total} {held.measure_key or held.dimension}"


def _is_multiplied(pack: str) -> bool:
    return re.match(r"[0-9]{1,9} ?[xX×*] ?[0-9]", pack) is not None


class _Reading:
    """One description, and what of it was read as a pack."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.left = text  # with _TAKEN where something was read
        self.spans: list[tuple[int, int]] = []
        for name in ("percent", "dimensions"):
            self.left = patterns()[name].sub(lambda m: _TAKEN * len(m.group()), self.left)
        self.eggs = bool(patterns()["egg"].search(text) and not patterns()["liquid"].search(text))

    def packs(self) -> Iterator[PackFound]:
        """Yield what the pack may be, the likeliest first."""
        sizes = [*self._two_units(), *self._sizes()] or list(self._unit_first())
        dozens = self._dozens()
        pieces = self._number_of("piece")
        packs = self._number_of("pack") or self._number_of("of") or self._number_of("times")
        if not sizes and not pieces:
            pieces = self._number_of("thing") or self._bare_eggs()
        beside = f"{pieces} each" if pieces else dozens
        for size in sorted(sizes, key=lambda size: not size.counts):
            by_word = not size.counts and packs is not None and packs > 1
            counts = (packs or 1,) if by_word else size.counts
            yield PackFound(
                pack=" x ".join([*map(str, counts), size.amount]),
                count=math.prod(counts),
                approx=size.approx,
                pieces=beside,
                whole=size.amount if by_word else None,
            )
        if dozens:
            count = 6 if dozens == _HALF_DOZEN else 12 * int(dozens.split()[0])
            yield PackFound(pack=dozens, count=count)
        if pieces or packs:
            counts = (packs, pieces) if packs and pieces and packs > 1 else (pieces or packs or 1,)
            yield PackFound(pack=" x ".join(map(str, counts)) + " each", count=math.prod(counts))
        yield from self._by_one()

    def rest(self) -> str:
        """Return the description without what was read, and without brackets left empty."""
        kept, end = [], 0
        for start, stop in sorted(self.spans):
            kept.append(self.text[end:start])
            end = max(end, stop)
        text = " ".join([*kept, self.text[end:]])
        return " ".join(re.sub(r"\([ .,;xX×-]{0,9}\)|\[ ?\]", " ", text).split()).strip(" ,;-–/*(@")

    def _take(self, match: re.Match[str]) -> None:
        start, end = match.span()
        if match.group().strip():
            self.spans.append((start, end))
        self.left = self.left[:start] + _TAKEN * (end - start) + self.left[end:]

    def _matches(self, name: str) -> list[re.Match[str]]:
        """Return where a pattern stands; not glued to less than three letters (E500g, B12)."""
        found = []
        for match in patterns()[name].finditer(self.left):
            before = self.left[max(0, match.start() - 3) : match.start()]
            if not before[-1:].isalpha() or (len(before) == 3 and before.isalpha()):
                found.append(match)
        return found

    def _about(self, match: re.Match[str]) -> bool:
        """Tell whether a word before or after a size says that it is only near it."""
        before = patterns()["about_before"].search(self.text[: match.start()][-20:])
        after = patterns()["about_after"].search(self.text[match.end() :][:20])
        if before:
            start = max(0, match.start() - 20)
            self.spans.append((start + before.start(), start + before.end()))
        if after:
            self.spans.append((match.end(), match.end() + after.end()))
        return bool(before or after)

    def _two_units(self) -> Iterator[_Size]:
        for match in self._matches("two_units"):
            amount = f"{match['num']} lb {_number(match['second'], 'oz')} oz"
            self._take(match)
            yield _Size(counts=(), amount=amount, approx=self._about(match))

    def _sizes(self) -> Iterator[_Size]:
        for match in self._matches("size"):
            unit = pack_words("unit")[match["unit"].lower()]
            if unit == "l" and self.eggs:
                continue
            size = _size_of(match, unit)
            if size is not None:
                about = self._about(match)
                self._take(match)
                yield _Size(counts=size[0], amount=size[1], approx=size[2] or about)

    def _unit_first(self) -> Iterator[_Size]:
        for match in self._matches("unit_first"):
            unit = pack_words("unit")[match["unit"].lower()]
            if unit == "kg" and re.search(r"[.,][0-9]{2}$", match["num"]):  # more like a price
                continue
            number = _number(match["num"], unit)
            if number is not None:
                self._take(match)
                counts = _counts([match["after"] or "1"])
                yield _Size(counts=counts, amount=f"{number} {unit}", approx=self._about(match))

    def _dozens(self) -> str | None:
        match = patterns()["dozen"].search(self.left)
        if match is None:
            return None
        self._take(match)
        number = (match["num"] or "1").lower()
        return _HALF_DOZEN if number in _HALVES else f"{int(number) or 1} dozen"

    def _number_of(self, name: str) -> int | None:
        """Return the number beside a word of this kind, the first one above 0."""
        for match in self._matches(name):
            groups = match.groupdict()
            number = int(groups["num"] or groups.get("first") or 0)
            if number:
                self._take(match)
                return number
        return None

    def _bare_eggs(self) -> int | None:
        """Return the one number beside eggs that boxes of eggs come in."""
        if not self.eggs:
            return None
        found = [match for match in self._matches("bare") if int(match["num"]) in _EGGS_SOLD]
        if len(found) != 1:
            return None
        self._take(found[0])
        return int(found[0]["num"])

    def _by_one(self) -> Iterator[PackFound]:
        """Yield one kilo or one piece, where that is what the price is for."""
        for name in ("per", "unit_last", "each_last"):
            for match in patterns()[name].finditer(self.left):
                unit = match.groupdict().get("unit")
                self._take(match)
                named = pack_words("unit")[unit.lower()] if unit else "each"
                yield PackFound(pack=f"1 {named}", count=1)


def _size_of(match: re.Match[str], unit: str) -> tuple[tuple[int, ...], str, bool] | None:
    """Return counts, number with unit, and whether it is the middle of a range."""
    number = _number(match["num"], unit)
    if number is None:
        return None
    counts = re.findall(r"[0-9]+", match["counts"] or "")
    if match["after"]:
        counts.append(match["after"])
    between = False
    if match["slash"]:
        top = int(match["slash"])
        if (top, _whole(number)) in _FRACTIONS:
            number = f"{match['whole'] or ''} {top}/{number}".strip()
        elif top >= _NET_FROM and top > Fraction(number):
            number = str(top)
        else:
            counts.append(match["slash"])
    elif match["low"]:
        low = _number(match["low"], unit)
        if low is not None and "/" not in low + number:
            least, most = Fraction(low), Fraction(number)
            if least < most <= 2 * least:
                number, between = str(as_amount((least + most) / 2, number)), True
    return _counts(counts), f"{number} {unit}", between


def _counts(written: list[str]) -> tuple[int, ...]:
    return tuple(int(count) for count in written if int(count) > 1)


def _whole(number: str) -> int:
    return int(number) if number.isdigit() else 0


def _number(text: str, unit: str) -> str | None:
    """Return a number as read_pack reads it; None for nothing at all.

    Three decimals are thousands of grams or millilitres, but thousandths of a kilo or a litre.

    >>> _number("1,5", "l"), _number("1.000", "g"), _number("0,843", "kg")
    ('1.5', '1000', '0.843')
    """
    if text[-1] in _VULGAR:
        return f"{text[:-1]} {_VULGAR[text[-1]]}".strip()
    whole, _, part = text.replace(" ", "").replace(",", ".").partition(".")
    if len(part) == 3 and int(whole) and unit in ("g", "ml", "mg"):
        whole, part = whole + part, ""
    part = part.rstrip("0")
    number = f"{int(whole)}{'.' + part if part else ''}"
    return None if Fraction(number) == 0 else number
