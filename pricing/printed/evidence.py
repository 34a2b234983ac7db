"""What a printed figure rests on, as one text to keep: lines, prices, sources, releases."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import Settings, rows
from pricing.contents.house_rules import HouseRules
from pricing.dishes.cost import DishCost
from pricing.names import name_key

FORMAT = 2  # of the text; a later one gets another number
_NOT_KEPT = {"base", "supplier_key", "product_key"}  # of a price: said by other columns


@dataclass(frozen=True, kw_only=True)
class Frozen(Answer):
    """A printed figure with the evidence kept on the day it was recorded."""

    dish: str
    version: str
    published_on: date
    costed_on: date  # the day whose prices it rests on
    printed: float  # in `currency` per portion
    as_printed: str | None  # where the words say more than the number
    currency: str
    published_where: str | None
    note: str | None
    recorded_at: datetime  # UTC
    evidence: dict[str, Any]  # see `evidence_of`
    evidence_sha256: str  # of the text as kept


def evidence_of(con: Connection, settings: Settings, cost: DishCost) -> dict[str, Any]:
    """Return all that a costing rests on, as plain values.

    `format`; `costing`: the costing as `cost --json` tells it; `prices`: every observation behind
    it with its pack, kind, source, file and line; `index_values`: every value of an official series
    that moved a price, with its release; `fresh_days` and `measures`: the book's settings.
    `pantry_counted` (false) only where the costing leaves out the lines marked pantry.
    Prices are texts, to the digit; unit prices and index values are numbers.
    """
    return {
        "format": FORMAT,
        "costing": cost.as_json(),
        "prices": [_plain(row) for row in _prices(con, cost)],
        "index_values": [_plain(row) for row in _index_values(con, cost)],
        "fresh_days": settings.fresh_days,
        "measures": settings.measures,
        **({} if HouseRules.of(settings).pantry else {"pantry_counted": False}),
    }


def as_text(evidence: dict[str, Any]) -> str:
    """Return the evidence as the text that is kept: JSON, keys in order, no idle spaces."""
    return json.dumps(
        evidence, ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":")
    )


def sha256(text: str) -> str:
    """Return the SHA-256 of a text in UTF-8."""
    return hashlib.sha256(text.encode()).hexdigest()


def frozen_figures(book: Book, dish: str | None = None) -> list[Frozen]:
    """Return the figures whose evidence is kept, by dish, then date; of one dish if named."""
    with reading(book) as con:
        found = rows(con, "printed/kept_evidence")
    return [
        Frozen(**{**row, "evidence": json.loads(row["evidence"])})
        for row in found
        if dish is None or name_key(row["dish"]) == name_key(dish)
    ]


def _prices(con: Connection, cost: DishCost) -> list[dict[str, Any]]:
    wanted = sorted(
        {
            (
                line.ingredient,
                seen.date,
                name_key(seen.supplier or ""),
                name_key(seen.product or ""),
            )
            for line in cost.ingredient_lines()
            for seen in line.observed
        }
    )
    ingredients, days, suppliers, products = ([each[at] for each in wanted] for at in range(4))
    return rows(
        con,
        "prices/prices_used",
        {
            "ingredients": ingredients,
            "days": days,
            "suppliers": suppliers,
            "products": products,
            "currency": cost.currency,
        },
    )


def _index_values(con: Connection, cost: DishCost) -> list[dict[str, Any]]:
    wanted = sorted(
        {
            (line.series, date.fromisoformat(f"{month}-01"))
            for line in cost.ingredient_lines()
            if line.series is not None
            for month in line.months
        }
    )
    series, months = ([each[at] for each in wanted] for at in range(2))
    return rows(con, "printed/evidence_index", {"series": series, "months": months})


def _plain(row: dict[str, Any]) -> dict[str, Any]:
    def value(each: Any) -> Any:
        if isinstance(each, Decimal):
            return f"{each:f}"
        return each.isoformat() if isinstance(each, date) else each

    return {name: value(each) for name, each in row.items() if name not in _NOT_KEPT}
