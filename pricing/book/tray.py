"""What the book holds of the tray: what waits, what was decided, how tables are read."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from pricing.book.connect import Connection
from pricing.book.read import rows


@dataclass(frozen=True, kw_only=True)
class Decision:
    """Which ingredient some words are."""

    sender: str | None  # None: whoever writes them
    sender_key: str
    words: str
    words_key: str
    ingredient_id: int | None  # None: not an ingredient
    pack: str | None  # of one, where the words do not say it
    product: str | None
    batch: int  # that brought it


@dataclass(frozen=True, kw_only=True)
class WaitingPrice:
    """A price in the tray; see the table tray_line."""

    row_id: int
    batch: int
    line: int | None
    raw: str | None
    sender: str | None
    sender_key: str
    words: str
    words_key: str
    item_number: str | None
    gtin: str | None
    observed_on: date
    price: Decimal  # of `packs` packs
    packs: Decimal
    pack: str | None
    unit: str | None  # what `packs` counts, where it is no pack: each, box
    currency: str
    price_kind: str
    tax_pct: Decimal | None
    region: str | None
    product: str | None
    source: str | None
    note: str | None
    file: str  # name only

    @property
    def paid_each(self) -> Decimal:
        """What one pack cost, with its tax."""
        return self.price / self.packs * (1 + (self.tax_pct or Decimal(0)) / 100)


def last_seen(prices: Iterable[WaitingPrice]) -> WaitingPrice | None:
    """Return the price of the latest day, of one day the one stored last; None of none."""
    return max(prices, key=lambda each: (each.observed_on, each.row_id), default=None)


@dataclass(frozen=True, kw_only=True)
class WaitingRecipeLine:
    """A line of a dish version in force that waits."""

    version_row: int
    position: int
    dish: str
    version: str
    ingredient: str  # its name: "waiting: WORDS"
    quantity: str
    unit: str
    state: str  # as_purchased or edible
    yield_pct: Decimal | None
    note: str | None
    batch: int
    file: str  # name only


@dataclass(frozen=True, kw_only=True)
class LineOfFile:
    """A price that a file brought before, in the book or in the tray."""

    batch: int
    line: int
    day: date
    price: Decimal  # of `packs` packs in the tray, of one in the book
    packs: Decimal | None  # None: a price in the book
    currency: str
    sender_key: str
    price_kind: str
    tax_pct: Decimal | None
    done: bool  # it no longer waits


def decisions(con: Connection) -> list[Decision]:
    """Return the decisions in force, as decided."""
    return [Decision(**row) for row in rows(con, "tray/decisions")]


def numbered_words(con: Connection) -> list[tuple[str, str, str | None, str | None]]:
    """Return sender key, words key, item number and GTIN of what came to the tray with one."""
    return [tuple(row.values()) for row in rows(con, "tray/numbered_words")]


def waiting_prices(con: Connection) -> list[WaitingPrice]:
    """Return the prices that wait, as loaded."""
    return [WaitingPrice(**row) for row in rows(con, "tray/waiting_prices")]


def waiting_recipe_lines(con: Connection) -> list[WaitingRecipeLine]:
    """Return the recipe lines that wait, by dish and version."""
    return [WaitingRecipeLine(**row) for row in rows(con, "tray/waiting_recipe_lines")]


def layouts(con: Connection, kind: str) -> dict[str, str]:
    """Return fingerprint of the headings → layout (JSON), of the files of a kind."""
    return {row["fingerprint"]: row["layout"] for row in rows(con, "tray/layouts", {"kind": kind})}


def lines_of_file(con: Connection, sha256: str) -> list[LineOfFile]:
    """Return the prices in force that a file brought before, in the book or in the tray."""
    found = rows(con, "tray/lines_of_file", {"sha256": sha256})
    return [LineOfFile(day=row.pop("observed_on"), **row) for row in found]


def versions_of_file(con: Connection, sha256: str) -> dict[str, tuple[str, date]]:
    """Return dish key → version and first day, of the dishes that a file brought before."""
    found = rows(con, "tray/versions_of_file", {"sha256": sha256})
    return {row["dish_key"]: (row["version"], row["effective_from"]) for row in found}
