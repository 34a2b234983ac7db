"""Prices of the tray that decisions settle: they become prices of the book, by the same checks."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from ingest.brought import PriceLine
from ingest.kinds import prices
from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.decided import Decided, DecidedWords
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.price_of_line import COLUMNS, PriceOfLine
from ingest.matching.words import number_key
from ingest.report import Remark
from ingest.text.csv_text import RawRow, Sheet
from ingest.text.read_file import ReadFile, read_columns
from ingest.text.rows import Row
from ingest.text.sentences import counted, quoted
from pricing.book import tray
from pricing.book.connect import Connection
from pricing.book.tray import WaitingPrice
from pricing.errors import Problem

StoredId = Callable[[Decided], int | None]


@dataclass(kw_only=True)
class SettledPrices:
    """What of the tray a file of decisions settles."""

    problems: list[Problem] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    checked: Checked = field(default_factory=Checked)  # of the prices
    kitchen: Kitchen
    settled: list[tuple[Row, WaitingPrice]] = field(default_factory=list)  # by which row

    def store(self, con: Connection, stored_id: StoredId) -> Stored:
        """Return the rows to store; `stored_id` gives a new ingredient the number it has now."""
        stored = self.checked.store(con)
        new = {each.ingredient_id: each for each in self.kitchen.ingredients.values()}
        tables = {name: dict(columns) for name, columns in stored.tables.items()}
        touched = set(stored.touched)
        if "observation" in tables:
            made: dict[Any, int | None] = {
                each: stored_id(Decided(ingredient=new[each])) for each in touched if each < 0
            }
            ids = [made.get(each, each) for each in tables["observation"]["ingredient_id"]]
            tables["observation"]["ingredient_id"] = ids
            touched = {made.get(each) or each for each in touched}
        tables["tray_settled"] = {
            "line": [row.line for row, _ in self.settled],
            "raw": [row.raw for row, _ in self.settled],
            "tray_row": [each.row_id for _, each in self.settled],
        }
        return Stored(tables=tables, touched=frozenset(touched))


def settle_prices(
    con: Connection,
    words: DecidedWords,
    kitchen: Kitchen,
    rows: Mapping[tuple[str, str], Row],
    options: Options,
) -> SettledPrices:
    """Return what becomes of the waiting prices whose words a file decides on.

    `rows`: key of the sender and of the words → the row that decides. A price that the checks
    refuse is a problem of that row.
    """
    found, priced = SettledPrices(kitchen=kitchen), PriceOfLine(kitchen)
    deciding = _Deciding(words, rows)
    made: list[RawRow] = []
    without_pack: dict[int, tuple[Row, list[WaitingPrice]]] = {}
    for each in tray.waiting_prices(con):
        by = deciding.on(each)
        if by is None:
            continue
        row, decided = by
        if decided.ingredient is not None:
            cells = priced.cells(_line(each), decided)
            if cells is None:
                lacking = priced.lacking(_line(each), decided)
                if lacking is not None:
                    found.remarks.append(_still_waits(each, lacking))
                else:
                    without_pack.setdefault(row.line, (row, []))[1].append(each)
                continue
            made.append(RawRow(line=row.line, raw=each.raw or "", cells=tuple(cells)))
        found.settled.append((row, each))
    found.problems += [_no_pack(row, lines) for row, lines in without_pack.values()]
    found.checked = prices.check_rows(con, _rows(made), kitchen, options)
    found.problems += [_of_decision(each) for each in found.checked.problems]
    bad: set[int | None] = {each.line for each in found.problems}
    if bad:  # the other prices of a row that is refused are refused with it
        made = [each for each in made if each.line not in bad]
        found.settled = [each for each in found.settled if each[0].line not in bad]
        found.checked = prices.check_rows(con, _rows(made), kitchen, options)
    found.remarks += found.checked.remarks
    _remark_settled(found)
    return found


def _remark_settled(found: SettledPrices) -> None:
    if found.settled:
        settled = f"{counted(len(found.settled), 'line')} of the tray"
        new = counted(found.checked.added, "new price")
        found.remarks.append(
            Remark(f"{settled} settled: {new}.", would=f"{settled} would be settled: {new}.")
        )


class _Deciding:
    """Which row of a file decides on a waiting line, and what it decides."""

    def __init__(self, words: DecidedWords, rows: Mapping[tuple[str, str], Row]) -> None:
        self._words, self._rows = words, rows
        self._numbered = {(sender, number_key(key)): row for (sender, key), row in rows.items()}

    def on(self, each: WaitingPrice) -> tuple[Row, Decided] | None:
        """Return the row and its decision; None: the file does not decide on its words."""
        sender, key = each.sender_key, each.words_key
        row = self._rows.get((sender, key)) or self._rows.get(("", key))
        decided = self._words.of_words(sender, key)
        if row is None and decided is None:  # of "eggs", where "egg" is decided
            one = number_key(key)
            row = self._numbered.get((sender, one)) or self._numbered.get(("", one))
            decided = self._words.in_other_number(sender, key)
        return None if row is None or decided is None else (row, decided)


def _line(waiting: WaitingPrice) -> PriceLine:
    return PriceLine(
        line=waiting.line or 0,
        raw=waiting.raw or "",
        words=waiting.words,
        day=waiting.observed_on,
        price=waiting.price,
        currency=waiting.currency,
        count=waiting.packs,
        unit=waiting.unit,
        pack=waiting.pack,
        supplier=waiting.sender,
        kind=waiting.price_kind,
        tax_pct=waiting.tax_pct,
        region=waiting.region,
        product=waiting.product,
        source=waiting.source or waiting.file,
        note=waiting.note,
    )


def _rows(made: Sequence[RawRow]) -> list[Row]:
    header = RawRow(line=1, raw="", cells=COLUMNS)
    read = read_columns("prices", Sheet(header=header, rows=tuple(made)))
    if not isinstance(read, ReadFile) or read.problems:  # the cells were written here
        raise TypeError(read)
    return read.rows


def _still_waits(each: WaitingPrice, lacking: str) -> str:
    """Say why a price waits although its ingredient is known."""
    return (
        f"{quoted(each.words)} of {each.observed_on} still waits: {lacking}. Load that first, then "
        "the decision again."
    )


def _no_pack(row: Row, lines: Sequence[WaitingPrice]) -> Problem:
    ingredient = row.value["ingredient"]
    return row.problem(
        "pack",
        f"no pack of {quoted(lines[0].words)} that {ingredient} can be counted in",
        "what one of it is, such as 500 g or 6 x 330 ml",
        f"Write the pack in this row, or load the missing measure of {ingredient} first.",
    )


def _of_decision(problem: Problem) -> Problem:
    """Return a price's problem as one of the row that decides on it."""
    return Problem(
        line=problem.line,
        column="ingredient" if problem.column != "pack" else "pack",
        found=problem.found,
        expected=problem.expected,
        remedy=problem.remedy,
        code=problem.code,
    )
