"""What a reprint round answers (contract §6)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from pricing.answer import Answer


@dataclass(frozen=True, kw_only=True)
class PriceToCheck(Answer):
    """An ingredient whose price is worth a look, and where it was seen last."""

    ingredient: str
    supplier: str | None  # of the last price seen
    last_price: Decimal | None  # of the whole pack, as seen; None: never seen
    currency: str
    pack: str | None  # as written
    seen_on: date | None
    age_days: int | None
    worth: float  # share × off_pct, summed over the figures: percent points of a figure
    figures: int  # that rest on it
    share: float  # of the cost of these figures, the mean; 1 where it has no price
    off_pct: float  # how far off its price may be; 100 where it has none
    product: str | None
    kind: str | None
    region: str | None
    tax_pct: Decimal | None


@dataclass(frozen=True, kw_only=True)
class Part(Answer):
    """What one ingredient did to a figure. Currency per portion."""

    ingredient: str
    effect: float


@dataclass(frozen=True, kw_only=True)
class DishToReprint(Answer):
    """One dish: its printed figure, what it costs now, and the figure to print. Per portion.

    `change` = `printed_off` + `price_effect` + `recipe_effect`, where nothing is left out.
    """

    dish: str
    version: str  # to print: in force on the day of the reprint, or the one already on its way
    currency: str
    portions: float  # per batch
    printed: float | None  # in force; None: never printed
    printed_version: str | None
    published_on: date | None
    costed_on: date | None
    recosted_now: float | None  # `version` at prices of the day asked about; None: a price lacks
    new_figure: Decimal | None  # by the house's rules
    sentence: str | None  # to print
    change: float | None  # recosted_now − printed
    printed_off: float | None  # what it cost when it was costed − printed: rounding, or an error
    price_effect: float | None  # the recipe as printed, by prices
    recipe_effect: float | None  # the rework, at prices now
    by_price: tuple[Part, ...]  # largest first
    by_recipe: tuple[Part, ...]
    left_out: tuple[str, ...]  # ingredients that cannot be compared
    missing: tuple[str, ...]  # ingredients without a price now
    other_market: tuple[str, ...]  # ingredients whose prices then and now are of two markets

    @property
    def stands(self) -> bool:
        """Tell whether the figure in print is the one that would be printed now."""
        if self.printed is None or self.new_figure is None:
            return False
        return abs(float(self.new_figure) - self.printed) < 1e-9


@dataclass(frozen=True, kw_only=True)
class Correction(Answer):
    """A printed figure in force that was wrong when it was costed. Per portion."""

    dish: str
    version: str
    published_on: date
    costed_on: date
    where: str | None
    currency: str
    printed: float
    as_printed: str | None
    known_then: float
    off_then_pct: float


@dataclass(frozen=True, kw_only=True)
class Reprint(Answer):
    """Everything that must happen before dishes are printed again, in order."""

    on: date  # whose prices
    by: date | None  # when it is to be printed
    tolerance_pct: float
    check: tuple[PriceToCheck, ...]  # worth most first
    dishes: tuple[DishToReprint, ...]  # those that moved most first
    corrections: tuple[Correction, ...]  # worst first
