"""What the heading of a column says of the cells below it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, lru_cache

from ingest.tables.words import MEASURED, headings, measured_words, unit_named
from ingest.text.fold import fold
from pricing.money import currencies_written, minor_units

MONEY = frozenset(("price", "unit_price", "total", "amount"))
_CODE = re.compile(r"(?<![A-Za-z])[A-Z]{3}(?![A-Za-z])")
_NO_CODES = frozenset(("ALL", "TOP", "CUP", "TRY", "MOP", "PEN"))  # words of headings in capitals
_RATE = re.compile(r"([0-9]{1,2}(?:[.,][0-9]{1,2})?) ?%")
_UNIT_IN_BRACKETS = re.compile(
    r"[(\[]\s*(?:in |en |w |i )?(?:([0-9]+)\s*)?([^\W\d_]{1,12})\.?\s*[)\]]"
)
_IN_UNIT = re.compile(r"\b(?:in|en|w|i)\s+([^\W\d_]{1,12})$")
_LONG = 5  # letters of a word that may end a compound ("Verkaufspreis")
_TAX_WORDS = ("net", "gross")


@dataclass(frozen=True, kw_only=True, slots=True)
class HeadingSays:
    """A heading, understood as far as it can be."""

    meanings: tuple[str, ...]  # what the column may hold; none where no word is known
    whole: bool  # True: no word of it is left over
    per: str | None = None  # "1 kg", "100 g": the pack that a price is for, or a number counts
    currency: str | None = None  # sign or code, as written
    tax: str | None = None  # net or gross
    rate: Decimal | None = None  # of the tax, in per cent


@lru_cache(maxsize=4096)
def heading_says(text: str) -> HeadingSays:
    """Return what a heading says.

    >>> said = heading_says("Preis/kg (EUR, inkl. 7 % MwSt)")
    >>> said.meanings, said.per, said.currency, said.tax, said.rate
    (('unit_price',), '1 kg', 'EUR', 'gross', Decimal('7'))
    >>> heading_says("Qté").meanings, heading_says("Datum Uhrzeit").whole
    (('count',), False)
    """
    if len(text) > 120 or not any(each.isalpha() for each in text):
        return HeadingSays(meanings=(), whole=False, currency=_currency(text))
    exact = headings().get(fold(text), ())
    if exact and not set(exact) & set(_TAX_WORDS):
        return _whole(exact, text)
    rest, per = _per(text)
    rest, currency = _without_currency(rest)
    rate = _RATE.search(rest)
    words, tax = _without_tax(fold(_RATE.sub("", rest)))
    meanings, whole = _meanings(words)
    if per and not meanings and (currency or not words):
        meanings, whole = ("price",), True  # "€/kg" alone
    if not meanings and tax and not words:
        meanings, whole = ("price",), False  # "netto" alone
    if per and meanings[:1] == ("price",):
        meanings = ("unit_price",)
    return HeadingSays(
        meanings=tuple(meaning.partition(":")[0] for meaning in meanings),
        whole=whole,
        per=per or _kept_unit(meanings),
        currency=currency,
        tax=tax,
        rate=Decimal(rate[1].replace(",", ".")) if rate and tax else None,
    )


def _whole(exact: tuple[str, ...], text: str) -> HeadingSays:
    return HeadingSays(
        meanings=tuple(meaning.partition(":")[0] for meaning in exact),
        whole=True,
        per=_kept_unit(exact),
        currency=_currency(text),
    )


def _kept_unit(meanings: tuple[str, ...]) -> str | None:
    unit = meanings[0].partition(":")[2] if meanings else ""
    return f"1 {unit}" if unit else None


def _per(text: str) -> tuple[str, str | None]:
    """Take out the unit: "/kg", "per 100 g", "(ml)", "in g"."""
    bare = text.casefold()
    for pattern in (_per_pattern(), _UNIT_IN_BRACKETS, _IN_UNIT):
        for found in pattern.finditer(bare):
            number, word = found.groups() if len(found.groups()) == 2 else (None, found[1])
            if (unit := unit_named(word)) in MEASURED:
                rest = text[: found.start()] + " " + text[found.end() :]
                return rest, f"{number or 1} {unit}"
    return text, None


@cache
def _per_pattern() -> re.Pattern[str]:
    before = r"(?:/|\bper|\bpro|\bje|\bpar|\bpor|\bal|\bza|\bau|\bà|\ba|\bel|\bo)\s*"
    return re.compile(rf"{before}(?:([0-9]+)\s*)?({measured_words()})(?![^\W\d_])")


def _currency(text: str) -> str | None:
    return _without_currency(text)[1]


def _without_currency(text: str) -> tuple[str, str | None]:
    found = _sign_pattern().search(text)
    if found is not None:
        return text[: found.start()] + " " + text[found.end() :], found[0].rstrip(".")
    for code in _CODE.finditer(text):
        if code[0] in minor_units() and code[0] not in _NO_CODES:
            return text[: code.start()] + " " + text[code.end() :], code[0]
    return text, None


@cache
def _sign_pattern() -> re.Pattern[str]:
    codes = minor_units()
    signs = sorted((s for s in currencies_written() if s not in codes), key=lambda s: -len(s))
    words = [re.escape(sign) for sign in signs if sign.isalpha()]
    marks = [re.escape(sign) for sign in signs if not sign.isalpha()]
    return re.compile(rf"{'|'.join(marks)}|(?<![^\W\d_])(?:{'|'.join(words)})(?![^\W\d_])")


@cache
def _tax_patterns() -> tuple[tuple[str, re.Pattern[str]], ...]:
    """Return (net or gross, pattern of its words), the longest words first."""
    found = [(word, meaning) for word, meanings in headings().items() for meaning in meanings]
    taxes = sorted((each for each in found if each[1] in _TAX_WORDS), key=lambda e: -len(e[0]))
    return tuple((meaning, re.compile(rf"\b{re.escape(word)}\b")) for word, meaning in taxes)


def _without_tax(words: str) -> tuple[str, str | None]:
    for meaning, pattern in _tax_patterns():
        if pattern.search(words):
            return " ".join(pattern.sub(" ", words).split()), meaning
    for meaning, start in (("net", "netto"), ("gross", "brutto")):  # "Nettopreis"
        if words.startswith(start) and words != start and words not in headings():
            return words.removeprefix(start).strip(), meaning
    return words, None


def _meanings(words: str) -> tuple[tuple[str, ...], bool]:
    """Return the meanings of folded words, and whether none of them is left over."""
    if not words:
        return (), False
    known = headings()
    if words in known:
        return known[words], True
    parts = words.split()[:8]
    for length in range(len(parts) - 1, 0, -1):
        found = {
            phrase: known[phrase]
            for start in range(len(parts) - length + 1)
            if (phrase := " ".join(parts[start : start + length])) in known
        }
        if found:  # the words that say least ("total", "name") come last
            return tuple(dict.fromkeys(m for each in found.values() for m in each)), False
    for part in parts:
        for cut in range(1, len(part) - _LONG + 1):
            if part[cut:] in known:  # the end of a compound names the thing
                return known[part[cut:]], False
    return (), False
