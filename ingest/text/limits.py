"""How much of a file is read: the limits that bound time and memory, and their sentences."""

from __future__ import annotations

from pricing.errors import Problem

_MB = 1024 * 1024
LARGEST_FILE = 200 * _MB  # bytes of any file
LARGEST_TABLE = 50 * _MB  # bytes of a table in text, unless it has our own columns
LARGEST_UNPACKED = 100 * _MB  # bytes of all parts of a workbook
LONGEST_CELL = 32_767  # characters; no spreadsheet keeps more in a cell
LARGEST_TEXT = 20 * _MB  # bytes of a web page, a recipe's text or a receipt
MOST_OWN_LINES = 1_000_000  # of a table with our own columns
MOST_LINES = 200_000  # of any other table, and rows of all sheets of a workbook


def limits_help() -> str:
    """Return how much of a file is read, in words for who asks before loading it.

    >>> print(limits_help().splitlines()[0])
    At most this much of a file is read; split a larger one.
    """
    return (
        "At most this much of a file is read; split a larger one.\n"
        f"  any file              {LARGEST_FILE // _MB} MB\n"
        f"  our own columns       {MOST_OWN_LINES:,} lines\n"
        f"  any other table       {MOST_LINES:,} lines, {LARGEST_TABLE // _MB} MB of text\n"
        f"  a workbook            {MOST_LINES:,} filled rows, {LARGEST_UNPACKED // _MB} MB "
        "unpacked\n"
        f"  a recipe or receipt   {LARGEST_TEXT // _MB} MB"
    )


def too_large(size: int, most: int = LARGEST_FILE) -> Problem:
    """Return the problem of a file of `size` bytes, over the limit."""
    return _split(f"a file of {size // _MB:,} MB", f"at most {most // _MB:,} MB")


def too_many_lines(data: bytes, most: int) -> Problem | None:
    """Return the problem of a text of more than `most` lines, or None.

    Lines are counted before anything is made of them, blank ones and those inside a cell too.

    >>> too_many_lines(b"Date;Item\\n" * 3, most=2).sentence()
    'found a table of 3 lines; expected at most 2. Split it into several files.'
    """
    lines = max(data.count(b"\n"), data.count(b"\r"))
    if lines <= most:
        return None
    return _split(f"a table of {lines:,} lines", f"at most {most:,}")


def too_many_rows(most: int) -> Problem:
    """Return the problem of a workbook whose sheets have more than `most` filled rows."""
    return _split(f"a workbook with more than {most:,} filled rows", f"at most {most:,}")


def _split(found: str, expected: str) -> Problem:
    return Problem(
        line=None, column=None, found=found, expected=expected,
        remedy="Split it into several files.",
    )  # fmt: skip
