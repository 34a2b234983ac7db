"""What a portion of every dish takes on a day, as one sparse matrix (dish × ingredient)."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from pricing.book.connect import Connection
from pricing.book.read import columns
from pricing.dishes.recipes import read_recipes

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, kw_only=True)
class DishesOnDay:
    """Dishes on one day, each in the version in force."""

    quantities: sparse.csr_array  # [dish][ingredient], as purchased per portion; NaN = unknown
    version: Ints  # [dish] place of the version in the catalogue
    labels: NDArray[np.object_]  # [dish] its label
    started: NDArray[np.bool_]  # [dish] false: the first version, before it came into force


@dataclass(frozen=True, kw_only=True)
class Catalogue:
    """Dishes asked for and all that they use, as columns; versions by dish, then by date."""

    dish_ids: Ints  # [dish], by name
    names: NDArray[np.object_]  # [dish]
    shown: Ints  # places in dish_ids of the dishes asked for, in the order asked
    ingredient_ids: Ints  # [ingredient], ascending
    first: Ints  # [dish] place of its first version
    effective_from: NDArray[np.datetime64]  # [version]
    labels: NDArray[np.object_]  # [version]
    portions: Floats  # [version] per batch
    batch_weight: Floats  # [version] in g; NaN = not stated
    groups: NDArray[np.object_]  # [version] of dishes; None = not stated
    made_per_month: Floats  # [version] batches; NaN = not stated
    target: Floats  # [version] cost per portion; NaN = not stated
    bought: sparse.csr_array  # [version][ingredient], as purchased per batch; NaN = unknown
    part_version: Ints  # [part line] place of the version that takes a part
    part_dish: Ints  # [part line] place of the dish it takes
    part_amount: Floats  # [part line]
    in_portions: NDArray[np.bool_]  # [part line]
    in_batches: NDArray[np.bool_]  # [part line]; in neither: in g

    @property
    def dishes(self) -> tuple[str, ...]:
        """The names of the dishes asked for."""
        return tuple(self.names[self.shown].tolist())

    def in_force(self, days: Sequence[date]) -> Ints:
        """Return the place of the version in force, [dish][day]: the first before any is."""
        places: Ints = self.first[:, None] + np.maximum(self._started(days) - 1, 0)
        return places

    def _started(self, days: Sequence[date]) -> Ints:
        """Return how many versions of each dish have come into force, [dish][day]."""
        if not len(self.first):
            return np.empty((0, len(days)), dtype=np.int64)
        started = self.effective_from[:, None] <= np.array(days, dtype="datetime64[D]")
        many: Ints = np.add.reduceat(started.astype(np.int64), self.first)
        return many

    def without_drafts(self, today: date) -> tuple[Catalogue, tuple[str, ...]]:
        """Return the catalogue without the dishes that begin after `today`, and their names."""
        draft = self.effective_from[self.first] > np.datetime64(today)
        shown = self.shown[~draft[self.shown]]
        return replace(self, shown=shown), tuple(self.names[self.shown[draft[self.shown]]].tolist())

    def without(self, dish_ids: Collection[int]) -> tuple[Catalogue, tuple[str, ...]]:
        """Return the catalogue without some dishes of their own, and the names of those."""
        left = np.isin(self.dish_ids[self.shown], list(dish_ids))
        names = tuple(self.names[self.shown[left]].tolist())
        return replace(self, shown=self.shown[~left]), names

    def reached(self) -> Catalogue:
        """Return the catalogue with those part lines alone that the dishes asked for come to."""
        user = np.searchsorted(self.first, self.part_version, side="right") - 1
        inside = np.isin(np.arange(len(self.first)), self.shown)
        while True:
            lines = inside[user]
            if inside[self.part_dish[lines]].all():
                break
            inside[self.part_dish[lines]] = True
        return replace(
            self,
            part_version=self.part_version[lines],
            part_dish=self.part_dish[lines],
            part_amount=self.part_amount[lines],
            in_portions=self.in_portions[lines],
            in_batches=self.in_batches[lines],
        )

    def on(self, con: Connection, day: date) -> DishesOnDay:
        """Return what a portion of each dish asked for takes on a day.

        Sub-recipes are in the version in force on the recipe day (design §6): that day, or for a
        dish that had not begun, the day it begins. Raises RecipeRefused (a circle, a missing batch
        weight).
        """
        version = self.in_force([day])[:, 0]
        started = self._started([day])[:, 0] > 0
        later = self._by_parts(version, np.flatnonzero(~started[self.shown]))
        others = np.delete(self.shown, [row for _, rows in later for row in rows.tolist()])
        per_batch = self._unfolded(con, version, day, others)[self.shown]
        for begins, rows in later:
            parts, users = self.in_force([begins])[:, 0], self.shown[rows]
            whole = self._unfolded(con, parts, begins, users)
            taken = self.bought[version[users]] + self._takes(version, parts)[users] @ whole
            order = np.arange(len(self.shown))
            order[rows] = len(order) + np.arange(len(rows))
            per_batch = sparse.vstack([per_batch, taken]).tocsr()[order]
        shown = version[self.shown]
        per_portion = sparse.diags_array(1 / self.portions[shown]) @ per_batch
        return DishesOnDay(
            quantities=per_portion.tocsr(),
            version=shown,
            labels=self.labels[shown],
            started=started[self.shown],
        )

    def _by_parts(self, version: Ints, late: Ints) -> list[tuple[date, Ints]]:
        """Return days on which some dishes begin, with their places among the dishes asked for.

        `late` are the places of those that had not begun. Only those count that have parts, and
        parts that were in other versions then than in `version`; dishes with the same versions of
        all parts come together.
        """
        late = late[np.isin(version[self.shown[late]], self.part_version)]
        if not len(late):
            return []
        days, at = np.unique(self.effective_from[version[self.shown[late]]], return_inverse=True)
        parts = np.unique(self.part_dish)
        then = self.in_force(days.tolist())[parts]
        _, first, alike = np.unique(then, axis=1, return_index=True, return_inverse=True)
        return [
            (days[place].item(), late[alike.ravel()[at] == group])
            for group, place in enumerate(first.tolist())
            if (then[:, place] != version[parts]).any()
        ]

    def _unfolded(self, con: Connection, version: Ints, day: date, asked: Ints) -> sparse.csr_array:
        """Return what a batch of each dish takes in `version`, the ones in force on a day.

        Raises RecipeRefused where one of `asked`, places of dishes, cannot be unfolded.
        """
        per_batch = self.bought[version]
        takes = self._takes(version, version)
        if takes.nnz:
            self._refuse_unfoldable(con, takes, day, asked)
        term = per_batch
        for _ in range(takes.shape[0] + 1):
            term = takes @ term
            if term.nnz == 0:
                break
            per_batch = per_batch + term
        return per_batch.tocsr()

    def _takes(self, version: Ints, parts: Ints) -> sparse.csr_array:
        """Return [dish][dish]: how many batches of one in `parts` one in `version` takes."""
        at = np.full(len(self.labels), -1)
        at[version] = np.arange(len(version))
        user = at[self.part_version]
        here = user >= 0
        sub = self.part_dish[here]
        size = np.where(
            self.in_portions[here],
            self.portions[parts[sub]],
            np.where(self.in_batches[here], 1.0, self.batch_weight[parts[sub]]),
        )
        shape = (len(version), len(version))
        return sparse.csr_array((self.part_amount[here] / size, (user[here], sub)), shape=shape)

    def _refuse_unfoldable(
        self, con: Connection, takes: sparse.csr_array, day: date, asked: Ints
    ) -> None:
        """Raise RecipeRefused for a circle, or a part by weight of a batch without one.

        The recipes are read again only then, for a sentence that names them.
        """
        uses = takes.copy()
        uses.data = np.ones_like(uses.data)
        reached = np.zeros(takes.shape[0])
        reached[asked] = 1.0
        depth, users = 0, len(np.unique(takes.nonzero()[0]))
        below = reached
        while below.any() and depth <= users:
            below = (below @ uses > 0).astype(float)
            reached = np.maximum(reached, below)
            depth += 1
        unweighed = (
            np.isnan(takes.data).any()
            and np.isnan(takes @ np.ones(len(reached)))[reached > 0].any()
        )
        if not (below.any() or unweighed):
            return
        recipes = read_recipes(con, self.dish_ids[asked].tolist())
        for dish_id in self.dish_ids[asked].tolist():  # one of them says it in a sentence
            recipes.per_portion(recipes.in_force(dish_id, day)[0], day)


def _with_nan(column: np.ma.MaskedArray) -> Floats:
    """Return a column of numbers, NaN where it has none."""
    filled: Floats = np.ma.filled(column.astype(float), np.nan)
    return filled


def _with_none(column: NDArray[np.object_]) -> NDArray[np.object_]:
    # not ma.filled: there a fill of None means the default, which is "?"
    filled = np.array(np.ma.getdata(column), dtype=object)
    filled[np.ma.getmaskarray(column)] = None
    return filled


def read_catalogue(con: Connection, dish_ids: Collection[int] | None) -> Catalogue:
    """Read the dishes (None: all, by name) and every dish they use. The order asked is kept."""
    wanted = None if dish_ids is None else list(dict.fromkeys(dish_ids))
    found = columns(con, "dishes/recipe_versions", {"dishes": wanted, "dish_key": None})
    version_rows = found["version_row"].astype(np.int64)
    dish_of = found["dish_id"].astype(np.int64)
    starts = np.flatnonzero(np.diff(dish_of, prepend=-1))
    ids = dish_of[starts]
    by_id = np.argsort(ids, kind="stable")
    lines, version = _lines(con, version_rows, everything=wanted is None)
    is_part = lines["sub_dish_id"] > 0
    ingredient_ids, column = np.unique(
        lines["ingredient_id"][~is_part].astype(np.int64), return_inverse=True
    )
    return Catalogue(
        dish_ids=ids,
        names=found["dish"][starts],
        shown=np.arange(len(ids))
        if wanted is None
        else by_id[np.searchsorted(ids[by_id], np.array(wanted, dtype=np.int64))],
        ingredient_ids=ingredient_ids,
        first=starts,
        effective_from=found["effective_from"].astype("datetime64[D]"),
        labels=found["version"],
        portions=found["portions"].astype(float),
        batch_weight=_with_nan(found["batch_weight_g"]),
        groups=_with_none(found["group"]),
        made_per_month=_with_nan(found["made_per_month"]),
        target=_with_nan(found["target"]),
        bought=sparse.csr_array(
            (lines["as_purchased"][~is_part].astype(float), (version[~is_part], column)),
            shape=(len(version_rows), len(ingredient_ids)),
        ),
        part_version=version[is_part],
        part_dish=by_id[np.searchsorted(ids[by_id], lines["sub_dish_id"][is_part])],
        part_amount=lines["amount"][is_part].astype(float),
        in_portions=lines["in_portions"][is_part].astype(bool),
        in_batches=lines["in_batches"][is_part].astype(bool),
    )


def _lines(con: Connection, version_rows: Ints, *, everything: bool) -> tuple[dict[str, Any], Ints]:
    """Return the lines of the versions as columns, and of each line the place of its version."""
    wanted = None if everything else version_rows.tolist()
    found = columns(con, "dishes/recipe_amounts", {"versions": wanted})
    by_row = np.argsort(version_rows, kind="stable")
    known = np.isin(found["version_row"], version_rows)  # the others are not in force any more
    lines = {name: column[known] for name, column in found.items()}
    return lines, by_row[np.searchsorted(version_rows[by_row], lines["version_row"])]
