"""What sentences about a file are made of: quoted texts, and so many of a thing."""

from __future__ import annotations


def quoted(text: str, most: int = 60) -> str:
    """Return `text` in quotation marks on one line, cut to `most` characters.

    >>> quoted("leek"), quoted("two  words,\\nand more", most=9)
    ("'leek'", "'two words…'")
    """
    flat = " ".join(text.split())
    return f"'{flat[:most]}…'" if len(flat) > most else f"'{flat}'"


def counted(number: int, one: str) -> str:
    """Return how many there are of a thing.

    >>> counted(1, "cell"), counted(3000, "cell")
    ('1 cell', '3,000 cells')
    """
    return f"{number:,} {plural(number, one)}"


def plural(number: int, one: str) -> str:
    """Return the word for so many of a thing, without the number.

    >>> plural(1, "cell"), plural(0, "cell")
    ('cell', 'cells')
    """
    return one if number == 1 else f"{one}s"
