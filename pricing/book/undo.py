"""Takes a load back: its rows stop counting, unless what is in force still needs them."""

from __future__ import annotations

from collections.abc import Mapping

from pricing.book import known
from pricing.book.append import BUNDLED, index_changes
from pricing.book.connect import Connection
from pricing.book.derive import refresh_moved_prices, refresh_prices
from pricing.book.read import rows
from pricing.book.tables import KIND_TABLES, data_tables
from pricing.book.uses import FactsAfter, broken_uses
from pricing.clock import now
from pricing.cycles import near_circles
from pricing.errors import InputRefused
from pricing.measures.quantities import IngredientFacts
from pricing.names import name_key

# the tables of a kind whose rows change prices of ingredients
_TOUCHING = {
    "ingredients": ("ingredient_fact",),
    "measures": ("measure",),
    "prices": ("observation",),
    "printed": ("observation",),
    "decisions": ("observation", "ingredient_fact"),
}


def retract_batch(con: Connection, batch: int) -> int:
    """Retract every row of a load that still counts and return how many data rows that were.

    What it replaced is in force again. Call it inside `connect.writing`. Raises InputRefused
    for an unknown load, one undone already, the bundled series, and one that rows in force need;
    the caller's transaction is then rolled back.
    """
    kind = _kind_of(con, batch)
    touched = _touched(con, kind, batch)
    bases = {each.ingredient_id: each.base for each in known.ingredients(con)} if touched else {}
    counts: dict[str, int] = {}
    for table in KIND_TABLES[kind]:
        added = con.execute(
            f"INSERT INTO retraction SELECT row_id, $at, $why FROM {table} t WHERE batch = $batch "
            "AND NOT EXISTS (FROM retraction r WHERE r.row_id = t.row_id)",
            {"at": now(), "why": f"undo of load {batch}", "batch": batch},
        ).fetchone()
        counts[table] = int((added or (0,))[0])
    if not any(counts.values()):
        raise InputRefused(
            f"Found load {batch}, which was undone already; expected a load whose rows count. "
            "See `portiondrift info` for the loads."
        )
    _refuse_if_needed(con, kind, batch, {each: bases.get(each) for each in touched})
    if touched:
        refresh_prices(con, touched, whole=kind in ("ingredients", "decisions"))
    if kind == "index":
        refresh_moved_prices(con, *index_changes(con, batch))
    data_rows = sum(counts[table] for table in data_tables(kind))
    return data_rows or sum(counts.values())


def _kind_of(con: Connection, batch: int) -> str:
    loaded = con.execute(
        "SELECT kind, file_name FROM load_batch WHERE batch = $batch", {"batch": batch}
    ).fetchone()
    if loaded is None:
        last = (con.execute("SELECT max(batch) FROM load_batch").fetchone() or (0,))[0]
        raise InputRefused(
            f"Found no load {batch} in the book; expected a number up to {last}. "
            "See `portiondrift info` for the loads."
        )
    if loaded[1] == BUNDLED:
        raise InputRefused(
            f"Found load {batch}, the official series that come with every book; expected a load "
            "of your own. They cannot be taken out; a later release of a month takes their place."
        )
    return str(loaded[0])


def _touched(con: Connection, kind: str, batch: int) -> set[int]:
    found: set[int] = set()
    for table in _TOUCHING.get(kind, ()):
        ids = con.execute(
            f"SELECT DISTINCT ingredient_id FROM {table} WHERE batch = $batch", {"batch": batch}
        )
        found |= {row[0] for row in ids.fetchall()}
    return found


def _refuse_if_needed(
    con: Connection, kind: str, batch: int, touched: Mapping[int, str | None]
) -> None:
    """Raise InputRefused when rows in force could no longer be used as things stand now."""
    if kind in ("ingredients", "measures", "decisions"):
        _refuse_broken_uses(con, batch, touched)
    if kind in ("ingredients", "decisions"):
        _refuse_shared_names(con, batch)
    if kind in ("dishes", "decisions"):
        _refuse_broken_dishes(con, batch)
    if kind in ("prices", "printed", "dishes", "decisions"):
        _refuse_settled_since(con, batch)
    if kind == "index":
        _refuse_needed_by_links(con, batch)
        parents = {key: [s["parent"]] for key, s in known.series(con).items() if s["parent"]}
        _refuse_circle(batch, "series would be its own parent", bool(near_circles(parents)))


def _refuse_settled_since(con: Connection, batch: int) -> None:
    """Raise InputRefused when a later load of decisions rests on what this one brought."""
    later = rows(con, "tray/settled_since", {"batch": batch})
    if later:
        names = sorted({row["name"] for row in later})
        _refuse_needed(batch, names, {row["batch"]: "decisions" for row in later})


def _refuse_needed_by_links(con: Connection, batch: int) -> None:
    broken = con.execute(
        "SELECT DISTINCT series, batch FROM series_part_now ANTI JOIN (SELECT v.series AS source "
        "FROM series_value v ANTI JOIN retraction r ON r.row_id = v.row_id) USING (source)"
    ).fetchall()
    if broken:
        names = sorted({series for series, _ in broken})
        _refuse_needed(batch, names, {needing: "index" for _, needing in broken})


def _refuse_broken_uses(con: Connection, batch: int, touched: Mapping[int, str | None]) -> None:
    in_force = {each.ingredient_id: each for each in known.ingredients(con)}
    own = known.measures(con)
    after: dict[int, FactsAfter | None] = {}
    for each, base in touched.items():
        ingredient = in_force.get(each)
        after[each] = (
            ingredient
            if ingredient is None
            else FactsAfter(
                facts=IngredientFacts(
                    base=ingredient.base,
                    density_g_per_ml=ingredient.density_g_per_ml,
                    grams_each=ingredient.grams_each,
                    grams_by_measure={key: m.grams for key, m in own.get(each, {}).items()},
                ),
                yield_pct=ingredient.yield_pct,
                base_before=base,
            )
        )
    broken = broken_uses(con, after)
    if broken:
        names = dict(con.execute("SELECT ingredient_id, name FROM ingredient").fetchall())
        used = sorted({names[use.ingredient_id] for use in broken})
        _refuse_needed(batch, used, {b: use.kind for use in broken for b in use.batches})


def _refuse_shared_names(con: Connection, batch: int) -> None:
    meaning: dict[str, str] = {}
    for each in known.ingredients(con):
        for name in {each.name_key, *map(name_key, each.aliases)}:
            other = meaning.setdefault(name, each.name)
            if other != each.name:
                raise InputRefused(
                    f"Cannot undo load {batch}: '{name}' would then be a name or alias of both "
                    f"'{other}' and '{each.name}'. Undo the load that gave it to one of them first."
                )


def _refuse_broken_dishes(con: Connection, batch: int) -> None:
    broken = rows(con, "book/broken_dish_uses")
    if broken:
        kinds = {row["batch"]: row["kind"] for row in broken}
        _refuse_needed(batch, sorted({row["dish"] for row in broken}), kinds)
    edges: dict[int, set[int]] = {}
    for use in known.dish_uses(con):
        edges.setdefault(use.dish_id, set()).add(use.sub_dish_id)
    _refuse_circle(batch, "dish would take itself", bool(near_circles(edges)))


def _refuse_circle(batch: int, what: str, circle: bool) -> None:
    if circle:
        raise InputRefused(
            f"Cannot undo load {batch}: what it replaced would count again, and then a {what}. "
            "Undo the later loads of these first."
        )


def _refuse_needed(batch: int, names: list[str], kinds: dict[int, str]) -> None:
    shown = ", ".join(f"'{name}'" for name in names[:5]) + (" and others" if names[5:] else "")
    later = ", ".join(f"{each} ({kinds[each]})" for each in sorted(kinds, reverse=True))
    plural, first = ("s", "those") if len(kinds) > 1 else ("", "that one")
    raise InputRefused(
        f"Cannot undo load {batch}: {shown} {'are' if names[1:] else 'is'} still used by the "
        f"rows of load{plural} {later}; expected nothing in force to need it. "
        f"Undo {first} first."
    )
