"""Settles how dates and amounts of a table are meant: by all its cells, by an answer, or asks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from ingest.report import Question
from ingest.tables.contents import date_orders, decimal_marks, example_of
from ingest.tables.dates import ORDERS, orders_of, read_date
from ingest.tables.grid import Cell, text_of
from ingest.tables.numbers import AMBIGUOUS
from ingest.tables.table import Table
from ingest.text.sentences import quoted
from pricing.errors import InputRefused
from pricing.money import currencies_written, minor_units

DECIMALS = ("point", "comma")
_MARK = {"point": ".", "comma": ",", ".": ".", ",": ","}


def answer(told: Mapping[str, str], name: str, choices: Sequence[str] = ()) -> str | None:
    """Return what was told under a name, or None. Raises InputRefused for what is no choice."""
    given = told.get(name)
    if given is None:
        return None
    if choices and given not in choices:
        raise InputRefused(
            f"Found {name}={given}; expected one of {', '.join(choices)}. Correct the answer."
        )
    return given


def settle_order(
    table: Table, place: int | None, banner: Cell | None, told: Mapping[str, str]
) -> tuple[str, Question | None]:
    """Return the order of day and month, "" where no date needs one; or the question about it."""
    given = told.get("date")
    if given in ORDERS:
        return given, None
    orders, cell = (None, None) if place is None else date_orders(table.rows, place)
    if place is None and isinstance(banner, str):
        orders, cell = orders_of(banner) or None, banner
    if orders is None:
        return "", None
    if len(orders) == 1:
        return next(iter(orders)), None
    proposed = "day-first" if cell and "." in cell else None
    if orders:
        evidence = f"Every date, such as {quoted(str(cell))}, can be read in more than one order."
    else:
        evidence = f"The dates contradict each other: {quoted(str(cell))} is in another order."
    return proposed or sorted(orders or ORDERS)[0], Question(
        name="date",
        asks="Which comes first in a date?",
        choices=tuple(sorted(orders or ORDERS)),
        proposed=proposed,
        evidence=evidence,
    )


def settle_decimal(
    table: Table, places: Sequence[int], told: Mapping[str, str]
) -> tuple[str, Question | None]:
    """Return the decimal mark, "" where no number shows one; or the question about it."""
    given = answer(told, "decimal", tuple(_MARK))
    if given is not None:
        return _MARK[given], None
    marks = decimal_marks(table.rows, places)
    clear = marks - {AMBIGUOUS}
    if len(clear) == 1:
        return clear.pop(), None
    if not marks:
        return "", None
    cell = quoted(example_of(table.rows, places, marks) or "")
    if clear:
        other = quoted(example_of(table.rows, places, {","}) or "")
        evidence = f"Numbers such as {quoted(example_of(table.rows, places, {'.'}) or '')} and "
        evidence += f"{other} contradict each other."
    else:
        evidence = f"Every number, such as {cell}, can be read in two ways."
    return ".", Question(
        name="decimal",
        asks="Which mark stands before decimals?",
        choices=DECIMALS,
        proposed=None,
        evidence=evidence,
    )


def currency_of(sign: str, own: str) -> str | None:
    """Return the currency of a sign or code: `own` if it may be that, else the only one it can be.

    >>> currency_of("$", "CAD"), currency_of("€", "USD"), currency_of("kr", "EUR")
    ('CAD', 'EUR', None)
    """
    named = _meant(sign)
    if own in named:
        return own
    return next(iter(named)) if len(named) == 1 else None


def _meant(sign: str) -> frozenset[str]:
    """Return the currencies that a sign or code may stand for."""
    bare = sign.rstrip(".")
    known = currencies_written()
    if bare.casefold() in ("zł", "zl"):
        return known["zł"]
    ways = (known.get(way) for way in (bare, bare.upper(), bare.lower()))
    return next((each for each in ways if each), frozenset())


def settle_currency(
    signs: Sequence[str], own: str, told: Mapping[str, str]
) -> tuple[str, Question | None]:
    """Return the currency of a table's amounts, or the question about it."""
    given = told.get("currency")
    if given is not None:
        return answer(
            {"currency": given.strip().upper()}, "currency", tuple(minor_units())
        ) or own, None
    meant = {currency_of(sign, own) for sign in signs}
    if len(meant) == 1 and None not in meant:
        return meant.pop() or own, None
    known = tuple(sorted(each for each in meant if each)) or (own,)
    choices: tuple[str, ...] = ()
    if not signs:
        evidence = "No amount, heading or line above the table names one."
    else:
        seen = ", ".join(map(quoted, sorted(set(signs))))
        evidence = f"The table writes {seen}, which several currencies do."
        choices = tuple(sorted({code for sign in signs for code in _meant(sign)}))
        if len(known) > 1:
            evidence = f"The table writes {seen}; amounts without a sign have one of them."
    return known[0], Question(
        name="currency",
        asks="In which currency are the amounts?",
        choices=choices,
        proposed=known[0] if not signs or len(known) > 1 else None,
        evidence=evidence,
        default=None if signs else own,
    )


def settle_day(
    told: Mapping[str, str], held: Cell | None, dates: Sequence[Cell], order: str, today: date
) -> tuple[date | None, Question | None]:
    """Return the day of a table without a column of dates, or the question about it."""
    given = told.get("day")
    if given is not None:
        day = read_date(given, "")
        if day is None:
            raise InputRefused(
                f"Found day={given}; expected a date such as {today.isoformat()}. Correct it."
            )
        return day, None
    if held is not None:
        day = held if isinstance(held, date) else read_date(text_of(held), order)
        if day is not None:
            return day, None
    shown = [text_of(cell) for cell in dates]
    day = read_date(shown[0], order) if len(shown) == 1 else None
    return day, Question(
        name="day",
        asks="Of which day are these prices (year-month-day)?",
        choices=(),
        proposed=day.isoformat() if day else None,
        evidence=f"Above the table stands {quoted(shown[0])}, without a word that says what it is."
        if shown
        else "No column and no line above the table holds a date.",
    )
