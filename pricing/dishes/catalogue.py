"""Cost per portion of many dishes on many dates: one price statement, one sparse matrix product."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from pricing.book.connect import Connection
from pricing.cycles import near_circles
from pricing.dishes.matrix import Catalogue, read_catalogue
from pricing.dishes.recipes import read_recipes
from pricing.prices.rule import Rule, ask_cross, grid_columns

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, kw_only=True)
class CatalogueCost:
    """Dishes × days, in one currency. Arrays are [dish][day]; money is per portion."""

    dishes: tuple[str, ...]
    days: tuple[date, ...]
    labels: tuple[str, ...]  # of versions
    label_of: Ints  # of the version costed: a place in `labels`
    recipe_day: NDArray[np.datetime64]  # whose sub-recipes count
    cost: Floats  # sum of the priced lines, per portion
    moved: Floats  # the part of it that rests on moved prices
    complete: NDArray[np.bool_]  # every line has a price


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
    catalogue = read_catalogue(con, dish_ids)
    in_force = catalogue.in_force(days)
    costed = in_force[catalogue.shown]
    if version is not None:
        costed[:] = _named(con, catalogue, version)[:, None]

    grid = grid_columns(con, rule, ask_cross(catalogue.ingredient_ids.tolist(), days))
    shape = (len(catalogue.ingredient_ids), len(days))
    unit_price = np.asarray(grid["unit_price"], dtype=float).reshape(shape)
    moved_share = np.asarray(grid["moved_share"], dtype=float).reshape(shape)

    own = _own(catalogue.bought, unit_price, moved_share)
    recipe_day = _recipe_days(catalogue, costed, days)
    total = _with_parts(con, catalogue, days, in_force, costed, own)
    for some, as_printed, found in _as_printed(con, catalogue, days, costed, own, recipe_day):
        total[:, some] = np.where(as_printed, found, total[:, some])
    portions = catalogue.portions[costed]
    labels, label_of = np.unique(catalogue.labels.astype(str), return_inverse=True)
    return CatalogueCost(
        dishes=catalogue.dishes,
        days=tuple(days),
        labels=tuple(labels.tolist()),
        label_of=label_of[costed],
        recipe_day=recipe_day,
        cost=total[0] / portions,
        moved=total[1] / portions,
        complete=total[2] == 0,
    )


def _named(con: Connection, catalogue: Catalogue, label: str) -> Ints:
    """Return the place of the version called `label` of each dish asked for."""
    dish = np.searchsorted(catalogue.first, np.arange(len(catalogue.labels)), side="right") - 1
    place = np.full(len(catalogue.first), -1)
    called = np.flatnonzero(catalogue.labels == label)
    place[dish[called]] = called
    found: Ints = place[catalogue.shown]
    for dish_id in catalogue.dish_ids[catalogue.shown][found < 0].tolist():
        read_recipes(con, [dish_id]).named(dish_id, label)  # says it in a sentence
    return found


def _recipe_days(
    catalogue: Catalogue, costed: Ints, days: Sequence[date]
) -> NDArray[np.datetime64]:
    """Return `Recipes.recipe_day` of the version costed, [dish asked for][day]."""
    start = catalogue.effective_from
    last = np.full(len(start), np.datetime64("9999-12-31"))
    dish = np.searchsorted(catalogue.first, np.arange(len(start)), side="right") - 1
    same = dish[1:] == dish[:-1]
    last[:-1][same] = start[1:][same] - np.timedelta64(1, "D")
    last = np.maximum(last, start)  # a version replaced on the day it began was never in force
    on = np.array(days, dtype="datetime64[D]")[None, :]
    found: NDArray[np.datetime64] = np.maximum(start[costed], np.minimum(on, last[costed]))
    return found


def _as_printed(
    con: Connection,
    catalogue: Catalogue,
    days: Sequence[date],
    costed: Ints,
    own: Floats,
    recipe_day: NDArray[np.datetime64],
) -> Iterator[tuple[Ints, NDArray[np.bool_], Floats]]:
    """Yield dishes asked for, their days whose recipe day is another, and what they cost then.

    Recipe days with the same versions of all parts come together.
    """
    user = np.searchsorted(catalogue.first, catalogue.part_version, side="right") - 1
    apart = recipe_day != np.array(days, dtype="datetime64[D]")[None, :]
    rows = np.flatnonzero(apart.any(axis=1) & np.isin(catalogue.shown, user))
    if not len(rows):
        return
    apart, recipe_day = apart[rows], recipe_day[rows]
    others = np.unique(recipe_day[apart])
    then = catalogue.in_force(others.tolist())[np.unique(catalogue.part_dish)]
    _, first, alike = np.unique(then, axis=1, return_index=True, return_inverse=True)
    group_of = alike.ravel()[np.minimum(np.searchsorted(others, recipe_day), len(others) - 1)]
    for group, place in enumerate(first.tolist()):
        here = apart & (group_of == group)
        some = np.flatnonzero(here.any(axis=1))
        day = others[place].item()
        found = _with_parts(
            con,
            replace(catalogue, shown=catalogue.shown[rows[some]]).reached(),
            [day] * len(days),
            np.broadcast_to(catalogue.in_force([day]), (len(catalogue.first), len(days))),
            costed[rows[some]],
            own,
        )
        yield rows[some], here[some], found


def _own(bought: sparse.csr_array, unit_price: Floats, moved_share: Floats) -> Floats:
    """Return what a batch costs but for its parts: [cost, moved, gaps][version][day].

    A quantity that cannot be turned into the base unit is NaN; like a missing price it is a gap.
    """
    missing = np.isnan(unit_price)
    priced = np.where(missing, 0.0, unit_price)
    unknown = np.isnan(bought.data)
    known, gaps, lines = bought.copy(), bought.copy(), bought.copy()
    known.data[unknown] = 0.0
    gaps.data = unknown.astype(float)
    lines.data = np.ones_like(lines.data)
    return np.stack(
        [
            known @ priced,
            known @ (priced * moved_share),
            lines @ missing.astype(float) + gaps.sum(axis=1)[:, None],
        ]
    )


def _with_parts(
    con: Connection,
    catalogue: Catalogue,
    days: Sequence[date],
    in_force: Ints,
    costed: Ints,
    own: Floats,
) -> Floats:
    """Return what a batch costs with its parts: [cost, moved, gaps][dish asked for][day].

    `costed` is the version of each dish asked for; parts are in the version in force.
    """
    day = np.arange(len(days))
    total = own[:, costed, day]
    version = catalogue.part_version
    if not len(version):
        return total
    user = np.searchsorted(catalogue.first, version, side="right") - 1
    _refuse_circles(con, catalogue, days, user, costed)
    batches = _batches(catalogue, in_force)
    unweighed = np.isnan(batches)
    batches[unweighed] = 1.0  # for now: it is refused below, if it counts
    parts = _parts(catalogue, in_force, own, user, batches, unweighed)
    # what the dishes asked for take of them, in the version costed
    line = np.flatnonzero(np.isin(user, catalogue.shown))
    by_place = np.argsort(catalogue.shown)
    at = by_place[np.searchsorted(catalogue.shown[by_place], user[line])]
    in_use = costed[at] == version[line][:, None]
    inside = np.where(in_use, parts[:, line] * batches[line], 0.0)
    inside[3] += in_use & unweighed[line]
    asked, at = np.unique(at, return_inverse=True)
    added = _add_up(inside, at, len(asked))
    total[:, asked] += added[:3]
    if added[3].any():
        dish, on = np.argwhere(added[3])[0]
        _refuse_unweighed(con, catalogue, asked[dish], costed[asked[dish], on], days[on])
    return total


def _parts(
    catalogue: Catalogue,
    in_force: Ints,
    own: Floats,
    user: Ints,
    batches: Floats,
    unweighed: NDArray[np.bool_],
) -> Floats:
    """Return what a batch of each part costs with all that is in it: [figure][part line][day].

    The figures are cost, bridged, gaps and, as a fourth, whether a weight is missing inside.
    """
    day = np.arange(in_force.shape[1])
    in_use = in_force[user] == catalogue.part_version[:, None]
    dishes, place = np.unique(np.concatenate([user, catalogue.part_dish]), return_inverse=True)
    user_at, part_at = place[: len(user)], place[len(user) :]
    lost = _add_up((in_use & unweighed)[None].astype(float), user_at, len(dishes))
    whole = step = np.concatenate([own[:, in_force[dishes], day], lost])
    for _ in dishes:  # what parts cost, what their parts cost, …
        step = _add_up(np.where(in_use, step[:, part_at] * batches, 0.0), user_at, len(dishes))
        if not step.any():
            break
        whole = whole + step
    figures: Floats = whole[:, part_at]
    return figures


def _batches(catalogue: Catalogue, in_force: Ints) -> Floats:
    """Return how many batches of the part a part line takes, [part line][day]; NaN: no weight."""
    sub = in_force[catalogue.part_dish]
    one = np.where(catalogue.in_batches[:, None], 1.0, catalogue.batch_weight[sub])
    size = np.where(catalogue.in_portions[:, None], catalogue.portions[sub], one)
    batches: Floats = catalogue.part_amount[:, None] / size
    return batches


def _add_up(figures: Floats, at: Ints, many: int) -> Floats:
    """Return [figure][place][day]: the sums of [figure][line][day] over the lines at each place."""
    lines = np.arange(len(at))
    sums = sparse.csr_array((np.ones(len(at)), (at, lines)), shape=(many, len(at)))
    return np.stack([sums @ each for each in figures])


def _refuse_circles(
    con: Connection, catalogue: Catalogue, days: Sequence[date], user: Ints, costed: Ints
) -> None:
    """Raise RecipeRefused when on one of the days a dish asked for takes itself."""
    uses: dict[int, set[int]] = defaultdict(set)
    for taker, part in zip(user.tolist(), catalogue.part_dish.tolist(), strict=True):
        uses[taker].add(part)
    near = near_circles(uses)
    for place in np.flatnonzero(np.isin(catalogue.shown, list(near))).tolist():
        dish_id = int(catalogue.dish_ids[catalogue.shown[place]])
        recipes = read_recipes(con, [dish_id])
        for day, version in zip(days, costed[place].tolist(), strict=True):
            # which may be, if never on one day
            recipes.per_portion(recipes.named(dish_id, str(catalogue.labels[version])), day)


def _refuse_unweighed(
    con: Connection, catalogue: Catalogue, dish: int, version: int, on: date
) -> None:
    """Raise RecipeRefused for a part by weight of a batch without a weight."""
    dish_id = int(catalogue.dish_ids[catalogue.shown[dish]])
    recipes = read_recipes(con, [dish_id])
    recipes.per_portion(recipes.named(dish_id, str(catalogue.labels[version])), on)
