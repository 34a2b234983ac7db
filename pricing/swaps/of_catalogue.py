"""Over all dishes: the swaps that would save most, and the dishes that cost more than they may."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings
from pricing.clock import asked_day, today
from pricing.days import Day
from pricing.dishes.counted import half_product_ids
from pricing.dishes.matrix import Catalogue, DishesOnDay, read_catalogue
from pricing.dishes.recipes import Recipes, read_recipes
from pricing.prices.asked_rule import asked_rule
from pricing.prices.rule import Rule
from pricing.swaps.dish_to_change import put_through
from pricing.swaps.in_force import Swap, dish_keys, swaps_in
from pricing.swaps.saving import savings_per_unit, unit_prices
from pricing.swaps.swap import SwapName
from pricing.swaps.target import ROUNDING

Floats = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class CatalogueSwap(SwapName, Answer):
    """A swap made in every dish in which it works. Money in the book's currency."""

    note: str | None
    dishes: int  # in which it works
    saving: float | None  # making each of them once, a whole batch; None: a price is missing
    saving_per_month: float | None  # over those that say how often they are made; None: none does
    most_in: str | None  # the dish in which a portion saves most
    most_per_portion: float | None


@dataclass(frozen=True, kw_only=True)
class OverTarget(Answer):
    """A dish that costs more than the target set for it. Money per portion."""

    dish: str
    version: str
    target: float
    cost_per_portion: float
    over: float
    complete: bool  # false: it costs at least so much


@dataclass(frozen=True, kw_only=True)
class CatalogueSwaps(Answer):
    """Swaps over all dishes, and dishes over their target."""

    on: date
    currency: str
    dishes: int  # that are summed: without half-products
    told_how_often: int  # dishes that say how often they are made
    swaps: tuple[CatalogueSwap, ...]  # the largest saving first: per month, where it is told
    targets: int  # dishes with a target
    over_target: tuple[OverTarget, ...]  # furthest over first


def catalogue_swaps(
    book: Book, *, on: Day, market: str | None = None, not_supplier: Sequence[str] = ()
) -> CatalogueSwaps:
    """Sum what each swap saves over all dishes, each in its version in force on a date.

    A half-product is not summed, unless a swap works in nothing else: what it takes is in the
    dishes that take it. Its target counts.
    Raises DateRefused (a date after today), RecipeRefused, BookUnreadable.
    """
    on = asked_day(on)
    with reading(book) as con:
        settings = read_settings(con)
        rule = asked_rule(con, settings, market=market, not_supplier=not_supplier)
        catalogue, swaps = read_catalogue(con, None).without_drafts(today())[0], swaps_in(con)
        if not catalogue.dishes:
            return _none(on, settings.currency)
        put = [s.substitute_dish_id for s in swaps if s.substitute_dish_id is not None]
        recipes = read_recipes(con, put)
        saving, _ = savings_per_unit(con, rule, swaps, recipes, [on])
        price = _prices(con, rule, catalogue, on)
        taken = catalogue.on(con, on)
        counts = ~np.isin(catalogue.dish_ids[catalogue.shown], list(half_product_ids(con)))
    sums = _Sums(
        catalogue=catalogue,
        taken=taken,
        recipes=recipes,
        columns=taken.quantities.tocsc(),
        keys=_keys(catalogue, taken),
        counts=counts,
        on=on,
    )
    found = [sums.over_all(swap, row[0]) for swap, row in zip(swaps, saving, strict=True)]
    return CatalogueSwaps(
        on=on,
        currency=settings.currency,
        dishes=int(counts.sum()),
        told_how_often=int(np.isfinite(catalogue.made_per_month[taken.version[counts]]).sum()),
        swaps=tuple(sorted((each for each in found if each.dishes), key=_most_first)),
        targets=int(np.isfinite(catalogue.target[taken.version]).sum()),
        over_target=_over_target(catalogue, taken, price),
    )


def _keys(catalogue: Catalogue, taken: DishesOnDay) -> list[frozenset[str]]:
    groups = catalogue.groups[taken.version]
    return [dish_keys(*each) for each in zip(catalogue.dishes, groups, strict=True)]


def dishes_over_target(
    book: Book, *, on: Day, market: str | None = None, not_supplier: Sequence[str] = ()
) -> tuple[OverTarget, ...]:
    """Return the dishes over their target, as `catalogue_swaps` tells them, without the swaps.

    Raises as `catalogue_swaps`.
    """
    on = asked_day(on)
    with reading(book) as con:
        rule = asked_rule(con, read_settings(con), market=market, not_supplier=not_supplier)
        catalogue = read_catalogue(con, None).without_drafts(today())[0]
        if not catalogue.dishes:
            return ()
        return _over_target(catalogue, catalogue.on(con, on), _prices(con, rule, catalogue, on))


def _prices(con: Connection, rule: Rule, catalogue: Catalogue, on: date) -> Floats:
    """Return what a base unit of each ingredient costs: [ingredient]; NaN = missing."""
    ids = catalogue.ingredient_ids.tolist()
    prices = unit_prices(con, rule, {(each, None) for each in ids}, [on])
    return np.array([prices[each, None][0] for each in ids])


def _none(on: date, currency: str) -> CatalogueSwaps:
    return CatalogueSwaps(
        on=on, currency=currency, dishes=0, told_how_often=0, swaps=(), targets=0, over_target=()
    )


def _most_first(swap: CatalogueSwap) -> tuple[bool, float, float, str, str]:
    month, once = swap.saving_per_month, swap.saving
    return once is None, -(month or 0.0), -(once or 0.0), swap.ingredient, swap.substitute


@dataclass(frozen=True, kw_only=True)
class _Sums:
    """The quantities of every dish, over which a swap is summed."""

    catalogue: Catalogue
    taken: DishesOnDay
    recipes: Recipes  # of the dishes that may take an ingredient's place
    columns: sparse.csc_array  # [dish][ingredient] per portion, as purchased; NaN = unknown
    keys: Sequence[frozenset[str]]  # [dish] under which a swap may name it
    counts: NDArray[np.bool_]  # [dish] is no half-product
    on: date

    def over_all(self, swap: Swap, per_unit: float) -> CatalogueSwap:
        """Return the sums of one swap; `per_unit` is what it saves per base unit (NaN: unknown)."""
        at = int(np.searchsorted(self.catalogue.ingredient_ids, swap.ingredient_id))
        dishes, quantity = np.empty(0, dtype=np.int64), np.empty(0)
        ids = self.catalogue.ingredient_ids
        if at < len(ids) and ids[at] == swap.ingredient_id:
            part = slice(self.columns.indptr[at], self.columns.indptr[at + 1])
            dishes, quantity = self.columns.indices[part], self.columns.data[part]
        barred = self._would_take_itself(swap)
        works = [
            place
            for place, dish in enumerate(dishes.tolist())
            if dish not in barred and swap.works(self.keys[dish])
        ]
        # one that works in half-products alone is still told, by what it saves in them
        here = [place for place in works if self.counts[dishes[place]]] or works
        dishes, quantity = dishes[here], np.nan_to_num(quantity[here])
        known = len(dishes) > 0 and not np.isnan(per_unit)
        per_portion = quantity * (per_unit if known else 0.0)
        version = self.taken.version[dishes]
        per_batch = per_portion * self.catalogue.portions[version]
        made = self.catalogue.made_per_month[version]
        stated = np.isfinite(made)
        most = int(np.argmax(per_portion)) if known else 0
        return CatalogueSwap(
            **swap.named(),
            note=swap.note,
            dishes=len(dishes),
            saving=float(per_batch.sum()) if known else None,
            saving_per_month=float((per_batch[stated] * made[stated]).sum())
            if known and stated.any()
            else None,
            most_in=self.catalogue.dishes[int(dishes[most])] if known else None,
            most_per_portion=float(per_portion[most]) if known else None,
        )

    def _would_take_itself(self, swap: Swap) -> set[int]:
        """Return the places, among those asked for, of dishes with one of `put_through` in them."""
        ids = put_through(swap, self.recipes, self.on)
        if not ids:
            return set()
        catalogue = self.catalogue
        barred = set(np.flatnonzero(np.isin(catalogue.dish_ids, list(ids))).tolist())
        in_force = catalogue.in_force([self.on])[:, 0].tolist()
        user_of = {version: dish for dish, version in enumerate(in_force)}
        uses = [
            (user_of[version], dish)
            for version, dish in zip(
                catalogue.part_version.tolist(), catalogue.part_dish.tolist(), strict=True
            )
            if version in user_of
        ]
        while more := {user for user, dish in uses if dish in barred} - barred:
            barred |= more
        return {at for at, dish in enumerate(catalogue.shown.tolist()) if dish in barred}


def _over_target(catalogue: Catalogue, taken: DishesOnDay, price: Floats) -> tuple[OverTarget, ...]:
    """Return the dishes over their target, furthest first. `price`: [ingredient]; NaN = missing."""
    target = catalogue.target[taken.version]
    quantity = taken.quantities.copy()
    unknown = np.isnan(quantity.data)
    gaps = quantity.copy()
    gaps.data = np.where(unknown, 1.0, np.isnan(price)[quantity.indices].astype(float))
    quantity.data = np.where(unknown, 0.0, quantity.data)
    cost = quantity @ np.nan_to_num(price)
    complete = np.asarray(gaps.sum(axis=1)).ravel() == 0
    over = np.flatnonzero(cost - target > ROUNDING)
    return tuple(
        OverTarget(
            dish=catalogue.dishes[dish],
            version=str(taken.labels[dish]),
            target=float(target[dish]),
            cost_per_portion=float(cost[dish]),
            over=float(cost[dish] - target[dish]),
            complete=bool(complete[dish]),
        )
        for dish in sorted(over.tolist(), key=lambda dish: target[dish] - cost[dish])
    )
