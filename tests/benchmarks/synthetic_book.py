"""Makes large invented price books, always the same for one size, for benchmarks and their checks.

Prices come from five shops at irregular days. Most ingredients are seen all the time; some have
gaps of years, some are seen a few times a year, some begin late or end early. Most name an official
series, some name none, some an invented one that ends early, as does the one above it; the 51st is
never seen. There are offers, taxed prices, several prices of one shop on one day, retracted rows.
Dishes have ten lines; some are in two versions, some take another dish, and a few of those take a
third. Rows go into the book's own tables by whole columns; the book derives the kept prices.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path

import numpy as np
import pandas as pd

from ingest.new_book import create_book
from ingest.official.bundled import bundled_series
from pricing.book.append import rows_digest
from pricing.book.connect import Book, Connection, reading, writing
from pricing.book.derive import refresh_prices
from pricing.clock import now

SEED = 20261015
FIRST_DAY, LAST_DAY = date(2011, 10, 1), date(2026, 10, 15)
DAYS = (LAST_DAY - FIRST_DAY).days + 1
SHOPS = ("Bollard Row", "Gantry Stores", "Lantern Hill", "Saltings Market", "Winch & Sons")
LINES = 10  # per dish version
# Invented series that end before the prices do: id, the one above, last month. The narrow one ends
# first; both lack the months of GAP.
ENDED = (("own:FISH", "own:FOOD", "2016-03-01"), ("own:FOOD", None, "2017-12-01"))
GAP = ("2013-04-01", "2013-10-01")
NEVER_SEEN = 50  # place of an ingredient without a price: dishes that take it are incomplete

Columns = Mapping[str, object]  # column → SQL expression over the frame


@dataclass(frozen=True, kw_only=True)
class Size:
    """How much the book holds."""

    prices: int
    ingredients: int
    dishes: int


def build(path: Path, size: Size, *, derive: bool = True) -> Book:
    """Make a book of invented prices and dishes at `path`; the same size gives the same book.

    `derive` false leaves the kept prices out, so that a caller can time `refresh_prices`.
    """
    chance = np.random.default_rng(SEED)
    book = create_book(path, "USD", "us")
    ingredients = _ingredients(chance, size.ingredients)
    with writing(book) as con:
        _insert_series(con, chance)
        _insert_ingredients(con, ingredients)
        _insert_prices(con, _prices(chance, size, ingredients["base"].to_numpy()))
        versions, lines = _dishes(chance, size, ingredients["base"].to_numpy())
        _insert_dishes(con, size, versions, lines)
        if derive:
            refresh_prices(con)
    return book


def _ingredients(chance: np.random.Generator, many: int) -> pd.DataFrame:
    """Return ingredient_id, base and series: food items of every age, some of them long ended."""
    parent = {each.series: each.parent for each in bundled_series()}
    items = [series for series in parent if not series.startswith("us-bls:SA")]
    food = [series for series in items if "us-bls:SAF1" in _above(parent, series)]
    named = chance.choice(food, many).astype(object)
    place = np.arange(many) % 50  # see _days_seen: those seen in few years have all kinds of series
    return pd.DataFrame(
        {
            "ingredient_id": np.arange(1, many + 1),
            "base": chance.choice(["g", "ml", "each"], many, p=[0.7, 0.15, 0.15]),
            "series": np.select(
                [np.isin(place, (5, 10, 30)), np.isin(place, (0, 1, 4, 6, 7, 8))],
                [None, ENDED[0][0]],
                named,
            ),
        }
    )


def _above(parent: Mapping[str, str | None], series: str) -> set[str]:
    found: set[str] = set()
    at = parent[series]
    while at is not None:
        found.add(at)
        at = parent[at]
    return found


def _days_seen(chance: np.random.Generator, ingredient: int) -> tuple[np.ndarray, float]:
    """Return the days an ingredient may be seen on, and how often it is, beside a common one.

    Of every 50: 2 begin or end inside the years, 4 are seen on few days, 12 have gaps of years.
    """
    seen = np.ones(DAYS, dtype=bool)
    if ingredient == NEVER_SEEN:
        return np.flatnonzero(~seen), 0.0
    kind, round_ = ingredient % 50, ingredient // 50
    if kind == 0:
        seen[: 3500 - 640 * (round_ % 6)] = False
    elif kind == 1:
        seen[-(3500 - 640 * (round_ % 6)) :] = False
    elif kind < 6:
        seen[:] = False
        seen[chance.choice(DAYS, 40, replace=False)] = True
        return np.flatnonzero(seen), 0.05
    elif kind < 18:
        for _ in range(chance.integers(1, 4)):
            start, years = chance.integers(0, DAYS), chance.uniform(1, 4)
            seen[start : start + int(365 * years)] = False
    return np.flatnonzero(seen), 1.0


def _prices(chance: np.random.Generator, size: Size, base: np.ndarray) -> pd.DataFrame:
    """Return ingredient_id, shop, day, cents, pack, base, kind and taxed, in the order of days."""
    seen, often = zip(*(_days_seen(chance, i) for i in range(size.ingredients)), strict=True)
    start = np.cumsum([0, *(len(days) for days in seen[:-1])])
    many = np.array([len(days) for days in seen])
    at = chance.choice(size.ingredients, size.prices, p=np.array(often) / sum(often))
    day = np.concatenate(seen)[start[at] + (chance.random(size.prices) * many[at]).astype(int)]
    shop = chance.integers(0, len(SHOPS), size.prices)
    again = np.flatnonzero(chance.random(size.prices) < 0.03)[1:]  # a second price, the same day
    at[again], day[again], shop[again] = at[again - 1], day[again - 1], shop[again - 1]

    months = DAYS // 30 + 1
    walk = chance.normal(0.0025, 0.015, (size.ingredients, months)).cumsum(axis=1)
    level = chance.lognormal(np.log(0.6), 0.7, size.ingredients)  # for 100 g, 100 ml or one
    dearer = chance.normal(0, 0.08, (size.ingredients, len(SHOPS)))
    pack = np.where(
        base[at] == "each",
        chance.choice([1, 6, 12], at.size),
        chance.choice([250, 500, 1000], at.size),
    )
    units = np.where(base[at] == "each", pack, pack / 100)
    kind = chance.choice(["shelf", "receipt", "offer"], at.size, p=[0.6, 0.33, 0.07])
    price = level[at] * units * np.exp(walk[at, day // 30] + dearer[at, shop])
    price *= np.exp(chance.normal(0, 0.03, at.size)) * np.where(kind == "offer", 0.75, 1.0)
    frame = pd.DataFrame(
        {
            "ingredient_id": at + 1,
            "shop": shop,
            "day": day,
            "cents": np.maximum(np.round(100 * price), 1).astype(np.int64),
            "pack": pack,
            "base": base[at],
            "kind": kind,
            "taxed": chance.random(at.size) < 0.01,
        }
    )
    return frame.sort_values("day", kind="stable", ignore_index=True)


def _dishes(
    chance: np.random.Generator, size: Size, base: np.ndarray
) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Return the versions (dish, version, day, portions) and their lines.

    One dish of twenty is a part for others; the last quarter of the parts take one of the first
    half, and one in six of the other dishes takes a part. One dish in ten has two versions.
    """
    dish = np.arange(1, size.dishes + 1)
    parts = max(size.dishes // 20, 4)
    sub = np.where(chance.random(size.dishes) < 1 / 6, chance.integers(1, parts + 1, dish.size), 0)
    sub[:parts] = 0
    sub[parts * 3 // 4 : parts] = chance.integers(1, parts // 2 + 1, parts - parts * 3 // 4)
    twice = dish[chance.random(dish.size) < 0.1]
    versions = pd.DataFrame(
        {
            "dish": np.concatenate([dish, twice]),
            "version": np.repeat([1, 2], [dish.size, twice.size]),
            # from three years before the first price; the second version at least a year later
            "day": np.concatenate(
                [
                    chance.integers(-1100, DAYS // 4, dish.size),
                    chance.integers(DAYS // 3, DAYS, twice.size),
                ]
            ),
            "portions": chance.integers(2, 13, dish.size + twice.size),
        }
    )
    first = chance.integers(0, len(base), (dish.size, LINES))
    ingredient = np.concatenate([first, first[twice - 1]])  # the second version: other amounts
    ingredient[dish.size :, 0] = chance.integers(0, len(base), twice.size)  # and one other line
    amount = np.where(
        base[ingredient] == "each",
        chance.integers(1, 7, ingredient.shape),
        chance.integers(2, 120, ingredient.shape) * 5,
    ).astype(float)
    lines = pd.DataFrame(
        {
            "place": np.repeat(np.arange(len(versions)), LINES),
            "position": np.tile(np.arange(1, LINES + 1), len(versions)),
            "ingredient_id": ingredient.ravel() + 1,
            "sub_dish_id": 0,
            "amount": amount.ravel(),
            "dimension": base[ingredient].ravel(),
            "edible": chance.random(ingredient.size) < 0.1,
        }
    )
    users = np.flatnonzero(sub[versions["dish"] - 1] > 0)
    last = users * LINES + LINES - 1  # the last line of a version that takes another dish
    unit = chance.choice(["portion", "batch", "g"], users.size)
    lines.loc[last, "sub_dish_id"] = sub[versions["dish"].to_numpy()[users] - 1]
    lines.loc[last, "ingredient_id"] = 0
    lines.loc[last, "dimension"] = unit
    lines.loc[last, "amount"] = np.select([unit == "portion", unit == "batch"], [2.0, 0.5], 150.0)
    lines.loc[last, "edible"] = False
    return versions, lines


def _insert_series(con: Connection, chance: np.random.Generator) -> None:
    values = []
    for series, _, last in ENDED:
        month = pd.date_range("2010-01-01", last, freq="MS")
        value = 100 * np.exp(chance.normal(0.003, 0.01, len(month)).cumsum())
        frame = pd.DataFrame({"series": series, "month": month, "value": value})
        values.append(frame[(month < GAP[0]) | (month > GAP[1])])
    con.register("frame", pd.DataFrame(ENDED, columns=["series", "parent", "last"]))
    _insert(con, "series", {"series": "series", "title": "series", "parent": "parent"})
    con.register("frame", pd.concat(values))
    _insert(con, "series_value", {"series": "series", "month": "month", "value": "value"})
    _record(con, "index", sum(map(len, values)))


def _insert_ingredients(con: Connection, frame: pd.DataFrame) -> None:
    con.register("frame", frame)
    con.execute(
        "INSERT INTO ingredient SELECT ingredient_id, name, lower(name) FROM "
        "(SELECT ingredient_id, format('Ingredient {:04d}', ingredient_id) AS name FROM frame)"
    )
    _insert(
        con,
        "ingredient_fact",
        {"ingredient_id": "ingredient_id", "base": "base", "series": "series", "aliases": "[]"},
    )
    _record(con, "ingredients", len(frame))


def _insert_prices(con: Connection, frame: pd.DataFrame) -> None:
    con.register("frame", frame)
    con.register("shops", pd.DataFrame({"shop": range(len(SHOPS)), "name": SHOPS}))
    _insert(
        con,
        "observation",
        {
            "ingredient_id": "ingredient_id",
            "observed_on": f"DATE '{FIRST_DAY}' + day::INTEGER",
            "price": "cents / 100",
            "currency": "'USD'",
            "pack": "pack || ' ' || base",
            "pack_amount": "pack",
            "pack_dimension": "base",
            "supplier": "name",
            "supplier_key": "lower(name)",
            "kind": "kind",
            "tax_pct": "CASE WHEN taxed THEN 5 END",
            "region_key": "''",
            "product_key": "''",
        },
        "frame JOIN shops USING (shop)",
    )
    _record(con, "prices", len(frame))
    con.execute(
        "INSERT INTO retraction SELECT row_id, $at, 'entered twice' FROM observation "
        "WHERE line % 1000 = 7",
        {"at": now()},
    )


def _insert_dishes(
    con: Connection, size: Size, versions: pd.DataFrame, lines: pd.DataFrame
) -> None:
    con.execute(
        "INSERT INTO dish SELECT number, name, lower(name) FROM "
        "(SELECT number, format('Dish {:05d}', number) AS name FROM range(1, $many + 1) t(number))",
        {"many": size.dishes},
    )
    con.register("frame", versions)
    _insert(
        con,
        "dish_version",
        {
            "dish_id": "dish",
            "version": "version",
            "effective_from": f"DATE '{FIRST_DAY}' + day::INTEGER",
            "portions": "portions",
            "batch_weight_g": "portions * 300",
        },
    )
    con.register("frame", lines)
    _insert(
        con,
        "dish_line",
        {
            "version_row": "version_row",
            "position": "position",
            "ingredient_id": "nullif(ingredient_id, 0)",
            "sub_dish_id": "nullif(sub_dish_id, 0)",
            "quantity": "amount",
            "unit": "dimension",
            "amount": "amount",
            "dimension": "dimension",
            "state": "CASE WHEN edible THEN 'edible' ELSE 'as_purchased' END",
            "yield_pct": "CASE WHEN edible THEN 80 END",
            "pantry": "false",
        },
        "frame JOIN (SELECT row_id AS version_row, line - 2 AS place FROM dish_version) "
        "USING (place)",
    )
    _record(con, "dishes", len(lines))


def _insert(con: Connection, table: str, columns: Columns, source: str = "frame") -> None:
    """Insert the rows of `source` as the next batch, numbered as the lines of a file."""
    con.execute(
        f"INSERT INTO {table} (batch, line, raw, {', '.join(columns)}) "
        "SELECT (SELECT max(batch) + 1 FROM load_batch), "
        f"row_number() OVER () + 1, NULL, {', '.join(map(str, columns.values()))} FROM {source}"
    )


def _record(con: Connection, kind: str, added: int) -> None:
    batch = con.execute("SELECT max(batch) + 1 FROM load_batch").fetchall()[0][0]
    con.execute(
        "INSERT INTO load_batch VALUES ($batch, $kind, $name, $sha, $at, $added, 0, $rows)",
        {
            "batch": batch,
            "kind": kind,
            "name": f"{kind}.csv",
            "sha": "0" * 64,
            "at": now(),
            "added": added,
            "rows": rows_digest(con, kind, batch),
        },
    )


# What the straightforward scripts read: the raw rows, each table as it is kept.
RAW = {
    "observations": "SELECT ingredient_id, supplier, observed_on, price::DOUBLE AS price, "
    "tax_pct::DOUBLE AS tax_pct, pack_amount::DOUBLE AS pack_amount, kind FROM observation_now",
    "ingredients": "SELECT ingredient_id, series FROM ingredient_now",
    "settings": "SELECT name, value FROM setting_now",
    "series": "SELECT series, parent FROM series_now",
    "index": "SELECT series, month, value FROM series_value_now",
    "versions": "SELECT row_id AS version_row, dish_id, dish, version, effective_from, "
    "portions::DOUBLE AS portions, batch_weight_g::DOUBLE AS batch_weight_g FROM dish_version_now",
    "lines": "SELECT version_row, ingredient_id, sub_dish_id, amount::DOUBLE AS amount, dimension, "
    "yield_pct::DOUBLE AS yield_pct FROM dish_line",
}


def write_raw(con: Connection, folder: Path) -> None:
    """Write the raw rows as one parquet file a table, for scripts that know nothing of the book."""
    for name, query in RAW.items():
        con.sql(query).write_parquet(str(folder / f"{name}.parquet"))


def main(folder: Path, size: Size) -> None:
    """Build the book and its raw rows in `folder`, with the seconds that deriving takes."""
    book = build(folder / "book.duckdb", size, derive=False)
    start = time.perf_counter()
    with writing(book) as con:
        refresh_prices(con)
    derived_seconds = time.perf_counter() - start
    (folder / "raw").mkdir()
    with reading(book) as con:
        write_raw(con, folder / "raw")
    facts = {**asdict(size), "derived_seconds": derived_seconds}
    (folder / "prepared.json").write_text(json.dumps(facts))


if __name__ == "__main__":
    prices, ingredients, dishes = map(int, sys.argv[2:])
    main(Path(sys.argv[1]), Size(prices=prices, ingredients=ingredients, dishes=dishes))
