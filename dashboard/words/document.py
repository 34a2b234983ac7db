"""A document to read or print: sections with sentences, tables and charts, not yet drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, kw_only=True)
class Table:
    """A table of words; figures stand to the right."""

    headings: Sequence[str]
    rows: Sequence[Sequence[str]]
    right: Sequence[int] = ()  # places of the columns of figures
    says: str = ""  # what it holds, for who does not see it


@dataclass(frozen=True, kw_only=True)
class Line:
    """A line of a chart over time."""

    name: str
    points: Sequence[tuple[date, float | None]]  # None: no figure, the line breaks


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A point of a chart that is told apart: a printed figure."""

    on: date
    value: float
    label: str


@dataclass(frozen=True, kw_only=True)
class Chart:
    """Lines over time, with what they show in words."""

    title: str
    says: str  # the same in a sentence, for who does not see it
    lines: Sequence[Line]
    marks: Sequence[Mark] = ()
    currency: str | None = None  # of the figures; None: an index


@dataclass(frozen=True, kw_only=True)
class Section:
    """A heading and what stands under it."""

    title: str
    level: int = 2
    says: Sequence[str] = ()  # a paragraph each
    chart: Chart | None = None
    tables: Sequence[Table] = ()
    listed: Sequence[str] = ()
    breaks: bool = False  # begins a new page in print


@dataclass(frozen=True, kw_only=True)
class Document:
    """All of it."""

    title: str
    under: str  # what stands under the title
    sections: Sequence[Section]
