"""Reads a receipt as it is copied or e-mailed, and holds what was read against its total."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal

from ingest.brought import PriceLine
from ingest.recipes.where import tidy_line
from ingest.text.any_encoding import read_any_text
from ingest.text.sentences import quoted
from ingest.till_text.day import find_day, has_date
from ingest.till_text.entry import Entry, read_entry
from ingest.till_text.money import other_currency
from ingest.till_text.things import Reader, Receipt, Thing
from ingest.till_text.till import Till
from ingest.till_text.words import anywhere
from pricing.errors import Problem
from pricing.money import show_money

MOST_LINES = 5000  # of a receipt
_LONGEST_SHOP = 40  # characters
_EXPECTED = "a till's text: things with their prices, and the total"
_CELLS = re.compile(r";|\t[^\t]*\t|\|[^|]*\|")
_LOOKED_AT = 400  # lines by which a text is told


def is_till_text(text: str) -> bool:
    """Tell whether a text is a receipt: lines that end in amounts, and their total or a date.

    >>> is_till_text("Milk 1.20\\nBread 2.10\\nTotal 3.30"), is_till_text("Milk;1.20\\nTotal;1.20")
    (True, False)
    """
    lines = [line for line in text[:200_000].split("\n") if line.strip()][:_LOOKED_AT]
    if len(lines) < 2 or 2 * sum(bool(_CELLS.search(line)) for line in lines) > len(lines):
        return False
    entries = [read_entry(number, line, "EUR") for number, line in enumerate(lines, start=1)]
    kinds = [entry.kind for entry in entries]
    things = sum(kind in ("item", "maybe reduction", "quantity") for kind in kinds)
    totals = [at for at, kind in enumerate(kinds) if kind == "total"]
    if totals:
        return any(kind in ("item", "quantity") for kind in kinds[: totals[-1]])
    return things >= 3 and 2 * things > len(lines) and any(map(has_date, lines))


def breaks_off(text: str) -> bool:
    """Tell whether a text is the beginning of a receipt: a date, things with prices, no total.

    >>> breaks_off("Mill Shop\\n14.11.2026\\nMilk 1.20\\nBread 2.10\\nEg")
    True
    """
    lines = [line for line in text[:200_000].split("\n") if line.strip()][:_LOOKED_AT]
    if any(_CELLS.search(line) for line in lines) or not any(map(has_date, lines)):
        return False
    kinds = [read_entry(number, line, "EUR").kind for number, line in enumerate(lines, start=1)]
    return sum(kind in ("item", "quantity") for kind in kinds) >= 2 and "total" not in kinds


def read_till(text: str | bytes, *, currency: str, today: date, day: date | None = None) -> Till:
    """Return the things of a receipt with what was paid for them, or why it cannot be taken.

    `day` is told by the user where the receipt has none, or one that may be two. A reduction
    lowers the price of the thing above it. Bags, deposits and vouchers count in the sum alone.

    >>> till = read_till("Milk 1L\\n2 x 1.20 2.40\\nTotal 2.40", currency="GBP",
    ...     today=date(2026, 11, 24), day=date(2026, 11, 23))
    >>> till.lines[0].words, till.lines[0].count, till.lines[0].price, till.total
    ('Milk 1L', Decimal('2'), Decimal('2.40'), Decimal('2.40'))
    """
    read = read_any_text(text, _EXPECTED) if isinstance(text, bytes) else text
    if isinstance(read, Problem):
        return _refused(read)
    numbered = enumerate(re.split(r"\r\n|\n|\r", read), start=1)
    lines = [(number, line) for number, line in numbered if line.strip()]
    if len(lines) > MOST_LINES:
        found = f"a text of {len(lines):,} lines"
        return _refused(_problem(found, f"at most {MOST_LINES:,}", "Load one receipt at a time."))
    receipt = _best([read_entry(number, line, currency) for number, line in lines], currency)
    unclear = None
    if day is None:
        day, unclear = find_day(lines, today)
    problems = [*_of_the_whole(read, receipt, currency), *receipt.problems]
    problems += [unclear] if unclear else []
    supplier = _shop(lines)
    priced = [] if problems or day is None else [
        _price_line(thing, day, currency, supplier) for thing in receipt.things
    ]  # fmt: skip
    return Till(
        supplier=supplier,
        day=day,
        lines=tuple(priced),
        total=receipt.total,
        read_sum=receipt.read_sum,
        problems=tuple(problems),
        remarks=(*_shop_said(supplier), *receipt.remarks),
    )


def _best(entries: list[Entry], currency: str) -> Receipt:
    """Return the reading that meets the total; "Offer 0.50" may lower a price or name a thing."""
    first = Reader(entries, currency, reductions=True).read()
    in_doubt = [entry for entry in entries if entry.kind == "maybe reduction"]
    if not in_doubt or _meets(first):
        return first
    second = Reader(entries, currency, reductions=False).read()
    if first.total is None:
        first.problems.append(
            _problem(
                f"{quoted(in_doubt[0].raw)}, which may lower a price or name a thing",
                "a total, by which that shows",
                "Write a reduction with a minus, and a thing without that word.",
                in_doubt[0].line,
            )
        )
    return second if _meets(second) else first


def _meets(receipt: Receipt) -> bool:
    """Tell whether a reading comes to the printed total, a tax above it included."""
    if receipt.problems or receipt.total is None:
        return False
    return receipt.total in (receipt.read_sum, receipt.read_sum + receipt.tax)


def _of_the_whole(text: str, receipt: Receipt, currency: str) -> list[Problem]:
    """Return what is wrong with the receipt as one; remark what is only to be known."""
    problems = []
    if other := other_currency(text, currency):
        problems.append(
            _problem(
                f"amounts in {quoted(other)}",
                f"amounts in {currency}",
                "Load it with its own currency.",
            )
        )
    if not receipt.things:
        problems.append(
            _problem(
                "a text without a thing and its price",
                _EXPECTED,
                "Copy the receipt again: one thing a line, its price last.",
            )
        )
    elif receipt.total is None:
        receipt.remarks.append("it has no total to hold the sum of its lines against: check them")
    elif not _meets(receipt) and not receipt.problems:
        problems.append(_off_the_total(receipt, receipt.total, currency))
    elif receipt.tax and receipt.read_sum != receipt.total:
        receipt.remarks.append(
            f"tax of {show_money(receipt.tax, currency)} is in the total: prices are without it"
        )
    return problems


def _off_the_total(receipt: Receipt, total: Decimal, currency: str) -> Problem:
    read, printed = (show_money(each, currency) for each in (receipt.read_sum, total))
    return _problem(
        f"lines that come to {read}",
        f"the printed total, {printed}",
        "A line was read wrongly or not at all: correct the text, or leave the rest of it out.",
    )


def _price_line(thing: Thing, day: date, currency: str, supplier: str | None) -> PriceLine:
    measured = thing.measured
    weight = measured.weight if measured else None
    lines = {thing.entry.line: thing.entry.raw}
    if measured:
        lines[measured.line] = measured.raw
    return PriceLine(
        line=thing.entry.line,
        raw=" / ".join(lines[number] for number in sorted(lines)),
        words=thing.entry.words,
        day=day,
        price=thing.amount,
        currency=currency,
        count=(measured and measured.count) or Decimal(1),
        pack=f"{weight.amount} {weight.unit}" if weight else None,
        supplier=supplier,
        kind="receipt",
        note=f"lowered by {'; '.join(thing.lowered)}" if thing.lowered else None,
        item_number=thing.entry.item_number,
    )


def _shop(lines: list[tuple[int, str]]) -> str | None:
    """Return the first line where it is words alone, as the name of a shop."""
    first = tidy_line(lines[0][1]).strip("*#=-_ ") if lines else ""
    if not 2 <= len(first) <= _LONGEST_SHOP or re.search(r"\d|:|@|//", first):
        return None
    if anywhere("heading").search(first) or not re.search(r"[^\W\d_]{2}", first):
        return None
    return first


def _shop_said(supplier: str | None) -> tuple[str, ...]:
    return (f"the shop is taken to be {quoted(supplier)}, its first line",) if supplier else ()


def _refused(problem: Problem) -> Till:
    return Till(
        supplier=None, day=None, lines=(), total=None, read_sum=Decimal(0), problems=(problem,)
    )


def _problem(found: str, expected: str, remedy: str, line: int | None = None) -> Problem:
    return Problem(line=line, column=None, found=found, expected=expected, remedy=remedy)
