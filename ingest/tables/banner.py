"""What stands above a table: a labelled date, shop or currency, and the kind of document."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from ingest.tables.dates import orders_of
from ingest.tables.grid import Cell, GridRow
from ingest.tables.headings import heading_says
from ingest.tables.words import document_words, headings
from ingest.text.fold import fold

_KEPT = ("date", "supplier", "currency")
_AS = {"published_on": "date"}
_DATE = re.compile(
    r"[0-9]{1,4}[./-] ?[0-9]{1,2}[./-] ?[0-9]{2,4}|[0-9]{1,2}\.? [^\W\d_]{3,12}\.? [0-9]{4}"
)
# "Netto" alone may be a shop: a title counts where it speaks of prices or of the tax on them
_OF_PRICES = re.compile(
    r"\b(?:preise?|prices?|prix|precios?|prezz[io]|prij(?:s|zen)|precos?|cen[ay]|priser?|pris"
    r"|betrage|amounts?|mwst|ust|vat|tva|iva|btw|moms)\b"
)


@dataclass(kw_only=True)
class Banner:
    """What the rows above a table say."""

    labelled: dict[str, Cell] = field(default_factory=dict)  # date, supplier or currency → value
    dates: list[Cell] = field(default_factory=list)  # without a label
    kind: str | None = None  # of the prices, by the name of the document
    of_prices: list[str] = field(default_factory=list)  # titles about the prices, as written

    def tax(self) -> tuple[str, str] | None:
        """Return net or gross and the title that says so; None where none does, or they differ."""
        said = [(tax, title) for title in self.of_prices if (tax := heading_says(title).tax)]
        return said[0] if len({tax for tax, _ in said}) == 1 else None

    def currency(self) -> tuple[str, str] | None:
        """Return the sign or code of the prices and the title that says so, as `tax` does."""
        said = [(sign, title) for title in self.of_prices if (sign := heading_says(title).currency)]
        return said[0] if len({sign for sign, _ in said}) == 1 else None


def banner_says(rows: Sequence[GridRow], titles: Sequence[str]) -> Banner:
    """Return what the rows above a table say; headings (`titles`) tell the kind of document."""
    banner = Banner()
    words = [cell for row in rows for cell in row.cells if isinstance(cell, str)]
    for row in rows:
        filled = [cell for cell in row.cells if cell != ""]
        for place, cell in enumerate(filled):
            after = filled[place + 1] if place + 1 < len(filled) else None
            _label(banner, cell, after, len(filled))
            _date(banner, cell)
            if isinstance(cell, str) and len(cell) <= 120 and _OF_PRICES.search(fold(cell)):
                banner.of_prices.append(" ".join(cell.split()))
    banner.kind = _kind([*words, *titles])
    return banner


def _label(banner: Banner, cell: Cell, after: Cell | None, filled: int) -> None:
    if not isinstance(cell, str) or isinstance(cell, date) or len(cell) > 100:
        return
    name, colon, value = cell.partition(":")
    if colon and value.strip():
        held: Cell | None = value.strip()
    else:
        held = after if colon or filled == 2 else None
    meaning = _meaning(name)
    if held is not None and meaning is not None:
        banner.labelled.setdefault(meaning, held)


def _meaning(label: str) -> str | None:
    says = heading_says(label.strip())
    if not says.whole or not says.meanings:
        return None
    meaning = _AS.get(says.meanings[0], says.meanings[0])
    return meaning if meaning in _KEPT else None


def _date(banner: Banner, cell: Cell) -> None:
    if isinstance(cell, str):
        found = _DATE.search(cell)
        if found is None or orders_of(found[0]) is None:
            return
        if _ends_in_label(cell[: found.start()]):
            banner.labelled.setdefault("date", found[0])
        banner.dates.append(found[0])
    elif isinstance(cell, date):
        banner.dates.append(cell)


def _ends_in_label(before: str) -> bool:
    """Tell whether the words before a date say that it is the day: "Preisliste gültig ab"."""
    words = fold(before[-40:]).split()
    ends = (" ".join(words[-number:]) for number in range(1, min(4, len(words)) + 1))
    return any("date" in headings().get(end, ()) for end in ends)


def _kind(texts: Sequence[str]) -> str | None:
    """Return the one kind of document that these texts name."""
    found: set[str] = set()
    for text in texts:
        words = f" {fold(text)[:200]} "
        found.update(kind for word, kind in document_words().items() if f" {word} " in words)
    return found.pop() if len(found) == 1 else None
