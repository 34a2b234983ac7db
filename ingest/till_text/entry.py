"""Reads one line of a till's text: words, number or weight, price of one, amount; and its kind."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from typing import NamedTuple

from ingest.recipes.where import tidy_line
from ingest.till_text.day import has_date
from ingest.till_text.money import amount_of, amount_pattern, signs
from ingest.till_text.words import CHARGES, anywhere, at_start

LONGEST_LINE = 200  # characters; a longer one is no line of a till
_UNIT = r"kgs?|g|gr|lbs?|oz|l|ltr|cl|ml"
_FLAG = r"(?:\s?[A-Z][A-Z0-9*]?|\s?[*#]|\s\d)?"  # of the rate of tax
_COUNT_FIRST = re.compile(r"(?P<count>[1-9]\d{0,2})\s*[x×X*]\s*(?=[^\W\d_]{2})")
_NUMBER_FIRST = re.compile(r"(?P<number>\d{4,14})\s+(?=\S)")
_LETTERS = re.compile(r"[^\W\d_]{2}")
_NO_WORDS = re.compile(r"[\d\s()\[\]*#:.,%=/x×-]+")
# The order counts: "total savings" is no total, "deposit" is no thing, a bag is no bag of salad.
_STARTING = ("saved", "subtotal", "tax")


class Weight(NamedTuple):
    """What a till weighed."""

    amount: Decimal
    unit: str


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One line of a receipt that is not empty."""

    line: int
    raw: str
    words: str = ""  # without number, price and amount
    kind: str = "words"  # item, quantity, amount, words; date; or a kind of words.csv
    amount: Decimal | None = None  # at its end; below 0 where it lowers
    count: Decimal | None = None
    weight: Weight | None = None
    each: Decimal | None = None  # price of one, or of one unit of weight
    item_number: str | None = None


def read_entry(number: int, raw: str, currency: str) -> Entry:
    """Return what a line holds.

    >>> entry = read_entry(7, "2 x 1.25   2.50 A", "GBP")
    >>> entry.kind, entry.count, entry.each, entry.amount
    ('quantity', Decimal('2'), Decimal('1.25'), Decimal('2.50'))
    """
    text = tidy_line(raw[:LONGEST_LINE]).strip("| ")
    blank = Entry(line=number, raw=raw.strip())
    if len(raw) > LONGEST_LINE or not text:
        return blank
    if has_date(text):
        return replace(blank, kind="date", words=text)
    times = _times(currency).search(text) or _weighed(currency).search(text)
    end = _at_end(currency).search(text, times.end() if times else 0)
    amount = amount_of(end, "amount", currency) if end else None
    if times and not _in_one(text, times, end):
        times = None
    words = text[: end.start()] if end else text
    count = weight = each = None
    if times:
        told = times.groupdict()
        each = amount_of(times, "each" if told.get("each") else "each2", currency)
        if told.get("weight") or told.get("weight2"):
            which = "" if told.get("weight") else "2"
            weight = _weight(told[f"weight{which}"], told[f"unit{which}"])
        else:
            count = Decimal(told.get("count") or told["count2"])
        behind = text[times.end() : end.start()] if end else text[times.end() :]
        words = f"{text[: times.start()]} {behind}"
    return _with_kind(blank, words, amount, (count, weight, each))


def _with_kind(
    blank: Entry,
    words: str,
    amount: Decimal | None,
    of: tuple[Decimal | None, Weight | None, Decimal | None],
) -> Entry:
    count, weight, each = of
    words = words.strip(" .:-–=|_\t")
    if weight and not _LETTERS.search(anywhere("weighed").sub("", words)):
        words = ""
    first = _COUNT_FIRST.match(words) if count is None and weight is None else None
    if first and amount is not None:
        count, words = Decimal(first["count"]), words[first.end() :]
    item_number = _NUMBER_FIRST.match(words)
    if item_number and _LETTERS.search(words, item_number.end()):
        words = words[item_number.end() :]
    return replace(
        blank, kind=_kind(words, amount, each), words=words, amount=amount, count=count,
        weight=weight, each=each, item_number=item_number["number"] if item_number else None,
    )  # fmt: skip


def _kind(words: str, amount: Decimal | None, each: Decimal | None) -> str:
    if not words or _NO_WORDS.fullmatch(words):
        return "quantity" if each is not None else ("amount" if amount is not None else "words")
    for kind in _STARTING:
        if at_start(kind).match(words):
            return kind
    for kind in ("total", "payment", "change"):
        if names_alone(kind, words):
            return kind
    if each is None and (charge := _charge(words)):
        return charge
    if amount is not None and amount < 0:
        return "void" if anywhere("void").search(words) else "reduction"
    if amount is None and each is None:
        return "words"
    return "maybe reduction" if each is None and anywhere("reduction").search(words) else "item"


def names_alone(kind: str, words: str) -> bool:
    """Tell whether words name the total, or a payment, and nothing else.

    >>> [names_alone("total", each) for each in ("TOTAL (5 items)", "Summe EUR", "Total wipes")]
    [True, True, False]
    """
    bare = words.lstrip("*# ")
    if not at_start(kind).match(bare):
        return False
    rest = re.sub(signs("EUR"), "", anywhere(kind, "filler").sub("", bare))
    return not _LETTERS.search(rest)


def _charge(words: str) -> str | None:
    """Return the kind of what is no ingredient: a bag, a deposit, a voucher."""
    for kind in CHARGES:
        found = anywhere(kind).search(words)
        if found is None:
            continue
        rest = (words[: found.start()] + words[found.end() :]).split()
        alone = not any(_LETTERS.search(each) for each in rest)
        if kind in ("voucher", "loyalty", "rounding", "deposit") or alone:
            return kind
        if kind == "charge" and found.start() == 0 and len(rest) <= 2:
            return kind
    return None


def _in_one(text: str, times: re.Match[str], end: re.Match[str] | None) -> bool:
    """Tell whether nothing but words and the amount stands beside "2 x 1.25"."""
    behind = text[times.end() : end.start() if end else len(text)]
    return end is not None or not _LETTERS.search(behind)


def _weight(amount: str, unit: str) -> Weight:
    unit = unit.lower().removesuffix("s") if len(unit) > 1 else unit.lower()
    short = {"gr": "g", "ltr": "l"}.get(unit, unit)
    return Weight(Decimal(amount.replace(",", ".")), short)


@cache
def _at_end(currency: str) -> re.Pattern[str]:
    return re.compile(
        rf"(?:^|(?<=\s)|(?<=[A-Za-z)]:)){amount_pattern(currency, 'amount')}{_FLAG}\s*$"
    )


@cache
def _times(currency: str) -> re.Pattern[str]:
    """Return the pattern of "2 x 1.25" and "1.25 x 2"."""
    one, two = amount_pattern(currency, "each"), amount_pattern(currency, "each2")
    no_size = rf"(?!\s?(?:{_UNIT})\b)(?!\w)"
    pieces = r"(?:(?:st|stk|szt|pcs?|ud|pz|u)\b\.?\s*)?"
    return re.compile(
        rf"(?<![\w.,])(?:(?P<count>[1-9]\d{{0,3}})\s*{pieces}(?:[x×X*@]|à)\s*{one}{no_size}"
        rf"|{two}\s*[x×X*]\s*(?P<count2>[1-9]\d{{0,3}})(?![\d.,])(?!\s?(?:{_UNIT})\b))"
        rf"(?:\s*(?:each|ea|st|szt|stk)\b\.?)?",
        re.IGNORECASE,
    )


@cache
def _weighed(currency: str) -> re.Pattern[str]:
    """Return the pattern of "0.843 kg @ 12.90/kg", and of "12,90 EUR/kg x 0,843 kg"."""
    one, two = amount_pattern(currency, "each"), amount_pattern(currency, "each2")
    per = rf"(?:\s*(?:/|per|pro|à|je|al|por|za)\s*(?:1\s?)?(?:{_UNIT})\b)"
    number = r"\d{1,4}[.,]\d{1,3}|\d{1,5}"
    return re.compile(
        rf"(?<![\w.,])(?:(?P<weight>{number})\s?(?P<unit>{_UNIT})\b\.?"
        rf"(?:(?P<by>\s*[x×X*@à]\s*)|\s+){one}(?(by){per}?|{per})"
        rf"|{two}{per}\s*[x×X*]?\s*(?P<weight2>{number})\s?(?P<unit2>{_UNIT})\b)"
        r"(?!\w)",
        re.IGNORECASE,
    )
