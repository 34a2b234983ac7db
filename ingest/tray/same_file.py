"""Compares a file of prices with what it brought before: the same again, or read otherwise."""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from ingest.brought import PriceLine
from ingest.text.sentences import quoted
from pricing.book import tray
from pricing.book.connect import Connection
from pricing.book.tray import LineOfFile
from pricing.errors import Problem
from pricing.names import name_key

_PLACES = Decimal("0.0001")  # of a stored price


@dataclass(kw_only=True)
class SameFile:
    """What becomes of the lines of a file that was loaded before."""

    new: list[PriceLine] = field(default_factory=list)  # not in the book, or waiting
    held: int = 0  # lines whose prices stand in the book, whatever their words are decided to be
    otherwise: list[tuple[PriceLine, LineOfFile]] = field(default_factory=list)  # read otherwise


def compare_with_before(con: Connection, data: bytes, lines: Sequence[PriceLine]) -> SameFile:
    """Return which lines are new; a line that was read otherwise before would count twice."""
    before: defaultdict[int, list[LineOfFile]] = defaultdict(list)
    for each in tray.lines_of_file(con, hashlib.sha256(data).hexdigest()):
        before[each.line].append(each)
    if not before:
        return SameFile(new=list(lines))
    found = SameFile()
    for line in lines:
        there = before.get(line.line, [])
        same = [each for each in there if _is_same(line, each)]
        if any(each.done for each in same):
            found.held += 1
        else:
            found.new.append(line)
        if there and not same:
            found.otherwise.append((line, there[0]))
    return found


def read_otherwise(found: SameFile) -> Problem | None:
    """Return why the file cannot be taken as it is read now; None where nothing speaks against."""
    if not found.otherwise:
        return None
    line, there = found.otherwise[0]
    now, then = _said(line.day, line.price, line), _said(there.day, there.price, there)
    loads = sorted({each.batch for _, each in found.otherwise})
    named = "load " + ", ".join(map(str, loads))
    return Problem(
        line=line.line,
        column=None,
        found=f"this same file read otherwise than by {named}: {quoted(line.words)} as "
        f"{now}, and before as {then}",
        expected="a file read in one way, or each of its prices counts twice",
        remedy=f"Undo {named} first: `portiondrift undo {loads[0]}`. To keep it as it was read, "
        "load nothing.",
    )


def _said(day: object, price: Decimal, line: PriceLine | LineOfFile) -> str:
    shown = f"{price.normalize():f} {line.currency} of {day}"
    sender = line.supplier if isinstance(line, PriceLine) else line.sender_key
    kind = line.kind if isinstance(line, PriceLine) else line.price_kind
    return f"{shown} ({kind}{f' from {sender}' if sender else ''})"


def _is_same(line: PriceLine, there: LineOfFile) -> bool:
    facts = (line.day, line.currency, name_key(line.supplier or ""), line.kind, line.tax_pct)
    before = (there.day, there.currency, there.sender_key, there.price_kind, there.tax_pct)
    if facts != before:
        return False
    prices = {line.price.quantize(_PLACES)}
    if there.packs is None:  # of one pack, where that is exact
        prices.add((line.price / line.count).quantize(_PLACES))
    return there.price in prices
