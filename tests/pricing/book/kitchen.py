"""A small invented book with rows of every kind, stored straight through `append_batch`."""

from __future__ import annotations

import hashlib
import tempfile
from collections.abc import Mapping
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from pathlib import Path

from pricing.book.append import (
    Columns,
    Source,
    append_batch,
    name_dishes,
    name_ingredients,
    reserve_row_ids,
    write_settings,
)
from pricing.book.connect import Book, Connection, create, writing

# The tables whose rows are never edited or deleted.
GUARDED = (
    "setting",
    "load_batch",
    "retraction",
    "ingredient",
    "dish",
    "ingredient_fact",
    "measure",
    "observation",
    "dish_version",
    "dish_line",
    "swap",
    "printed_figure",
    "printed_detail",
    "printed_evidence",
    "series",
    "series_value",
)


def small_book(path: Path) -> Book:
    """Make a book: 3 ingredients, 5 prices, 2 dishes (one takes the other), a swap, a figure."""
    path.write_bytes(_small_book())
    return Book(path=path)


@cache
def _small_book() -> bytes:
    """Return its file: copying it takes a hundredth of the time of making it."""
    with tempfile.TemporaryDirectory() as folder:
        return _make(Path(folder) / "kitchen.duckdb").path.read_bytes()


def _make(path: Path) -> Book:
    book = create(path)
    with writing(book) as con:
        write_settings(con, {"currency": "USD", "measures": "us", "fresh_days": "45"})
        ids = name_ingredients(
            con, {"leek": "Leek", "pearl barley": "Pearl barley", "eggs": "Eggs"}
        )
        leek, barley, eggs = ids.values()
        ingredients(con, [leek, barley, eggs])
        store(
            con,
            "measures",
            {
                "measure": {
                    "line": [2],
                    "raw": ["Leek,bunch,400,kitchen scales"],
                    "ingredient_id": [leek],
                    "measure": ["bunch"],
                    "measure_key": ["bunch"],
                    "grams": [Decimal(400)],
                    "source": ["kitchen scales"],
                }
            },
        )
        prices(con, [leek, leek, leek, barley, eggs])
        dishes(con, leek, barley)
        store(
            con,
            "swaps",
            {
                "swap": {
                    "line": [2],
                    "raw": ["Pearl barley,Leek,1.5,"],
                    "ingredient_id": [barley],
                    "substitute_id": [leek],
                    "ratio": [Decimal("1.5")],
                }
            },
        )
        (printed,) = reserve_row_ids(con, 1)
        store(
            con,
            "printed",
            {
                "printed_figure": {
                    "row_id": [printed],
                    "line": [2],
                    "raw": ["Harbour soup,1,2020-02-01,1.20,USD,Column,"],
                    "dish_id": [2],
                    "version": ["1"],
                    "published_on": [date(2020, 2, 1)],
                    "cost_per_portion": [Decimal("1.20")],
                    "currency": ["USD"],
                    "published_where": ["Column"],
                },
                "printed_detail": {
                    "line": [2],
                    "raw": [None],
                    "figure_row": [printed],
                    "costed_on": [date(2020, 2, 1)],
                },
                "printed_evidence": {
                    "line": [None],
                    "raw": [None],
                    "figure_row": [printed],
                    "recorded_at": [datetime(2020, 2, 1, 9, 30)],  # noqa: DTZ001
                    "evidence": ["{}"],
                    "evidence_sha256": [hashlib.sha256(b"{}").hexdigest()],
                },
            },
        )
        index(con)
    return book


def ingredients(con: Connection, ids: list[int]) -> None:
    leek, barley, eggs = ids
    store(
        con,
        "ingredients",
        {
            "ingredient_fact": {
                "line": [2, 3, 4],
                "raw": ["Leek,…", "Pearl barley,…", "Eggs,…"],
                "ingredient_id": [leek, barley, eggs],
                "category": ["vegetables", None, "eggs"],
                "base": ["g", "g", "each"],
                "yield_pct": [Decimal("52.5"), None, None],
                "allergens": [[], None, ["eggs"]],
                "aliases": [["leeks", "porree"], [], []],
            }
        },
    )


def prices(con: Connection, ids: list[int]) -> None:
    """Leek at two shops (once by the bunch) and on offer; one price each of the rest."""
    store(
        con,
        "prices",
        {
            "observation": {
                "line": [2, 3, 4, 5, 6],
                "raw": ["a", "b", "c", "d", "e"],
                "ingredient_id": ids,
                "observed_on": [date(2020, 1, 6)] * 3 + [date(2020, 1, 8)] * 2,
                "price": [Decimal(x) for x in ("2.00", "1.20", "0.90", "3.10", "2.4")],
                "currency": ["USD"] * 5,
                "pack": ["500 g", "1 bunch", "500 g", "2 lb", "1 dozen"],
                "pack_amount": [Decimal(x) for x in ("500", "1", "500", "907.18474", "12")],
                "pack_dimension": ["g", "measure", "g", "g", "each"],
                "pack_measure_key": [None, "bunch", None, None, None],
                "supplier": ["Quay Market", None, "Quay Market", "Salt Lane", None],
                "supplier_key": ["quay market", "", "quay market", "salt lane", ""],
                "kind": ["shelf", "shelf", "offer", "shelf", "receipt"],
                "tax_pct": [None, None, None, Decimal("2.50"), None],
                "region_key": [""] * 5,
                "product": [None, None, None, 'Barley, "pearled"', None],
                "product_key": ["", "", "", 'barley, "pearled"', ""],
            }
        },
        touched=ids,
    )


def dishes(con: Connection, leek: int, barley: int) -> None:
    stock, soup = name_dishes(con, {"stock": "Stock", "harbour soup": "Harbour soup"}).values()
    first, second = reserve_row_ids(con, 2)
    store(
        con,
        "dishes",
        {
            "dish_version": {
                "row_id": [first, second],
                "line": [2, 3],
                "raw": ["Stock,1,…", "Harbour soup,1,…"],
                "dish_id": [stock, soup],
                "version": ["1", "1"],
                "effective_from": [date(2019, 5, 1), date(2019, 6, 1)],
                "portions": [Decimal(8), Decimal(4)],
                "batch_weight_g": [Decimal(2000), None],
            },
            "dish_line": {
                "line": [2, 3, 4],
                "raw": ["Stock,…", "Harbour soup,…", "Harbour soup,…"],
                "version_row": [first, second, second],
                "position": [1, 1, 2],
                "ingredient_id": [leek, barley, None],
                "sub_dish_id": [None, None, stock],
                "quantity": ["1", "½", "500"],
                "unit": ["bunch", "lb", "g"],
                "amount": [Decimal(1), Decimal("226.796185"), Decimal(500)],
                "dimension": ["measure", "g", "g"],
                "measure_key": ["bunch", None, None],
                "state": ["as_purchased"] * 3,
                "pantry": [False, True, False],
            },
        },
    )


def index(con: Connection) -> None:
    """Two releases of one month, the second revising the first."""
    store(
        con,
        "index",
        {
            "series": {
                "line": [2],
                "raw": ["harbour:FOOD,…"],
                "series": ["harbour:FOOD"],
                "title": ["Food, invented"],
                "classification": ["own"],
                "seasonally_adjusted": [False],
            },
            "series_value": {
                "line": [2, 3],
                "raw": ["harbour:FOOD,2020-01,…", "harbour:FOOD,2020-01,…"],
                "series": ["harbour:FOOD"] * 2,
                "month": [date(2020, 1, 1)] * 2,
                "value": [101.3, 101.7],
                "released_on": [date(2020, 2, 14), date(2020, 3, 14)],
            },
        },
    )


def store(
    con: Connection, kind: str, tables: Mapping[str, Columns], touched: list[int] | None = None
) -> int:
    data = next(t for t in tables.values() if "raw" in t)
    if kind == "dishes":
        data = tables["dish_line"]
    if kind == "index":
        data = tables["series_value"]
    source = Source(
        kind=kind,
        file_name=f"{kind}.csv",
        file_sha256="0" * 64,
        added=len(data["raw"]),
        already=0,
    )
    return append_batch(con, source, tables, touched or ())
