"""Looks at what a book's rows say: readable, as stored, pointing at something, rightly derived."""

from __future__ import annotations

from collections.abc import Iterator

import duckdb

from pricing.book import known
from pricing.book.append import rows_digest
from pricing.book.connect import Connection
from pricing.book.derive import differing_prices
from pricing.book.fetched import kept_bytes
from pricing.book.read import rows
from pricing.book.tables import data_tables
from pricing.cycles import circle_through, near_circles
from pricing.names import name_key

_KEYED = (  # table, name as written, form under which it compares
    ("ingredient", "name", "name_key"),
    ("dish", "name", "name_key"),
    ("measure", "measure", "measure_key"),
    ("observation", "supplier", "supplier_key"),
    ("observation", "product", "product_key"),
    ("observation", "region", "region_key"),
    ("swap_detail", "supplier", "supplier_key"),
    ("swap_detail", "product", "product_key"),
)
_RESTORE = "Bring back a copy with `portiondrift restore`."


def unreadable(con: Connection, counts: dict[str, int]) -> Iterator[str]:
    """Read every value, filling `counts` (table → rows); yield a sentence for a damaged table."""
    tables = con.execute(
        "SELECT table_name FROM duckdb_tables() WHERE NOT internal ORDER BY table_name"
    ).fetchall()
    for (table,) in tables:
        try:
            read = con.execute(f'SELECT count(*), bit_xor(hash(t)) FROM "{table}" t').fetchone()
        except duckdb.Error as error:
            yield f"Found the table {table} damaged ({str(error).splitlines()[0]}). {_RESTORE}"
            if isinstance(error, duckdb.FatalException):
                return  # the engine answers nothing more on this connection
            continue
        counts[table] = int((read or (0,))[0])
        yield from _broken_look_ups(con, table)


def _broken_look_ups(con: Connection, table: str) -> Iterator[str]:
    """Yield a sentence when a row cannot be found by a key: its index may be damaged alone."""
    keys = con.execute(
        "SELECT constraint_column_names[1] FROM duckdb_constraints() WHERE table_name = $table "
        "AND constraint_type IN ('PRIMARY KEY', 'UNIQUE') AND len(constraint_column_names) = 1",
        {"table": table},
    ).fetchall()
    for (key,) in keys:
        try:
            ends = con.execute(f'SELECT min("{key}"), max("{key}") FROM "{table}"').fetchone()
            for value in ends or ():
                found = value is None or con.execute(
                    f'SELECT count(*) FROM "{table}" WHERE "{key}" = $value', {"value": value}
                ).fetchone() == (1,)
                if not found:
                    yield f"Found no row of {table} by its {key} {value}. {_RESTORE}"
        except duckdb.Error as error:
            what = str(error).splitlines()[0]
            yield f"Found the index of {table} by {key} damaged ({what}). {_RESTORE}"
            if isinstance(error, duckdb.FatalException):
                return


def batches(con: Connection) -> Iterator[str]:
    """Yield a sentence for every load whose rows are not, to the byte, those it stored."""
    found = con.execute(
        "SELECT batch, kind, file_name, loaded_at, added, rows_sha256 FROM load_batch "
        "ORDER BY batch"
    ).fetchall()
    for batch, kind, file_name, loaded_at, added, sha256 in found:
        named = f"load {batch} ({kind}, {file_name}, loaded {loaded_at:%Y-%m-%d %H:%M} UTC)"
        many = sum(_count(con, table, batch) for table in data_tables(kind))
        if many != added:
            yield f"Found {many} data rows of {named}; expected {added}. {_RESTORE}"
        elif rows_digest(con, kind, batch) != sha256:
            yield (
                f"Found rows of {named} that are not as they were stored; expected not a byte "
                f"changed. {_RESTORE}"
            )


def _count(con: Connection, table: str, batch: int) -> int:
    found = con.execute(f"SELECT count(*) FROM {table} WHERE batch = $batch", {"batch": batch})
    return int((found.fetchone() or (0,))[0])


def fetched(con: Connection) -> Iterator[str]:
    """Yield a sentence for every fetched file whose kept bytes are not those that were received."""
    for number, url in con.execute("SELECT fetched_id, url FROM fetched ORDER BY 1").fetchall():
        try:
            whole = kept_bytes(con, number) is not None
        except ValueError:
            whole = False
        if not whole:
            yield (
                f"Found the bytes fetched from {url} changed; expected them as received. {_RESTORE}"
            )


def references(con: Connection) -> Iterator[str]:
    """Yield a sentence for every kind of row that points at nothing, or at what was taken out."""
    for row in rows(con, "keeping/check_references"):
        yield f"Found {row['many']} {row['found']} (first: {row['first']}). {row['remedy']}"


def names(con: Connection) -> Iterator[str]:
    """Yield a sentence for every name that is not kept under the form in which it compares."""
    for table, name, key in _KEYED:
        pairs = con.execute(f"SELECT DISTINCT {name}, {key} FROM {table} ORDER BY ALL").fetchall()
        for written, kept in pairs:
            if name_key(written or "") != kept:
                yield (
                    f"Found the {name} '{written}' of {table} kept under '{kept}'; expected "
                    f"'{name_key(written or '')}'. {_RESTORE}"
                )


def settings(con: Connection) -> Iterator[str]:
    """Yield a sentence for every setting that a book cannot do without and lacks."""
    settings = dict(con.execute("SELECT name, value FROM setting_now").fetchall())
    for name in ("currency", "measures", "fresh_days"):
        if name not in settings:
            yield f"Found no setting '{name}'; expected one from `portiondrift init`. {_RESTORE}"


def circles(con: Connection) -> Iterator[str]:
    """Yield a sentence when a dish takes itself, in any version, or a series is its own parent."""
    takes: dict[str, set[str]] = {}
    names = dict(con.execute("SELECT dish_id, name FROM dish").fetchall())
    for use in known.dish_uses(con):
        taker, taken = (names.get(each, str(each)) for each in (use.dish_id, use.sub_dish_id))
        takes.setdefault(taker, set()).add(taken)
    if path := _circle(takes):
        yield (
            f"Found a dish that takes itself: {path}; expected sub-recipes without a circle. "
            "Correct one of these dishes and load it with --replace."
        )
    parents = {series: {facts["parent"]} for series, facts in known.series(con).items()}
    if path := _circle(parents):
        yield (
            f"Found a series that is its own parent: {path}; expected a way up to a series without "
            "a parent. Correct one of these parents and load it with --replace."
        )


def _circle(edges: dict[str, set[str]]) -> str | None:
    suspects = near_circles(edges)
    for start in sorted(suspects):
        for first in sorted(suspects & edges[start]):
            if circle := circle_through(edges, start, first):
                return " → ".join(circle)
    return None


def prices(con: Connection) -> Iterator[str]:
    """Yield a sentence when the kept prices are not what the observations and series say.

    Without the settings that the price rule reads nothing can be derived; `settings` tells of them.
    """
    if any(settings(con)):
        return
    missing, left_over = differing_prices(con)
    if missing or left_over:
        yield (
            f"Found {missing} kept prices missing or different and {left_over} left over; "
            "expected what the prices seen say. "
            "Run `portiondrift check --upgrade` to derive them anew."
        )
