"""Reads one cell's text into a value, or says what was wrong with it."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from ingest.text.sentences import quoted
from pricing.errors import MeasureRefused, Problem
from pricing.money import CurrencyRefused, minor_units, read_currency
from pricing.names import name_key, nearest, unguarded
from pricing.printed.amount import PrintedAmount, read_printed_amount

Reader = Callable[[str], Any]  # trimmed text that is not empty → value; raises CellRefused

_NUMBER = re.compile(r"([0-9]*)(?:\.([0-9]+))?")
_DATE = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_MONTH = re.compile(r"([0-9]{4})-([0-9]{2})")
_COMMA = re.compile(r"[-+]?[0-9]+,[0-9]+")
_THOUSANDS = re.compile(r"[-+]?[0-9]{1,3}(?:[,'’  ][0-9]{3})+(?:[.,][0-9]*)?")
_OTHER_DATE = re.compile(r"[0-9]{1,4}[./ -][0-9]{1,2}[./ -][0-9]{1,4}")


class CellRefused(ValueError):
    """A cell that cannot be read: what was found, what was expected, what to do."""

    def __init__(self, found: str, expected: str, remedy: str) -> None:
        self.found, self.expected, self.remedy = found, expected, remedy
        super().__init__(found, expected, remedy)

    def problem(self, line: int | None, column: str) -> Problem:
        """Return the problem of a cell in this place."""
        return Problem(
            line=line,
            column=column,
            found=self.found,
            expected=self.expected,
            remedy=self.remedy,
        )


def text(cell: str) -> str:
    """Take any text as it stands, without the mark that keeps it from being a formula."""
    return unguarded(cell)


def name(cell: str) -> str:
    """Take a name as written, with single spaces between its words, and as `text` does."""
    return unguarded(" ".join(cell.split()))


def number(
    *,
    places: int,
    whole: int = 9,
    over: int | None = 0,
    least: int | None = None,
    most: int | None = None,
    noun: str = "a number",
) -> Reader:
    """Return a reader of decimals: at most `places` after the point and `whole` digits before it.

    The value is over `over`, or at least `least`, and not over `most`.
    """
    if least is not None:
        over = None
    bounds = f"over {over}" if over is not None else f"from {least}"
    if most is not None:
        bounds += f" and up to {most}" if over is not None else f" to {most}"
    expected = f"{noun} {bounds}, written like 1.5"

    def read(cell: str) -> Decimal:
        match = _NUMBER.fullmatch(cell)
        if match is None or not (match[1] or match[2]):
            raise CellRefused(quoted(cell), expected, _mend_number(cell))
        decimals = len((match[2] or "").rstrip("0"))
        if decimals > places:
            raise CellRefused(
                f"{quoted(cell)}, which has {decimals} decimals",
                f"at most {places} decimals",
                "Write fewer decimals; nothing is rounded unasked.",
            )
        if len(match[1].lstrip("0")) > whole:
            raise CellRefused(
                quoted(cell),
                f"at most {whole} digits before the point",
                "Check that the number is in the right column.",
            )
        value = Decimal(cell)
        low = value <= over if over is not None else least is not None and value < least
        if low or (most is not None and value > most):
            raise CellRefused(quoted(cell), expected, "Correct the number.")
        return value

    return read


def _mend_number(cell: str) -> str:
    """Name the likeliest mistake in a number that cannot be read."""
    if _THOUSANDS.fullmatch(cell) and not re.fullmatch(r"[-+]?[0-9]+,[0-9]{1,2}", cell):
        return "Write it without marks between thousands, and decimals after a point."
    if _COMMA.fullmatch(cell):
        return f"This is a decimal comma; write {cell.replace(',', '.')}."
    if re.fullmatch(r"[-−][0-9.,]+", cell):
        return "Leave out the minus sign, or correct the number."
    if cell.endswith("%"):
        return "Write the percentage without its sign."
    if re.fullmatch(r"[+-]?[0-9.]+[eE][+-]?[0-9]+", cell):
        return "Write the number in full, without an exponent."
    if re.search(r"[^\W\d_]|[$£€¥₹]", cell):
        return "Write the number alone; a currency or a unit has a column of its own."
    return "Write digits, with a point before decimals."


def printed_amount(cell: str) -> PrintedAmount:
    """Read an amount of money as it was printed, with the words around it."""
    try:
        return read_printed_amount(cell)
    except MeasureRefused as refused:
        raise CellRefused(refused.found, refused.expected, refused.remedy) from None


def day(cell: str) -> date:
    """Read an ISO date."""
    match = _DATE.fullmatch(cell)
    if match is None:
        remedy = (
            "Dates in another order are not guessed: write the year first, then month and day."
            if _OTHER_DATE.fullmatch(cell)
            else "Write the year first, then month and day."
        )
        raise CellRefused(quoted(cell), "a date such as 2026-11-24", remedy)
    try:
        return date(int(match[1]), int(match[2]), int(match[3]))
    except ValueError:
        raise CellRefused(
            quoted(cell), "a day of the calendar, such as 2026-11-24", "That day does not exist."
        ) from None


def instant(cell: str) -> datetime:
    """Read a date and time of day, in UTC and without a zone mark."""
    try:
        read = datetime.fromisoformat(cell)
    except ValueError:
        read = None
    if read is None or read.tzinfo is not None or "T" not in cell:
        raise CellRefused(
            quoted(cell),
            "a date and time in UTC, written like 2026-11-24T09:30:00",
            "Take the file as `portiondrift export` wrote it.",
        )
    return read


def month(cell: str) -> date:
    """Read a month (YYYY-MM) as its first day."""
    match = _MONTH.fullmatch(cell)
    if match is None or not 1 <= int(match[2]) <= 12 or int(match[1]) < 1:
        raise CellRefused(
            quoted(cell), "a month such as 2026-11", "Write the year, a dash and the month."
        )
    return date(int(match[1]), int(match[2]), 1)


def currency(cell: str) -> str:
    """Read an ISO 4217 currency code, in capitals."""
    try:
        return read_currency(cell)
    except CurrencyRefused:
        near = nearest(cell, minor_units())
        raise CellRefused(
            quoted(cell),
            "an ISO 4217 currency code such as USD, GBP or EUR",
            f"Nearest: {', '.join(near)}." if near else "Write the three-letter code.",
        ) from None


class Choice:
    """A reader of one of a few words, in any case; each stands for the value given."""

    def __init__(self, **words: Any) -> None:
        self.words = words

    def __call__(self, cell: str) -> Any:
        word = cell.casefold().replace(" ", "_")
        if word not in self.words:
            expected = f"one of {', '.join(self.words)}"
            raise CellRefused(quoted(cell), expected, "Write one of these.")
        return self.words[word]


def one_of(*words: str) -> Choice:
    """Return a reader of one of these words.

    >>> one_of("as_purchased", "edible")("As purchased")
    'as_purchased'
    """
    return Choice(**{word: word for word in words})


def marks(cell: str) -> tuple[str, ...]:
    """Read tasters' marks with semicolons between them, each once more where it was given twice.

    >>> marks("7; 8.50 ;7")
    ('7', '8.5', '7')
    """
    read = number(places=4, whole=5, least=0, noun="marks, each a number")
    given = [f"{read(part.strip()):f}" for part in cell.split(";") if part.strip()]
    if not given:
        raise CellRefused(quoted(cell), "marks such as 7;8;6", "Write them, or leave it empty.")
    return tuple(each.rstrip("0").rstrip(".") if "." in each else each for each in given)


def name_list(cell: str) -> tuple[str, ...]:
    """Read names with semicolons between them; one that comes again is taken once."""
    by_key: dict[str, str] = {}
    for part in filter(None, map(name, cell.split(";"))):
        by_key.setdefault(name_key(part), part)
    return tuple(sorted(by_key.values(), key=name_key))


def allergens(cell: str) -> tuple[str, ...]:
    """Read allergens with semicolons between them; `none` alone states that there are none."""
    names = name_list(cell)
    if "none" not in map(name_key, names):
        return names
    if len(names) > 1:
        raise CellRefused(
            quoted(cell),
            "names of allergens, or 'none' alone",
            "Leave the cell empty when it is not known.",
        )
    return ()
