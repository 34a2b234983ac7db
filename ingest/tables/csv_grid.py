"""Takes the text of a table apart: its delimiter by all of its lines, its cells, their lines."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterator
from operator import methodcaller

from ingest.tables.decode import decoded
from ingest.tables.grid import Grid, GridRow
from ingest.text.csv_text import LONGEST_ROW
from pricing.errors import Problem

DELIMITERS = ("\t", ";", "|", ",")  # of equals the first: a comma is in numbers and words, too
MOST_COLUMNS = 1000
_QUOTED = re.compile(r'"[^"]*"')


def csv_grid(data: bytes) -> Grid | Problem:
    """Return the rows of a table in text, in whatever encoding and with whatever delimiter."""
    read = decoded(data)
    if isinstance(read, Problem):
        return read
    text, remark = read
    lines = list(io.StringIO(text, newline=""))  # splits at \r\n, \n and \r; keeps them
    remarks = [] if remark is None else [remark]
    if lines and lines[0].lower().startswith("sep=") and len(lines[0].strip()) == 5:
        delimiter = lines[0][4]
        lines[0] = "\n"
    else:
        delimiter = find_delimiter(lines)
    too_long: list[int] = []
    rows = tuple(_rows(lines, delimiter, too_long))
    if too_long:
        remarks.append(f"Lines too long for a row of a table: {', '.join(map(str, too_long[:5]))}.")
    if any(len(row.cells) >= MOST_COLUMNS for row in rows):
        remarks.append(f"Of rows longer than {MOST_COLUMNS:,} cells the rest was not read.")
    return Grid(name="", rows=rows, remarks=tuple(remarks))


def find_delimiter(lines: list[str]) -> str:
    """Return the mark that cuts the lines into rows of one width, and of several cells, most often.

    The whole text decides: the first lines are often a title. Quoted parts do not count.

    >>> find_delimiter(["Preise, neu\\n", "Lauch;1,20;5,0\\n", "Reis;2,00;7,0\\n"])
    ';'
    """
    filled = filter(str.strip, lines)
    bare = [_QUOTED.sub("", line) if '"' in line else line for line in filled]
    counts = {mark: Counter(map(methodcaller("count", mark), bare)) for mark in DELIMITERS}
    best, score = ",", 0.0
    for mark, widths in counts.items():
        without = widths.pop(0, 0)
        if widths:
            # a mark found in every row the same number of times is a delimiter, not part of words
            width, number = max(widths.items(), key=lambda each: (each[1], each[0]))
            found = number * number * min(width, 3) / (sum(widths.values()) + without)
            if found > score:
                best, score = mark, found
    return best


def _rows(lines: list[str], delimiter: str, too_long: list[int]) -> Iterator[GridRow]:
    place = 0
    plain = False  # True: quotation marks are read as letters
    while place < len(lines):
        source = map(lines.__getitem__, range(place, len(lines)))
        reader = (
            csv.reader(source, delimiter=delimiter, quoting=csv.QUOTE_NONE)
            if plain
            else csv.reader(source, delimiter=delimiter, strict=True)
        )
        first, done = place, place
        try:
            for cells in reader:
                done = first + reader.line_num
                if done - place > 1 and _too_long(lines, place, done):
                    break
                row = _row(place + 1, cells, lines, done)
                place = done
                if row is not None:
                    yield row
                if plain:
                    break
            else:
                return
        except csv.Error:
            if plain:  # a line too long for a row of a table
                place += 1
                too_long.append(place)
        plain = not plain  # a mark that is never closed: that line alone is read without marks


def _too_long(lines: list[str], start: int, end: int) -> bool:
    return end - start > 100 or sum(map(len, lines[start:end])) > LONGEST_ROW


def _row(line: int, cells: list[str], lines: list[str], end: int) -> GridRow | None:
    trimmed = tuple(map(str.strip, cells[:MOST_COLUMNS]))
    if not any(trimmed):
        return None
    first = lines[line - 1]
    raw = first if end == line else "".join(lines[line - 1 : end])
    return GridRow(line, trimmed, raw.rstrip("\r\n"))
