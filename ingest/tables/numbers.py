"""Reads numbers and amounts of money as people write them, once the decimal mark is known."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ingest.tables.words import MEASURED, measured_words, unit_named
from pricing.money import currencies_written

_GAP = r"[ \u00a0\u2009\u202f\u00b4'’`]"
_GROUPED = re.compile(rf"([0-9]{{1,3}}(?:{_GAP}[0-9]{{3}})+)(?![0-9])")
_BODY = re.compile(r"[0-9]+(?:[.,][0-9]+)*|[.,][0-9]+")
_PLAIN = re.compile(r"[0-9]+(?:[.,][0-9]+)*")
_NO_DIGIT = re.compile(r"[^0-9]*")
_AT_START = re.compile(r"([-−–+])?\s*([^\s0-9.,()+−–-][^\s0-9.,()+−–-]{0,5})\.?\s*(?=[-−–+(.,0-9])")
_AT_END = re.compile(r"(?<=[-0-9.,)–−])\s*([^\s0-9.,()+−–-][^\s0-9.,()−–]{0,5})\.?\s*([-−–])?$")
_WHOLE = re.compile(r"([.,])\s*(?:-{1,2}|–|—)$")  # 12,- and 12.–
_SHAPES = {
    ".": re.compile(r"(?:[0-9]+|[0-9]{1,3}(?:,[0-9]{3})+)?(?:\.[0-9]+)?"),
    ",": re.compile(r"(?:[0-9]+|[0-9]{1,3}(?:\.[0-9]{3})+)?(?:,[0-9]+)?"),
}
AMBIGUOUS = "either"


@dataclass(frozen=True, kw_only=True, slots=True)
class Money:
    """An amount as written in a cell."""

    body: str  # the number alone, its sign in front
    sign: str | None  # of the currency, or its code
    per: str | None  # what it is the price of, where the cell says so: "1 kg", "100 g"


def decimal_mark(body: str) -> str | None:
    """Return the decimal mark that a number shows: "." or ",", AMBIGUOUS, or None for none.

    >>> [decimal_mark(each) for each in ("1.234,56", "0,843", "1,234", "1.234.567", "12")]
    [',', ',', 'either', ',', None]
    """
    if whole := _WHOLE.search(body):
        return whole[1]
    gaps = _GROUPED.search(body)
    text = body if gaps is None else body.replace(gaps[1], re.sub(_GAP, "", gaps[1]))
    marks = [each for each in text if each in ".,"]
    if not marks:
        return None
    last = marks[-1]
    other = "," if last == "." else "."
    if len(set(marks)) == 2:
        return last
    if len(marks) > 1:
        return other
    if gaps is not None:
        return last
    before, after = text.lstrip("+-−–( ").split(last)
    if len(after.rstrip(")-−– ")) == 3 and 1 <= len(before) <= 3 and not before.startswith("0"):
        return AMBIGUOUS
    return last


def read_number(text: str, decimal: str) -> Decimal | None:
    """Return the number a text is, or None. `decimal` is its decimal mark, "" while none was seen.

    >>> read_number("1 234,56-", ","), read_number("1'234.5", "."), read_number("1.5", ",")
    (Decimal('-1234.56'), Decimal('1234.5'), None)
    """
    body, negative = _unsigned(text.strip())
    body = _WHOLE.sub("", body)
    gaps = _GROUPED.match(body)
    if gaps is not None:
        body = re.sub(_GAP, "", gaps[1]) + body[gaps.end() :]
    if not body or len(body) > 40 or not body.isascii():
        return None
    if body.isdigit():
        value = Decimal(body)
    elif decimal in _SHAPES and _SHAPES[decimal].fullmatch(body):
        group = "," if decimal == "." else "."
        value = Decimal(body.replace(group, "").replace(decimal, "."))
    else:
        return None
    return -value if negative else value


def split_money(text: str) -> Money | None:
    """Return the parts of an amount of money, or None where the text is none.

    >>> split_money("12,90 €/kg")
    Money(body='12,90', sign='€', per='1 kg')
    >>> split_money("CHF 1'234.50-").body, split_money("leek")
    ("-1'234.50", None)
    """
    if _PLAIN.fullmatch(text):
        return Money(body=text, sign=None, per=None)
    if _NO_DIGIT.fullmatch(text) or len(text) > 60:
        return None
    bare = text.strip()
    if bare[0] == "(" and bare[-1] == ")":
        bare = f"-{bare[1:-1].strip()}"
    rest, per = _per(bare)
    sign = None
    if found := _AT_START.match(rest):
        sign = _known_sign(found[2])
        rest = (found[1] or "") + rest[found.end() :]
    elif found := _AT_END.search(rest):
        sign = _known_sign(found[1])
        rest = rest[: found.start()] + (found[2] or "")
    if found is not None and sign is None:
        return None
    if per is None:
        rest, per = _per(rest)
    body, negative = _unsigned(rest.strip())
    plain = _GROUPED.sub(lambda gaps: re.sub(_GAP, "", gaps[1]), _WHOLE.sub("", body))
    if not _BODY.fullmatch(plain):
        return None
    return Money(body=f"-{body}" if negative else body, sign=sign, per=per)


def marks_seen(bodies: Iterable[str]) -> set[str]:
    """Return the decimal marks that these numbers show; AMBIGUOUS among them where one is."""
    return {mark for mark in map(decimal_mark, bodies) if mark is not None}


def _unsigned(text: str) -> tuple[str, bool]:
    """Return a text without its sign, and whether it was a minus: -5, 5-, (5)."""
    if text.startswith("(") and text.endswith(")"):
        return text[1:-1].strip(), True
    if text[:1] in ("-", "−", "–"):
        return text[1:].strip(), True
    if text[-1:] in ("-", "−", "–") and not _WHOLE.search(text):
        return text[:-1].strip(), True
    return text.removeprefix("+").strip(), False


def _per(text: str) -> tuple[str, str | None]:
    if text[-1:].isdigit():
        return text, None
    found = _per_pattern().search(text)
    if found is None:
        return text, None
    unit = unit_named(found[2])
    if unit not in MEASURED:
        return text[: found.start()].strip(), None
    return text[: found.start()].strip(), f"{found[1] or 1} {unit}"


@cache
def _per_pattern() -> re.Pattern[str]:
    words = f"{measured_words()}|stk|stück|st|pc|pcs|pce|each|ea|szt|pz|ud|un|stuk"
    before = r"(?:/|\bper|\bpro|\bje|\bpar|\bpor|\bal|\bza|\bla|\ble|\bil|\bel)\s*"
    return re.compile(rf"\s*{before}([0-9]+)?\s*({words})\.?$", re.IGNORECASE)


@cache
def _signs() -> dict[str, str]:
    """Return casefolded sign or code → the sign or code."""
    return {"zl": "zł"} | {sign.casefold(): sign for sign in currencies_written()}


def _known_sign(text: str) -> str | None:
    return _signs().get(text.casefold())
