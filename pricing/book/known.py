"""What the book holds now, as records to check new rows against."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from pricing.book.connect import Connection
from pricing.book.read import rows
from pricing.names import name_key

_ASKED_AT_A_TIME = 10_000  # of which DuckDB makes large values while it is asked


@dataclass(frozen=True, kw_only=True)
class KnownIngredient:
    """An ingredient in force and its facts."""

    ingredient_id: int
    name: str  # as first written
    name_key: str
    category: str | None
    base: str  # g, ml or each
    density_g_per_ml: Decimal | None
    grams_each: Decimal | None
    yield_pct: Decimal | None
    series: str | None
    allergens: tuple[str, ...] | None  # None = unknown, () = stated as none
    aliases: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class KnownMeasure:
    """A measure of an ingredient in force."""

    measure: str
    grams: Decimal  # as purchased
    source: str | None


@dataclass(frozen=True, kw_only=True)
class KnownVersion:
    """A dish version in force."""

    row_id: int
    dish_id: int
    version: str
    effective_from: date
    portions: Decimal
    batch_weight_g: Decimal | None
    group: str | None  # of dishes
    minutes: Decimal | None  # of work, per batch
    made_per_month: Decimal | None  # batches
    target: Decimal | None  # cost per portion, in the book's currency
    minutes_waiting: Decimal | None  # per batch, without work
    energy_kwh: Decimal | None  # per batch
    pots: int | None  # to wash up, per batch
    marks: tuple[str, ...] | None  # tasters', as written
    tasting_note: str | None


def ingredients(con: Connection) -> list[KnownIngredient]:
    """Return every ingredient in force."""
    return [
        KnownIngredient(
            **{
                **row,
                "allergens": None if row["allergens"] is None else tuple(row["allergens"]),
                "aliases": tuple(row["aliases"]),
            }
        )
        for row in rows(con, "book/known_ingredients")
    ]


def named_ingredients(con: Connection) -> dict[str, int]:
    """Return key → id of every ingredient ever named, also those whose facts were retracted."""
    return dict(con.execute("SELECT name_key, ingredient_id FROM ingredient").fetchall())


def named_dishes(con: Connection) -> dict[str, int]:
    """Return key → id of every dish ever named, also those whose versions were retracted."""
    return dict(con.execute("SELECT name_key, dish_id FROM dish").fetchall())


def measures(con: Connection) -> dict[int, dict[str, KnownMeasure]]:
    """Return ingredient id → measure key → the measure in force."""
    found: dict[int, dict[str, KnownMeasure]] = {}
    for row in rows(con, "book/known_measures"):
        found.setdefault(row["ingredient_id"], {})[row["measure_key"]] = KnownMeasure(
            measure=row["measure"], grams=row["grams"], source=row["source"]
        )
    return found


def dishes(con: Connection) -> dict[str, tuple[int, str]]:
    """Return key → (id, name) of every dish with a version in force."""
    found = rows(con, "book/known_versions")
    return {row["dish_key"]: (row["dish_id"], row["dish"]) for row in found}


def versions(con: Connection) -> list[KnownVersion]:
    """Return every dish version in force, as stored."""
    return [
        KnownVersion(
            **{
                **{key: value for key, value in row.items() if key not in ("dish", "dish_key")},
                "marks": None if row["marks"] is None else tuple(row["marks"]),
            }
        )
        for row in rows(con, "book/known_versions")
    ]


def lines(con: Connection, dish_ids: Collection[int]) -> dict[int, list[tuple[Any, ...]]]:
    """Return version row id → its lines as printed, for the versions in force of some dishes.

    A line is a tuple: ingredient id, sub-dish id, amount, dimension, measure key, state, yield,
    pantry, note.
    """
    found: dict[int, list[tuple[Any, ...]]] = {}
    for row in rows(con, "book/known_lines", {"dishes": sorted(dish_ids)}):
        version_row, *line = row.values()
        found.setdefault(version_row, []).append(tuple(line))
    return found


@dataclass(frozen=True, kw_only=True)
class DishUse:
    """A dish version in force takes another dish."""

    dish_id: int
    version: str
    sub_dish_id: int
    by_weight: bool  # as g of the other dish's batch


def dish_uses(con: Connection) -> list[DishUse]:
    """Return who takes whom over the dish versions in force."""
    return [DishUse(**row) for row in rows(con, "book/known_uses")]


SWAP_KEY = (
    "ingredient_id",
    "substitute_id",
    "substitute_dish_id",
    "supplier_key",
    "product_key",
    "pack_amount",
    "pack_dimension",
    "pack_measure_key",
)
SWAP_FACTS = (
    "ratio", "note", "ratio_state", "works_in", "not_in", "not_with", "only_with", "disturbance",
)  # fmt: skip


def swaps(con: Connection) -> dict[tuple[Any, ...], dict[str, Any]]:
    """Return SWAP_KEY → SWAP_FACTS of every swap in force; lists are tuples."""
    named = ", ".join((*SWAP_KEY, *SWAP_FACTS))
    found = {}
    for row in con.execute(f"SELECT {named} FROM swap_now").fetchall():
        facts = (tuple(each) if isinstance(each, list) else each for each in row[len(SWAP_KEY) :])
        found[row[: len(SWAP_KEY)]] = dict(zip(SWAP_FACTS, facts, strict=True))
    return found


def printed_figures(con: Connection) -> dict[tuple[Any, ...], date]:
    """Return what tells one printed figure in force from another → the day it was costed for.

    A key is dish id, version, published_on, cost, currency, and as compared where it is printed and
    in which words.
    """
    found = con.execute(
        "SELECT dish_id, version, published_on, cost_per_portion, currency, published_where, "
        "as_printed, costed_on FROM printed_now"
    ).fetchall()
    return {printed_key(*row[:7]): row[7] for row in found}


def printed_key(*figure: Any) -> tuple[Any, ...]:
    """Return what two rows of one printed figure agree in; the last two are where and in words."""
    *facts, where, as_printed = figure
    return (*facts, name_key(where or ""), name_key(as_printed or ""))


SERIES_FACTS = ("title", "parent", "classification", "seasonally_adjusted")
SERIES_DETAILS = ("base_label", "frequency", "note")


def series(con: Connection) -> dict[str, dict[str, Any]]:
    """Return series id → what is in force of its SERIES_FACTS and SERIES_DETAILS."""
    names = (*SERIES_FACTS, *SERIES_DETAILS)
    found = con.execute(
        f"SELECT s.series, {', '.join(names)} "
        "FROM series_now s LEFT JOIN (SELECT series, base_label, frequency, note "
        "FROM series_detail_now) d USING (series)"
    ).fetchall()
    return {row[0]: dict(zip(names, row[1:], strict=True)) for row in found}


def known_values(
    con: Connection, series_ids: Collection[str]
) -> dict[tuple[str, date, date | None], float]:
    """Return (series, month, released_on) → value, for the named series."""
    return {
        (row["series"], row["month"], row["released_on"]): row["value"]
        for row in rows(con, "book/known_values", {"series": sorted(series_ids)})
    }


def values_now(
    con: Connection, series_ids: Collection[str]
) -> dict[tuple[str, date], tuple[float, date | None]]:
    """Return (series, month) → the value in force and its release, for the named series."""
    found = rows(con, "book/values_now", {"series": sorted(series_ids)})
    return {(row["series"], row["month"]): (row["value"], row["released_on"]) for row in found}


def known_prices(con: Connection, asked: Mapping[str, Sequence[Any]]) -> set[int]:
    """Return the places (from 0) of the asked prices that the book holds already.

    `asked` is equally long columns named as the parameters of queries/book/known_prices.sql.
    """
    found: set[int] = set()
    for start in range(0, max(map(len, asked.values()), default=0), _ASKED_AT_A_TIME):
        sent = {
            name: _sent(name, column[start : start + _ASKED_AT_A_TIME])
            for name, column in asked.items()
        }
        found.update(start + row["place"] for row in rows(con, "book/known_prices", sent))
    return found


def _sent(name: str, column: Sequence[Any]) -> list[Any]:
    if name in ("price", "pack_amount", "tax_pct"):
        return [None if value is None else f"{value:f}" for value in column]
    return list(column)
