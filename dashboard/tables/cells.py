"""The cells of a table as a page draws them: words and links, and what a column is sorted by."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import pandas as pd

from dashboard.words.figures import plain_number
from pricing.days import day_words

DASH = "—"
INSIDE = "\u2003"  # what the name of a line inside another one begins with

_LINK = re.compile(r"(?<!\\)\[((?:\\.|[^\\\]])*)\]\(([^)\s]*)\)")
_ESCAPED = re.compile(r"\\([\\*_$\[\]<>~#|])")
_FIGURE = re.compile(
    r"(?:at least |under |≥ )?(?P<sign>[+−-]?)\s?(?:[A-Z]{3} |[$£€¥])?"
    r"(?P<number>\d[\d,]*(?:\.\d+)?)(?P<unit>[^\d]{0,24}(?:\(\D{0,12}\d+\D{0,12}\))?)"
)
_NOTHING = re.compile(r"[+−-]?(?:[A-Z]{3} |[$£€¥])?0(?:\.0+)?(?: (?:%|g|ml|each))?")
_LARGER = {"kg": 1000.0, "l": 1000.0, "litre": 1000.0, "litres": 1000.0}  # beside g and ml
_DAYS = ("%d %B %Y", "%d %b %Y", "%B %Y", "%b %Y", "%Y-%m-%d")


@dataclass(frozen=True, kw_only=True)
class Cell:
    """One cell: its words, each piece with the address that it leads to, and its place."""

    pieces: tuple[tuple[str, str], ...]  # (words, address or "")
    by: float | str | None  # what it is sorted by; None: last, whichever way
    line: tuple[float, ...] = ()  # a small line to draw in place of words

    @property
    def words(self) -> str:
        return "".join(words for words, _ in self.pieces)

    @property
    def is_figure(self) -> bool:
        return isinstance(self.by, float)


def cell(value: Any) -> Cell:
    """Return what a table draws of a value: Markdown, a number, a day, a line, or nothing.

    A figure that is nothing is a dash.

    >>> cell("[leek](ingredients?ingredient=leek), new").pieces
    (('leek', 'ingredients?ingredient=leek'), (', new', ''))
    >>> cell("+$0.00").words, cell("1.5 kg").by, cell("−$1,200.50").by
    ('—', 1500.0, -1200.5)
    """
    if isinstance(value, list | tuple):
        return Cell(pieces=(), by=None, line=tuple(float(each) for each in value))
    pieces = tuple(_pieces(_as_text(value)))
    words = "".join(each for each, _ in pieces).replace("\u00a0", " ").strip()
    if not words:
        return Cell(pieces=(), by=None)
    if words == DASH or _NOTHING.fullmatch(words):
        return Cell(pieces=((DASH, ""),), by=None)
    return Cell(pieces=pieces, by=sorted_by(words))


def _as_text(value: Any) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None or pd.isna(value):
        return DASH
    if isinstance(value, date | datetime):
        return day_words(value)
    return plain_number(float(value)) if isinstance(value, int | float) else str(value)


def _pieces(text: str) -> list[tuple[str, str]]:
    pieces, at = [], 0
    for found in _LINK.finditer(text):
        pieces.append((_read(text[at : found.start()]), ""))
        pieces.append((_read(found[1]), found[2]))
        at = found.end()
    pieces.append((_read(text[at:]), ""))
    return [(words, leads) for words, leads in pieces if words]


def _read(text: str) -> str:
    """Return Markdown as it reads: what is between backticks stands as it is."""
    parts = text.replace("**", "").split("`")
    return "".join(
        part if number % 2 else _ESCAPED.sub(r"\1", part) for number, part in enumerate(parts)
    )


def sorted_by(words: str) -> float | str:
    """Return a number for a figure, a day as 2026-11-28, else the words in small letters.

    >>> sorted_by("at least $1.20"), sorted_by("28 November 2026"), sorted_by("Leek")
    (1.2, '2026-11-28', 'leek')
    """
    found = _FIGURE.fullmatch(words)
    if found:
        number = float(found["number"].replace(",", ""))
        number *= _LARGER.get(found["unit"].strip(), 1.0)
        return -number if found["sign"] in ("−", "-") and number else number
    for form in _DAYS:
        try:
            return datetime.strptime(words, form).date().isoformat()  # noqa: DTZ007
        except ValueError:
            continue
    return words.casefold()


def are_figures(cells: Sequence[Cell]) -> bool:
    """Tell whether a column is one of figures, which stand at the right."""
    told = [each for each in cells if each.by is not None]
    return bool(told) and all(each.is_figure and math.isfinite(each.by) for each in told)  # type: ignore[arg-type]
