"""What a shop at the till answers with: packs, ingredients, dishes and their sums."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer


@dataclass(frozen=True, kw_only=True)
class PackBought(Answer):
    """One kind of pack to put into the basket. Money in the shop's currency, tax included."""

    pack: str  # as written
    size: float  # in the ingredient's base unit
    count: int
    price: float  # of one; moved like the ingredient's price when `moved`
    price_seen: float  # of one, as it was seen
    cost: float  # of all `count`
    supplier: str | None
    product: str | None
    seen_on: date
    age_days: int  # on − seen_on; negative when only a later price exists
    moved: bool
    factor: float | None  # price ÷ price_seen, when moved


@dataclass(frozen=True, kw_only=True)
class ItemBought(Answer):
    """One ingredient of the shop, over all dishes. Amounts in `base`, as purchased."""

    ingredient: str
    base: str
    needed: float | None  # None: a line of it cannot be turned into the base unit
    pantry: bool  # all of it is for store-cupboard lines
    pantry_needed: float  # the part of `needed` that is
    plate_cost: float | None  # of what is needed, at the costing rule's unit price
    packs: tuple[PackBought, ...]  # empty: no pack can be bought
    bought: float  # what the packs hold
    cost: float | None  # at the till
    left_over: float | None
    left_over_value: float | None  # at what the packs cost
    left_over_share: float | None  # of what is bought
    basis: str  # of the price: observed, bridged or missing, as in a costing
    series: str | None
    series_title: str | None
    anchors: tuple[date, ...]  # the days whose prices the series moved, earlier first
    months: tuple[str, ...]
    filled: tuple[str, ...]
    held_at: str | None
    reason: str | None  # why there is no pack, or why an old price was held as it was


@dataclass(frozen=True, kw_only=True)
class PantryItem(Answer):
    """What store-cupboard lines take of one ingredient, where they are not counted."""

    ingredient: str
    base: str
    needed: float | None  # in base, as purchased
    plate_cost: float | None


@dataclass(frozen=True, kw_only=True)
class ShopDish(Answer):
    """One dish of the shop and its cost on the plate, by the costing rule."""

    dish: str
    version: str
    version_in_force: bool
    batches: float
    portions: float  # of all batches
    complete: bool  # every line of the dish has a price, pantry lines included
    cost_per_batch: float
    cost_per_portion: float


@dataclass(frozen=True, kw_only=True)
class Till(Answer):
    """A shop for some dishes on a date. Money in `currency`."""

    on: date
    currency: str
    supplier: str | None  # the only one that was asked for
    pantry: bool  # store-cupboard lines are counted
    complete: bool  # false: some item has no pack, and the sums are "at least"
    cost: float  # at the till
    left_over_value: float
    left_over_share: float | None  # of `cost`; None: nothing is bought
    plate_cost: float  # of the counted lines, by the costing rule
    portions: float  # of all dishes
    cost_per_portion: float  # at the till
    plate_cost_per_portion: float
    display: dict[str, str]
    dishes: tuple[ShopDish, ...]
    ingredients: tuple[ItemBought, ...]
    not_counted: tuple[PantryItem, ...]
    without_pack: tuple[str, ...]  # ingredients for which no pack was found
