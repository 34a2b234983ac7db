"""Decides what each column of a table holds: by its heading, its cells, and what was told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from ingest.report import Question
from ingest.tables.contents import Contents, contents
from ingest.tables.dates import ORDERS
from ingest.tables.headings import HeadingSays, heading_says
from ingest.tables.layout import MEANINGS
from ingest.tables.questions import choices_of
from ingest.tables.table import Table
from ingest.text.fold import fold
from ingest.text.sentences import quoted
from pricing.errors import InputRefused

MONEY = ("price", "unit_price", "total", "amount")
NUMBERS = (*MONEY, "count", "tax_pct", "yield_pct", "trim_pct")
_ASKED_TWICE = ("date", "price", "total", "count", "unit_price", "amount", "published_on", "month")
_PRINTED = {
    "date": "published_on", "price": "amount", "total": "amount", "words": "dish",
    "product": "dish", "dish": "dish", "version": "version", "amount": "amount",
    "published_on": "published_on",
    "month": "month", "where": "where", "note": "note", "currency": "currency",
    "supplier": "where",
}  # fmt: skip
_PRICES = {meaning: meaning for meaning in MEANINGS} | dict.fromkeys(
    ("dish", "version", "amount", "where", "month", "yield_pct", "trim_pct", "pack_unit"), "ignored"
) | {"published_on": "date"}  # fmt: skip
_COSTED = {meaning: meaning for meaning in MEANINGS} | dict.fromkeys(
    ("version", "where", "month"), "ignored"
) | {"published_on": "date"}  # fmt: skip
_NAMED = {"printed": _PRINTED, "prices": _PRICES, "costed": _COSTED}
_OF_A_LINE = ("total", "count")  # what words mean first, where a dish's lines are costed
_LABEL = {
    "words": "the description",
    "dish": "the name of the dish",
    "price": "the price of one pack",
    "amount": "the cost per portion",
}
_ENOUGH = 0.5  # of a column's cells must be what its heading says: the others are titles, sums


@dataclass
class Columns:
    """What the columns of a table hold; places count from 0."""

    table: Table
    kind: str
    told: Mapping[str, str]
    meaning: dict[int, str] = field(default_factory=dict)
    questions: list[Question] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    @cached_property
    def contents(self) -> list[Contents]:
        """What the cells of each column are."""
        return [contents(self.table.rows, place) for place in range(len(self.table.headings))]

    @cached_property
    def says(self) -> list[HeadingSays]:
        """What each heading says."""
        return [heading_says(heading) for heading in self.table.headings]

    def place(self, meaning: str) -> int | None:
        """Return the place of the column with a meaning, or None."""
        return next((place for place, held in self.meaning.items() if held == meaning), None)

    def heading(self, place: int) -> str:
        return self.table.headings[place]


def decide_columns(table: Table, kind: str, told: Mapping[str, str]) -> Columns:
    """Return what each column holds; what could not be decided is among the questions."""
    columns = Columns(table=table, kind=kind, told=told)
    fixed = _told_columns(columns)
    found: dict[str, list[int]] = {}
    for place in range(len(table.headings)):
        if place in fixed:
            columns.meaning[place] = fixed[place]
        elif meaning := _meaning(columns, place):
            found.setdefault(meaning, []).append(place)
    for meaning, places in found.items():
        if meaning in fixed.values():
            continue
        place = places[0] if len(places) == 1 else _one_of(columns, meaning, places)
        columns.meaning[place] = meaning
    needed = ("dish", "amount") if kind == "printed" else ("words", "price")
    for meaning in needed:
        _seek(columns, meaning)
    _by_cells(columns)
    _say_unread(columns)
    return columns


def _told_columns(columns: Columns) -> dict[int, str]:
    """Return place → meaning as told: `column HEADING=meaning` or `meaning=HEADING`."""
    by_name = {fold(heading): place for place, heading in enumerate(columns.table.headings)}
    fixed = {}
    for name, answer in columns.told.items():
        if name.startswith("column "):
            heading, meaning = name.removeprefix("column "), answer.strip()
        elif name in _ASKED_TWICE or name in ("words", "dish"):
            if name == "dish" and columns.kind == "costed":
                continue  # its name
            heading, meaning = answer, name
            if name == "date" and answer in ORDERS:
                continue  # an answer about the order of day and month
        else:
            continue
        if fold(heading) not in by_name:
            raise InputRefused(
                f"Found the column {heading!r} in what was told; expected one of "
                f"{choices_of(columns.table.headings)}. Correct its name."
            )
        if meaning not in MEANINGS:
            raise InputRefused(
                f"Found {meaning!r} told of the column {heading!r}; expected one of "
                f"{', '.join(MEANINGS)}. Correct it."
            )
        fixed[by_name[fold(heading)]] = meaning
    return fixed


def _meaning(columns: Columns, place: int) -> str | None:
    """Return what a column holds if its heading says so and its cells agree."""
    cells = columns.contents[place]
    if not cells.filled:
        return None
    named, meanings = _NAMED[columns.kind], columns.says[place].meanings
    if columns.kind == "costed" and columns.says[place].whole:
        meanings = tuple(sorted(meanings, key=lambda each: each not in _OF_A_LINE))
    for said in meanings:
        meaning = named.get(said, "ignored")
        if meaning == "published_on" and not _fits(meaning, cells) and _fits("month", cells):
            return "month"
        took = columns.kind == "costed" and meaning == "count"  # "2 tbsp" is no number
        if meaning == "ignored" or took or _fits(meaning, cells):
            return None if meaning == "ignored" else meaning
        if meaning == "words" and cells.words < _ENOUGH and cells.dates < _ENOUGH:
            return "gtin" if cells.gtins >= _ENOUGH else "item_number"
    return None


def _fits(meaning: str, cells: Contents) -> bool:
    """Tell whether a column's cells can be what its heading says."""
    if meaning in ("date", "published_on"):
        return max(cells.dates, cells.serials) >= _ENOUGH
    if meaning == "month":
        return max(cells.months, cells.dates) >= _ENOUGH
    if meaning == "count":
        return cells.numbers + cells.packs >= _ENOUGH
    if meaning == "tax_pct":
        return cells.percents >= _ENOUGH
    if meaning in ("yield_pct", "trim_pct"):
        return max(cells.percents, cells.numbers) >= _ENOUGH
    if meaning in NUMBERS:
        return cells.numbers >= _ENOUGH
    shares = {
        "words": cells.words, "dish": cells.words, "unit": cells.units + cells.packs,
        "currency": cells.currencies, "gtin": cells.gtins,
    }  # fmt: skip
    return shares.get(meaning, 1.0) >= 0.5


def _one_of(columns: Columns, meaning: str, places: Sequence[int]) -> int:
    """Return which of several columns of one meaning is taken; asks where that moves a figure."""
    whole = [place for place in places if columns.says[place].whole] or list(places)
    if meaning in ("price", "total", "unit_price"):
        taxes = {columns.says[place].tax for place in whole}
        gross = [place for place in whole if columns.says[place].tax == "gross"]
        if gross and len(gross) == 1 and None not in taxes:
            return gross[0]  # what is paid; the other column is the same price without its tax
    if meaning in ("words", "dish"):
        return max(whole, key=lambda place: columns.contents[place].length)
    if len(whole) > 1 and meaning in _ASKED_TWICE:
        names = tuple(columns.heading(place) for place in whole)
        columns.questions.append(
            Question(
                name=meaning,
                asks=f"Which column holds {_LABEL.get(meaning, f'the {meaning}')}?",
                choices=names,
                proposed=names[0],
                evidence=f"The headings {choices_of(names)} could each be it.",
            )
        )
    return whole[0]


def _seek(columns: Columns, meaning: str) -> None:
    """Ask for a column that every table needs, where no heading names it."""
    held = set(columns.meaning.values())
    if meaning == "words" and held & {"words", "ingredient"}:
        return
    if meaning == "price" and held & {"price", "unit_price", "total", "amount"}:
        return
    if meaning in held:
        return
    free = [place for place in range(len(columns.table.headings)) if place not in columns.meaning]
    if meaning in ("words", "dish"):
        product = columns.place("product")
        if product is not None and columns.contents[product].words >= _ENOUGH:
            columns.meaning[product] = meaning
            return
        fit = [place for place in free if columns.contents[place].words >= 0.5]
        fit.sort(key=lambda place: -columns.contents[place].length)
    else:
        fit = [place for place in free if columns.contents[place].numbers >= _ENOUGH]
        fit.sort(key=lambda place: -columns.contents[place].different)
    if fit:
        columns.meaning[fit[0]] = meaning
    names = tuple(columns.heading(place) for place in fit or free)
    columns.questions.append(
        Question(
            name=meaning,
            asks=f"Which column holds {_LABEL[meaning]}?",
            choices=names,
            proposed=names[0] if fit else None,
            evidence=f"No heading of {choices_of(columns.table.headings[:12])} says so.",
        )
    )


def _by_cells(columns: Columns) -> None:
    """Take the one column of packs that no heading names; ask about the one column of dates."""
    held = set(columns.meaning.values())
    free = [
        place
        for place, says in enumerate(columns.says)
        if place not in columns.meaning and not says.meanings
    ]
    packs = [place for place in free if columns.contents[place].packs > _ENOUGH]
    if len(packs) == 1 and columns.kind != "printed" and not held & {"pack", "count"}:
        columns.meaning[packs[0]] = "pack"
        columns.remarks.append(f"{quoted(columns.heading(packs[0]))} holds packs, by its cells.")
    dates = [place for place in free if columns.contents[place].dates > _ENOUGH]
    if len(dates) != 1 or held & {"date", "published_on", "month"}:
        return
    columns.meaning[dates[0]] = "published_on" if columns.kind == "printed" else "date"
    columns.questions.append(
        Question(
            name=f"column {columns.heading(dates[0])}",
            asks=f"Does {quoted(columns.heading(dates[0]))} hold the day of each row?",
            choices=(columns.meaning[dates[0]], "ignored"),
            proposed=columns.meaning[dates[0]],
            evidence="Its cells are dates, and its heading says nothing.",
        )
    )


def _say_unread(columns: Columns) -> None:
    unread = [
        columns.heading(place)
        for place, cells in enumerate(columns.contents)
        if cells.filled and columns.meaning.get(place, "ignored") == "ignored"
    ]
    if unread:
        columns.remarks.append(f"Columns not read: {choices_of(unread[:20])}.")
