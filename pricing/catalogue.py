"""Cost per portion of many dishes on many dates: one price statement, one sparse matrix product."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from pricing.book.connect import Connection
from pricing.book.grid import Rule, ask_cross, grid_columns
from pricing.book.read import columns, rows
from pricing.recipes import Line, Recipes, Version

Floats = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class CatalogueCost:
    """Dishes × days, in one currency. Arrays are [dish][day]; money is per portion."""

    dishes: tuple[str, ...]
    days: tuple[date, ...]
    labels: NDArray[np.object_]  # of the version costed
    cost: Floats  # sum of the priced lines, per portion
    bridged: Floats  # the part of it that rests on bridged prices
    complete: NDArray[np.bool_]  # every line has a price


@dataclass(frozen=True, kw_only=True)
class _States:
    """Rows of the quantity matrix: a dish while neither it nor a part of it changes."""

    row_of: NDArray[np.int64]  # [dish][day] → row
    version_rows: list[int]  # row → dish_version row
    mixed: list[tuple[int, date]]  # rows with sub-recipes: (row, a day inside it)


def cost_catalogue(
    con: Connection,
    rule: Rule,
    days: Sequence[date],
    *,
    dish_ids: Collection[int] | None = None,
    version: str | None = None,
) -> CatalogueCost:
    """Cost the dishes (None: all, by name) on each day, in the version in force on that day.

    `version` names one version instead, which every dish asked for must have.
    Raises UnknownName (no such version), RecipeRefused (a cycle, a missing batch weight).
    """
    days = sorted(set(days))
    wanted = None if dish_ids is None else list(dict.fromkeys(dish_ids))
    found: dict[int, list[Version]] = defaultdict(list)
    for row in rows(con, "recipe_versions", {"dishes": wanted}):
        found[row["dish_id"]].append(Version(row=row.pop("version_row"), **row))
    shown = list(found) if wanted is None else wanted
    by_row = {each.row: each for versions in found.values() for each in versions}
    lines = columns(con, "recipe_lines", {"versions": None if wanted is None else list(by_row)})
    recipes = Recipes(versions=dict(found), lines=_sub_recipe_lines(lines, by_row))
    states = _states(recipes, shown, days, version)
    quantities, ingredient_ids = _quantities(recipes, lines, by_row, states)

    ask_cross(con, ingredient_ids, days)
    grid = grid_columns(con, rule)
    shape = (len(ingredient_ids), len(days))
    unit_price = np.asarray(grid["unit_price"], dtype=float).reshape(shape)
    bridged = np.asarray(grid["bridged"], dtype=bool).reshape(shape)
    return _multiply(recipes, shown, days, states, quantities, unit_price, bridged, by_row)


def _sub_recipe_lines(lines: dict[str, Any], by_row: dict[int, Version]) -> dict[int, list[Line]]:
    """Return the lines of dishes that use other dishes, and of the dishes they use, as records.

    All other lines stay columns: a catalogue holds a hundred thousand of them.
    """
    is_sub = ~np.ma.getmaskarray(lines["sub_dish_id"])
    users = {
        by_row[row].dish_id for row in np.unique(lines["version_row"][is_sub]) if row in by_row
    }
    parts = {int(each) for each in np.unique(lines["sub_dish_id"][is_sub])}
    wanted = [row for row, version in by_row.items() if version.dish_id in users | parts]
    made: dict[int, list[Line]] = defaultdict(list)
    if not wanted:
        return made
    for index in np.flatnonzero(np.isin(lines["version_row"], wanted)).tolist():
        row = {key: _value(column, index) for key, column in lines.items()}
        version_row, ingredient, sub = (
            row.pop("version_row"),
            row.pop("ingredient"),
            row.pop("sub_dish"),
        )
        made[version_row].append(Line(name=ingredient or sub or "", **row))
    return made


def _value(column: Any, index: int) -> Any:
    value = column[index]
    if value is np.ma.masked:
        return None
    return value.item() if isinstance(value, np.generic) else value


def _states(
    recipes: Recipes, dish_ids: Sequence[int], days: Sequence[date], label: str | None
) -> _States:
    row_of = np.empty((len(dish_ids), len(days)), dtype=np.int64)
    version_rows: list[int] = []
    mixed: list[tuple[int, date]] = []
    for position, dish_id in enumerate(dish_ids):
        parts = _parts(recipes, dish_id)
        fixed = None if label is None else recipes.named(dish_id, label)
        changes = {each.effective_from for part in parts for each in recipes.versions[part]}
        starts = sorted({0, *(bisect_left(days, day) for day in changes)} - {len(days)})
        row_of_version: dict[int, int] = {}  # of a dish without parts, which has one row a version
        for start, end in zip(starts, [*starts[1:], len(days)], strict=True):
            version = fixed or recipes.in_force(dish_id, days[start])[0]
            row = row_of_version.get(version.row)
            if row is None:
                row = len(version_rows)
                version_rows.append(version.row)
                if len(parts) > 1:
                    mixed.append((row, days[start]))
                else:
                    row_of_version[version.row] = row
            row_of[position, start:end] = row
    return _States(row_of=row_of, version_rows=version_rows, mixed=mixed)


def _parts(recipes: Recipes, dish_id: int) -> set[int]:
    """Return the dish and every dish that any of its versions uses."""
    parts, left = {dish_id}, [dish_id]
    while left:
        for version in recipes.versions[left.pop()]:
            for line in recipes.lines.get(version.row, []):
                if line.sub_dish_id is not None and line.sub_dish_id not in parts:
                    parts.add(line.sub_dish_id)
                    left.append(line.sub_dish_id)
    return parts


def _quantities(
    recipes: Recipes, lines: dict[str, Any], by_row: dict[int, Version], states: _States
) -> tuple[sparse.csr_array, list[int]]:
    """Return (state × ingredient) as-purchased quantities per portion, and the ingredient ids.

    A quantity that cannot be turned into the base unit is NaN, so that its dish is incomplete.
    """
    with_parts = {row for row, _ in states.mixed}
    # without sub-recipes a version stands in one row: its lines are taken as columns
    plain = sorted(
        (version_row, row)
        for row, version_row in enumerate(states.version_rows)
        if row not in with_parts
    )
    plain_versions = np.array([version_row for version_row, _ in plain], dtype=np.int64)
    plain_rows = np.array([row for _, row in plain], dtype=np.int64)
    portions = np.array([by_row[version_row].portions for version_row, _ in plain])
    wanted = np.isin(lines["version_row"], plain_versions)
    which = np.searchsorted(plain_versions, lines["version_row"][wanted])
    bought = np.ma.filled(lines["as_purchased"][wanted].astype(float), np.nan)
    at_row = [plain_rows[which]]
    at_id = [np.asarray(lines["ingredient_id"][wanted], dtype=np.int64)]
    at_quantity = [bought / portions[which]]
    for row, day in states.mixed:
        taken = recipes.per_portion(by_row[states.version_rows[row]], day)
        at_row.append(np.full(len(taken), row))
        at_id.append(np.fromiter(taken, dtype=np.int64, count=len(taken)))
        at_quantity.append(np.array([np.nan if q is None else q for q in taken.values()], float))
    ingredient_ids, column = np.unique(np.concatenate(at_id), return_inverse=True)
    matrix = sparse.csr_array(
        (np.concatenate(at_quantity), (np.concatenate(at_row), column)),
        shape=(len(states.version_rows), len(ingredient_ids)),
    )
    return matrix, [int(each) for each in ingredient_ids]


def _multiply(
    recipes: Recipes,
    dish_ids: Sequence[int],
    days: Sequence[date],
    states: _States,
    quantities: sparse.csr_array,
    unit_price: Floats,
    bridged: NDArray[np.bool_],
    by_row: dict[int, Version],
) -> CatalogueCost:
    missing = np.isnan(unit_price)
    priced = np.where(missing, 0.0, unit_price)
    unknown = np.isnan(quantities.data)
    known = quantities.copy()
    known.data[unknown] = 0.0
    gaps = quantities.copy()
    gaps.data = unknown.astype(float)
    taken = quantities.copy()
    taken.data = np.ones_like(taken.data)
    cost = known @ priced
    from_bridge = known @ np.where(bridged, priced, 0.0)
    complete = (taken @ missing.astype(float) + gaps.sum(axis=1)[:, None]) == 0
    rows_of, days_of = states.row_of, np.arange(len(days))[None, :]
    labels = np.array([by_row[row].version for row in states.version_rows], dtype=object)
    return CatalogueCost(
        dishes=tuple(recipes.versions[each][0].dish for each in dish_ids),
        days=tuple(days),
        labels=labels[rows_of],
        cost=cost[rows_of, days_of],
        bridged=from_bridge[rows_of, days_of],
        complete=complete[rows_of, days_of],
    )
