"""The records of the kitchen's own index: months, groups, what was left out, and the whole."""

from __future__ import annotations

from dataclasses import dataclass

from pricing.answer import Answer


@dataclass(frozen=True, kw_only=True)
class MonthIndex(Answer):
    """The kitchen's index in a month; the first month = 100. Rates are of the fixed recipes."""

    month: str
    # recipes of the first month (Laspeyres; a Lowe index between later months); None: no ingredient
    # is in the index, in any month
    index: float | None
    paasche: float | None  # recipes in force in this month; None: nothing of them is in the index
    fisher: float | None
    tornqvist: float | None
    rate_12_pct: float | None  # against the month a year before; None in the first year
    official_food: float | None  # the book's food-at-home series, first month = 100; None: the
    official_all: float | None  # series has no value of this very month
    observed: int  # ingredients of the index, by what their price in the month rests on
    bridged: int
    held: int  # an old price as it was, for want of a series


@dataclass(frozen=True, kw_only=True)
class GroupIndex(Answer):
    """A category, a group of dishes or a dish, first month to last. Contributions add up."""

    name: str | None  # None: ingredients without a category, dishes without a group
    index: float | None  # first month = 100; None: nothing of it is in the index
    share_from: float  # of the cost of the fixed recipes in the first month
    contribution: float  # points of the whole index
    rate_12_pct: float | None  # over the last 12 months
    contribution_12: float | None  # percentage points of the whole rate over the last 12 months
    complete: bool  # nothing of it was left out


@dataclass(frozen=True, kw_only=True)
class Matched(Answer):
    """One ingredient between the first and the last day, over matched sources only."""

    sources: int  # with a fresh price on both days
    relative: float | None  # geometric mean of their relatives; None without any
    chained: float | None  # over the sources matched from each day to the next; None: a link lacks
    links_missing: int  # steps from one day to the next on which no source is matched


@dataclass(frozen=True, kw_only=True)
class IngredientIndex(GroupIndex):
    """An ingredient, with what matched products say and its own official series."""

    category: str | None
    matched: Matched | None  # None: no product was seen
    official_relative: float | None
    series: str | None
    marked: bool  # its market was settled, so that all months have the same one if they can
    market: str | None  # that counts in all months; None: not marked, or each month has its own


@dataclass(frozen=True, kw_only=True)
class LeftOut(Answer):
    """An ingredient that the index does without."""

    ingredient: str
    months_missing: int  # without a price; 0: its quantity cannot be told
    dishes: int  # whose recipe of the first month takes it


@dataclass(frozen=True, kw_only=True)
class Inflation(Answer):
    """The kitchen's own index beside the official ones."""

    currency: str
    from_month: str  # "from" in JSON
    to_month: str  # "to" in JSON
    dishes: int
    # mean cost per portion of the fixed recipes, of what is in the index; None: nothing is
    cost_from: float | None
    cost_to: float | None
    change_pct: float | None
    rate_12_pct: float | None  # the last month against a year before
    food_series: str | None
    all_items_series: str | None
    months: tuple[MonthIndex, ...]
    # formula → index of the last month, first month = 100; None: it cannot be worked out; empty:
    # nothing is in the index
    formulas: dict[str, float | None]
    by_category: tuple[GroupIndex, ...]  # largest contribution first
    by_group: tuple[GroupIndex, ...]  # of dishes (of the versions at the end); () = none
    by_dish: tuple[GroupIndex, ...]
    by_ingredient: tuple[IngredientIndex, ...]
    left_out: tuple[LeftOut, ...]
    half_products: tuple[str, ...]  # dishes that do not count: only others take them
    remarks: tuple[str, ...] = ()

    @property
    def complete(self) -> bool:
        return not self.left_out

    def as_json(self) -> dict[str, object]:
        answer = super().as_json()
        del answer["remarks"]  # they go to stderr
        names = {"from_month": "from", "to_month": "to"}
        return {names.get(key, key): value for key, value in answer.items()}
