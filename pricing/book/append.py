"""Adds rows to the book, whole columns at a time, inside the caller's writing transaction."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from pricing.book.connect import Connection
from pricing.book.derive import refresh_moved_prices, refresh_prices
from pricing.book.read import rows
from pricing.book.tables import ADDED_LATER, FILLED_LATER, KIND_TABLES, TABLES
from pricing.clock import now

Cell = str | int | float | bool | date | Decimal | Sequence[str] | None
Columns = Mapping[str, Sequence[Cell]]

BUNDLED = "bundled"  # the file name of the official series that come with every new book
BY_HAND = "by hand"  # the file name of what was typed
_ROWS_AT_A_TIME = 10_000  # sent to DuckDB, which makes a large value of every cell it is sent


@dataclass(frozen=True, kw_only=True)
class Source:
    """Where the rows of a batch come from."""

    kind: str  # a key of KIND_TABLES
    file_name: str  # name only; "by hand" and "bundled" are not files
    file_sha256: str
    added: int  # data rows stored
    already: int  # data rows that the book held


def append_batch(
    con: Connection, source: Source, tables: Mapping[str, Columns], touched: Collection[int] = ()
) -> int:
    """Store the rows of one batch and return its number.

    `tables` holds equally long columns by table and column name, `line` and `raw` among them; a
    column that is not given is NULL. The kept prices of the `touched` ingredients are derived
    anew, and those that series of the batch move. Call it inside `connect.writing`, so that all of
    it is stored or nothing.
    """
    batch = _next(con, "load_batch", "batch")
    for table, columns in tables.items():
        _insert(con, table, batch, columns)
    con.execute(
        "INSERT INTO load_batch VALUES ($batch, $kind, $name, $sha, $at, $added, $already, $rows)",
        {
            "batch": batch,
            "kind": source.kind,
            "name": source.file_name,
            "sha": source.file_sha256,
            "at": now(),
            "added": source.added,
            "already": source.already,
            "rows": rows_digest(con, source.kind, batch),
        },
    )
    if touched:
        refresh_prices(
            con,
            touched,
            since=_first_day(tables.get("observation", {})),
            whole=source.kind == "ingredients",
        )
    if source.kind == "index":
        refresh_moved_prices(con, *index_changes(con, batch))
    return batch


def _first_day(observations: Columns) -> date | None:
    """Return the first day on which a batch of observations saw something, None without any."""
    days = [day for day in observations.get("observed_on", ()) if isinstance(day, date)]
    return min(days, default=None)


def index_changes(con: Connection, batch: int) -> tuple[list[str], date | None]:
    """Return the series that a batch of index rows says something of, and from which month on.

    The month is None where it says more than values: a ladder or a link may have changed.
    """
    (found,) = rows(con, "book/index_changes", {"batch": batch})
    return found["series"], found["since"]


def name_ingredients(con: Connection, names: Mapping[str, str]) -> dict[str, int]:
    """Give each new ingredient an id; return key → id. `names` is key → name as first written."""
    return _name(con, "ingredient", "ingredient_id", names)


def name_dishes(con: Connection, names: Mapping[str, str]) -> dict[str, int]:
    """Give each new dish an id and return key → id. `names` is key → name as first written."""
    return _name(con, "dish", "dish_id", names)


def reserve_row_ids(con: Connection, count: int) -> list[int]:
    """Take `count` row ids in ascending order, for rows that others will point to."""
    ids = con.execute("SELECT nextval('next_row_id') FROM range($n)", {"n": count}).fetchall()
    return sorted(row[0] for row in ids)


def write_settings(con: Connection, values: Mapping[str, str]) -> None:
    """Append settings; the last value of each name counts."""
    con.execute(
        "INSERT INTO setting (name, value, set_at) "
        "SELECT unnest($names::VARCHAR[]), unnest($values::VARCHAR[]), $at",
        {"names": list(values), "values": list(values.values()), "at": now()},
    )


def rows_digest(con: Connection, kind: str, batch: int) -> str:
    """Return the SHA-256 over the rows of a batch as they are stored, retracted ones included."""
    parts = [
        _table_digest(con, table, batch, empty_says=_empty_says(kind, table))
        for table in KIND_TABLES[kind]
    ]
    row = con.execute("SELECT sha256(array_to_string($parts::VARCHAR[], ''))", {"parts": parts})
    return str((row.fetchone() or ("",))[0])


def _empty_says(kind: str, table: str) -> bool:
    """Tell whether a load that put nothing into a table has a digest that says so."""
    return table not in ADDED_LATER and (kind, table) not in FILLED_LATER


def _table_digest(con: Connection, table: str, batch: int, *, empty_says: bool) -> str:
    # Each value is written with a mark before it (chr 31, or chr 30 for NULL) so that no two rows
    # of different values read alike; rows are hashed one by one, then in runs of 4096, so that a
    # batch of millions never makes one huge text.
    columns = ["row_id", "line", "raw", *(c for c in TABLES[table] if c != "row_id")]
    values = ", ".join(
        f"coalesce(chr(31) || {_as_text(table, column)}, chr(30))" for column in columns
    )
    row = con.execute(
        f"""SELECT sha256(coalesce(string_agg(run, '' ORDER BY part), '')), count(*)
            FROM (SELECT row_id // 4096 AS part,
                         string_agg(sha256(concat({values})), '' ORDER BY row_id) AS run
                  FROM {table} WHERE batch = $batch GROUP BY part)""",
        {"batch": batch},
    ).fetchone()
    if row is None or (row[1] == 0 and not empty_says):
        return ""
    return str(row[0])


def _as_text(table: str, column: str) -> str:
    if TABLES[table].get(column) == "VARCHAR[]":
        return f"array_to_string({column}, chr(29))"
    return f"{column}::VARCHAR"


def _insert(con: Connection, table: str, batch: int, columns: Columns) -> None:
    types = {"line": "INTEGER", "raw": "VARCHAR", **TABLES[table]}
    named = [column for column in types if column in columns]
    if len(named) != len(columns):
        raise KeyError(f"{table} has no column {sorted(set(columns) - set(named))}")
    values = ", ".join(f"unnest({_param(types[column], column)})" for column in named)
    insert = f"INSERT INTO {table} (batch, {', '.join(named)}) SELECT $batch, {values}"
    for start in range(0, len(columns[named[0]]), _ROWS_AT_A_TIME):
        part = slice(start, start + _ROWS_AT_A_TIME)
        sent = {column: _sent(types[column], columns[column][part]) for column in named}
        con.execute(insert, {"batch": batch, **sent})


def _param(kind: str, column: str) -> str:
    if kind.startswith("DECIMAL"):
        return f"${column}::VARCHAR[]::{kind}[]"
    return f"${column}::{kind}[]"


def _sent(kind: str, values: Iterable[Cell]) -> list[Cell]:
    if kind.startswith("DECIMAL"):
        return [f"{value:f}" if isinstance(value, Decimal) else value for value in values]
    return list(values)


def _name(con: Connection, table: str, id_column: str, names: Mapping[str, str]) -> dict[str, int]:
    first = _next(con, table, id_column)
    ids = {key: first + place for place, key in enumerate(names)}
    con.execute(
        f"INSERT INTO {table} SELECT unnest($ids::INTEGER[]), unnest($names::VARCHAR[]), "
        "unnest($keys::VARCHAR[])",
        {"ids": list(ids.values()), "names": list(names.values()), "keys": list(names)},
    )
    return ids


def _next(con: Connection, table: str, column: str) -> int:
    row = con.execute(f"SELECT coalesce(max({column}), 0) + 1 FROM {table}").fetchone()
    return int((row or (1,))[0])
