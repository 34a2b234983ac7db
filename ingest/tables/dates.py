"""Reads dates as people write them, once the order of day and month is known."""

from __future__ import annotations

import re
from datetime import date, timedelta
from decimal import Decimal

from ingest.text.fold import fold
from ingest.text.months import months

ORDERS = ("day-first", "month-first", "year-first")
_ISO = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})\.?")
_COMPACT = re.compile(r"(?:19|20)[0-9]{6}")
_MARKED = re.compile(r"([0-9]{1,2})([./-])\s?([0-9]{1,2})\2\s?([0-9]{4}|[0-9]{2})\.?")
_MONTH = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})|([0-9]{1,2})[-/.]([0-9]{4})")
_TIME = re.compile(
    r"[ T,]+(?:um |at |à |kl\.? ?)?[0-9]{1,2}[:.h][0-9]{2}(?:[:.][0-9]{2}(?:[.,][0-9]+)?)?"
    r"(?: ?[AaPp]\.?[Mm]\.?)?(?: ?(?:Z|UTC|[+-][0-9]{2}:?[0-9]{2}|Uhr))?$"
)
_TOKEN = re.compile(r"[0-9]+|[^\W\d_]+")
_FILL = frozenset(("de", "of", "the", "th", "st", "nd", "rd", "den", "di", "del", "le", "d", "r"))
_EPOCH = date(1899, 12, 30)  # day 0 of a spreadsheet's dates
_EARLIEST, _LATEST = 1980, 2079


def orders_of(text: str) -> frozenset[str] | None:
    """Return the orders in which a text is a date; empty where any will do, None if it is none.

    >>> sorted(orders_of("13/02/2026")), sorted(orders_of("03.04.2026")), orders_of("2026-02-13")
    (['day-first'], ['day-first', 'month-first'], frozenset())
    """
    bare = _TIME.sub("", text.strip())
    if _certain(bare) is not None:
        return frozenset()
    found = frozenset(order for order in ORDERS if _in_order(bare, order) is not None)
    return found or None


def read_date(text: str, order: str) -> date | None:
    """Return the date a text is, or None; `order` decides what day and month are, "" takes neither.

    >>> read_date("3. Okt. 2026", ""), read_date("03/10/26", "day-first")
    (datetime.date(2026, 10, 3), datetime.date(2026, 10, 3))
    """
    bare = _TIME.sub("", text.strip())
    return _certain(bare) or (_in_order(bare, order) if order else None)


def year_out_of_reach(text: str) -> int | None:
    """Return the year of a date that is written like one, and of a year that is not read.

    >>> year_out_of_reach("31.12.2099"), year_out_of_reach("31.12.2026"), year_out_of_reach("leek")
    (2099, None, None)
    """
    bare = _TIME.sub("", text.strip())
    iso, marked = _ISO.fullmatch(bare), _MARKED.fullmatch(bare)
    year = int(iso[1]) if iso else _year(marked[4]) if marked else _EARLIEST
    return None if _EARLIEST <= year <= _LATEST else year


def serial_date(number: Decimal) -> date | None:
    """Return the date that a spreadsheet keeps as a number of days, or None for another number.

    >>> serial_date(Decimal(46298))
    datetime.date(2026, 10, 3)
    """
    if not 29_221 <= number <= 65_380:  # 1980 to 2078
        return None
    return _EPOCH + timedelta(days=int(number))


def read_month(text: str) -> date | None:
    """Return the first day of a month that a text names, or None.

    >>> read_month("Oct 2026"), read_month("10/2026"), read_month("2026-10")
    (datetime.date(2026, 10, 1), datetime.date(2026, 10, 1), datetime.date(2026, 10, 1))
    """
    if match := _MONTH.fullmatch(text.strip()):
        year, month = (match[1], match[2]) if match[1] else (match[4], match[3])
        return _day(int(year), int(month), 1)
    named = _named(text)
    if named is None or len(named[1]) != 1:
        return None
    year = named[1][0]
    return _day(int(year), named[0], 1) if len(year) == 4 else None


def _certain(text: str) -> date | None:
    """Return a date whose parts say themselves what they are."""
    if match := _ISO.fullmatch(text):
        return _day(int(match[1]), int(match[2]), int(match[3]))
    if _COMPACT.fullmatch(text):
        return _day(int(text[:4]), int(text[4:6]), int(text[6:]))
    named = _named(text)
    if named is None or len(named[1]) != 2:
        return None
    first, second = named[1]
    if len(first) == 4:
        first, second = second, first
    return _day(_year(second), named[0], int(first)) if len(first) <= 2 else None


def _named(text: str) -> tuple[int, list[str]] | None:
    """Return the month that a text names, and the numbers beside it; None where there is more."""
    if len(text) > 40:
        return None
    month = None
    numbers = []
    for token in _TOKEN.findall(fold(text)):
        if token.isdigit():
            numbers.append(token)
        elif token in months() and month is None:
            month = months()[token]
        elif token not in _FILL and token not in _WEEKDAYS:
            return None
    return None if month is None else (month, numbers)


_WEEKDAYS = frozenset(
    [
        "mon",
        "monday",
        "tue",
        "tuesday",
        "wed",
        "wednesday",
        "thu",
        "thursday",
        "fri",
        "friday",
        "sat",
        "saturday",
        "sun",
        "sunday",
        "lundi",
        "mardi",
        "mercredi",
        "jeudi",
        "vendredi",
        "samedi",
        "dimanche",
        "mo",
        "di",
        "mi",
        "do",
        "fr",
        "sa",
        "so",
        "montag",
        "dienstag",
        "mittwoch",
        "donnerstag",
        "freitag",
        "samstag",
        "sonntag",
    ]
)


def _in_order(text: str, order: str) -> date | None:
    match = _MARKED.fullmatch(text)
    if match is None:
        return None
    one, two, three = match[1], match[3], match[4]
    if order == "day-first":
        return _day(_year(three), int(two), int(one))
    if order == "month-first":
        return _day(_year(three), int(one), int(two))
    if len(three) == 2 and len(one) == 2 and match[2] == "-":
        return _day(_year(one), int(two), int(three))
    return None


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else 2000 + int(text)


def _day(year: int, month: int, day: int) -> date | None:
    if not _EARLIEST <= year <= _LATEST:
        return None
    try:
        return date(year, month, day)
    except ValueError:
        return None
