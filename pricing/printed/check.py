"""Checks every published cost per portion: was it right when printed, and is it still."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import Settings, read_settings, rows
from pricing.clock import asked_day, today
from pricing.days import Day
from pricing.dishes.recipes import Recipes, read_recipes
from pricing.errors import InputRefused
from pricing.prices.evidence import Pair
from pricing.prices.rule import Rule, ask_pairs, grid_rows
from pricing.printed.gaps import Gap, Quantities, read_gaps
from pricing.series.many_months import Months, relative, usable_months

TOLERANCE_PCT = 5.0  # of the claimed figure
_SNAP = 1e-9  # a figure that differs by the tolerance to the last digit still holds


@dataclass(frozen=True, kw_only=True)
class ClaimCheck(Answer):
    """One published figure against its costings (contract §3). Money per portion, in `currency`."""

    dish: str
    version: str  # that the claim names
    published_on: date
    claimed: float
    currency: str
    recosted_then: float | None  # for the day it was published; None = a line has no price
    recosted_now: float | None  # for `on`
    error_pct: float | None  # (recosted_then ÷ claimed − 1) × 100
    drift_pct: float | None  # (recosted_now ÷ claimed − 1) × 100
    status: str  # holds, drifted, was wrong or cannot price
    rebased_food: float | None  # the claimed figure moved by the book's food-at-home series
    rebased_all: float | None  # and by its all-items series
    where: str | None
    note: str | None
    frozen: bool  # its evidence was kept when it was recorded
    gaps: tuple[Gap, ...]  # why it cannot be priced

    @property
    def misleads_pct(self) -> float:
        """By how much the printed figure is off, at its own date or now, whichever is more."""
        return max(abs(self.error_pct or 0.0), abs(self.drift_pct or 0.0))


@dataclass(frozen=True, kw_only=True)
class Claims(Answer):
    """Every published figure up to a day, those that mislead most first."""

    on: date
    tolerance_pct: float
    food_series: str | None
    all_items_series: str | None
    claims: tuple[ClaimCheck, ...]

    @property
    def complete(self) -> bool:
        return all(claim.status != "cannot price" for claim in self.claims)


def check_claims(
    book: Book, *, on: Day | None = None, tolerance_pct: float = TOLERANCE_PCT
) -> Claims:
    """Recost every figure published on or before `on` (None: today), for its own day and for `on`.

    The version is the one the claim names; its sub-recipes are in the version in force on each
    day. A claim is costed in its own currency; currencies are never converted.
    `cannot price`: a line has no price on one of the days; else `was wrong`: the costing for its
    own day differs from the claimed figure by more than the tolerance; else `drifted`: the costing
    for `on` does; else `holds`. All costings of one currency come from one run of the price rule.
    Raises DateRefused (a date after today), InputRefused (a tolerance below nothing),
    RecipeRefused, BookUnreadable.
    """
    on = today() if on is None else asked_day(on)
    if not 0 <= tolerance_pct < float("inf"):
        raise InputRefused(
            f"Found a tolerance of {tolerance_pct} %; expected a percentage from 0 up. "
            "Correct --tolerance."
        )
    with reading(book) as con:
        settings = read_settings(con)
        found = rows(con, "printed/claims_to_check", {"on": on})
        series = settings.food_series, settings.all_items_series
        checking = _Checking(
            settings=settings,
            recipes=read_recipes(con, {row["dish_id"] for row in found}),
            on=on,
            months=usable_months(con, series, {on, *(row["published_on"] for row in found)}),
            tolerance_pct=tolerance_pct,
        )
        checked = [
            claim
            for currency in dict.fromkeys(row["currency"] for row in found)
            for claim in checking.claims(
                con, currency, [row for row in found if row["currency"] == currency]
            )
        ]
    return Claims(
        on=on,
        tolerance_pct=tolerance_pct,
        food_series=settings.food_series,
        all_items_series=settings.all_items_series,
        claims=tuple(sorted(checked, key=_worst_first)),
    )


def _worst_first(claim: ClaimCheck) -> tuple[int, float, str, date]:
    group = {"holds": 2, "cannot price": 1}.get(claim.status, 0)
    return group, -claim.misleads_pct, claim.dish.casefold(), claim.published_on


@dataclass(frozen=True, kw_only=True)
class _Checking:
    """What every figure is checked against."""

    settings: Settings
    recipes: Recipes  # of the dishes with a figure
    on: date
    months: Months  # of the book's series
    tolerance_pct: float

    def claims(
        self, con: Connection, currency: str, found: Collection[dict[str, Any]]
    ) -> list[ClaimCheck]:
        """Check the figures of one currency by one run of the price rule."""
        rule = Rule.of(self.settings, currency=currency)
        taken = [
            (self._taken(row, row["published_on"]), self._taken(row, self.on)) for row in found
        ]
        pairs = {pair for ends in taken for end in ends for pair in end or ()}
        prices: dict[Pair, float | None] = {
            (row["ingredient_id"], row["on_date"]): row["unit_price"]
            for row in grid_rows(con, rule, ask_pairs(pairs))
        }
        missing = {pair for pair in pairs if prices[pair] is None}
        gaps = read_gaps(con, rule, self.recipes, missing)
        return [
            self._claim(row, _cost(then, prices), _cost(now, prices),
                        gaps.of_claim(row, then, now, self.on))
            for row, (then, now) in zip(found, taken, strict=True)
        ]  # fmt: skip

    def _claim(
        self, row: dict[str, Any], then: float | None, now: float | None, gaps: tuple[Gap, ...]
    ) -> ClaimCheck:
        claimed, currency, published_on = row["claimed"], row["currency"], row["published_on"]
        food = everything = None
        if currency == self.settings.currency:  # the book's series tell of its own currency
            food = self._moved(claimed, self.settings.food_series, published_on)
            everything = self._moved(claimed, self.settings.all_items_series, published_on)
        return ClaimCheck(
            dish=row["dish"],
            version=row["version"],
            published_on=published_on,
            claimed=claimed,
            currency=currency,
            recosted_then=then,
            recosted_now=now,
            error_pct=_percent(then, claimed),
            drift_pct=_percent(now, claimed),
            status=status(claimed, then, now, self.tolerance_pct),
            rebased_food=food,
            rebased_all=everything,
            where=row["published_where"],
            note=row["note"],
            frozen=row["frozen"],
            gaps=gaps,
        )

    def _moved(self, claimed: float, series: str | None, published_on: date) -> float | None:
        factor = relative(self.months, series, published_on, self.on)
        return None if factor is None else claimed * factor

    def _taken(self, row: Mapping[str, Any], day: date) -> Quantities | None:
        """Return what a portion of the claimed version takes; None: the book lost the version."""
        for version in self.recipes.versions.get(row["dish_id"], ()):
            if version.version == row["version"]:
                bought = self.recipes.per_portion(version, day)
                return {(each, day): quantity for each, quantity in bought.items()}
        return None


def status(
    claimed: float, then: float | None, now: float | None, tolerance_pct: float = TOLERANCE_PCT
) -> str:
    """Return how a claimed figure stands against the costings for its own day and for today.

    >>> status(1.00, 1.05, 1.05), status(1.00, 1.00, 1.06), status(1.00, 0.90, 1.00)
    ('holds', 'drifted', 'was wrong')
    """
    if then is None or now is None:
        return "cannot price"
    allowed = claimed * tolerance_pct / 100 + _SNAP
    if abs(then - claimed) > allowed:
        return "was wrong"
    return "drifted" if abs(now - claimed) > allowed else "holds"


def _percent(cost: float | None, claimed: float) -> float | None:
    return None if cost is None else (cost / claimed - 1) * 100


def _cost(taken: Quantities | None, prices: Mapping[Pair, float | None]) -> float | None:
    if taken is None:
        return None
    total = 0.0
    for pair, bought in taken.items():
        price = prices[pair]
        if bought is None or price is None:
            return None
        total += bought * price
    return total
