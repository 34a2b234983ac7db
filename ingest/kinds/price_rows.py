"""Reads the rows of a prices file: a known ingredient, a pack that converts, a past day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from ingest.kinds.checked import Checked
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.pack_reader import Pack, PackReader
from ingest.text.rows import Row
from pricing.errors import MeasureRefused, Problem
from pricing.names import name_key

# What two rows of one observation agree in: the columns of PriceRow.key.
KEY = (
    "ingredient_id",
    "observed_on",
    "price",
    "currency",
    "pack_amount",
    "pack_dimension",
    "pack_measure_key",
    "supplier_key",
    "kind",
    "tax_pct",
    "region_key",
    "product_key",
)


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceRow:
    """A price without problems."""

    row: Row
    pack: Pack
    key: tuple[Any, ...]  # what two rows of one observation agree in; see KEY

    @property
    def unit_price(self) -> float:
        """Currency per g, ml or each, as purchased, with the tax."""
        tax = self.row.value["tax_pct"] or 0
        return float(self.row.value["price"]) * (1 + float(tax) / 100) / self.pack.in_base

    @property
    def tax_words(self) -> str:
        """The tax behind the price in a sentence; empty where there is none."""
        tax = self.row.value["tax_pct"]
        return f" with {tax:f} % tax" if tax else ""


def read_prices(
    kitchen: Kitchen, rows: Sequence[Row], today: date, checked: Checked
) -> list[PriceRow]:
    """Return the rows that make sense by themselves; the others get their problems."""
    reader = PackReader(kitchen)
    keys: dict[str | None, str] = {None: ""}
    prices = []
    for row in rows:
        value = row.value
        fine = not row.bad
        if value["date"] is not None and value["date"] > today:
            checked.problems.append(future_day(row, today))
            fine = False
        pack: Pack | None = None
        if value["ingredient"] is not None:
            ingredient = kitchen.find(value["ingredient"])
            if ingredient is None:
                name = value["ingredient"]
                checked.problems.append(kitchen.unknown_ingredient(row, "ingredient", name))
            elif value["pack"] is not None:
                read = reader.read(ingredient, value["pack"])
                if isinstance(read, MeasureRefused):
                    checked.problems.append(row.refused("pack", read))
                else:
                    pack = read
        if pack is None or not fine:
            continue
        for column in ("supplier", "region", "product"):
            if value[column] not in keys:
                keys[value[column]] = name_key(value[column])
        prices.append(PriceRow(row=row, pack=pack, key=_key(value, pack, keys)))
    return prices


def _key(value: Any, pack: Pack, keys: dict[str | None, str]) -> tuple[Any, ...]:
    """Return the values of KEY."""
    return (
        pack.ingredient.ingredient_id,
        value["date"],
        value["price"],
        value["currency"],
        pack.quantity.amount,
        pack.quantity.dimension,
        pack.quantity.measure_key,
        keys[value["supplier"]],
        value["kind"] or "shelf",
        value["tax_pct"],
        keys[value["region"]],
        keys[value["product"]],
    )


def future_day(row: Row, today: date) -> Problem:
    """Return the problem of a price that nobody can have seen yet."""
    return row.problem(
        "date",
        f"{row.value['date']}, which is in the future",
        f"a date up to today, {today}",
        "Correct the date; what a price will be is no observation.",
    )
