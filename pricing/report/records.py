"""What the report of a kitchen says, and the evidence it rests on (contract §6)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from pricing.answer import Answer
from pricing.change.drivers import Drivers
from pricing.change.overview import DishThenAndNow
from pricing.dishes.drift import DriftPoint
from pricing.inflation.records import Inflation
from pricing.printed.records import CheckedFigure


@dataclass(frozen=True, kw_only=True)
class ReportedDish(Answer):
    """One dish: as it was first printed and now, and its cost month by month."""

    then_and_now: DishThenAndNow
    points: tuple[DriftPoint, ...]


@dataclass(frozen=True, kw_only=True)
class PriceUsed(Answer):
    """A price that a figure of the report rests on, as it was logged."""

    ingredient: str
    observed_on: date
    price: Decimal  # of the whole pack
    currency: str
    pack: str  # as written
    tax_pct: Decimal | None
    unit_price: float | None  # currency per base unit, as purchased, with tax
    base: str
    kind: str
    supplier: str | None
    product: str | None
    region: str | None
    source: str | None
    note: str | None
    file: str  # that brought it, and the line of it
    line: int | None
    load: int


@dataclass(frozen=True, kw_only=True)
class IndexUsed(Answer):
    """A value of an official series that a figure of the report rests on."""

    series: str
    month: str  # YYYY-MM, that was needed
    value_month: str  # that the value is of: an earlier one stands in where none was published
    value: float
    released_on: date | None  # None: not stated


@dataclass(frozen=True, kw_only=True)
class SeriesUsed(Answer):
    """An official series of the report."""

    series: str
    title: str | None
    base_label: str | None  # index reference period
    first_month: str  # YYYY-MM, of the months needed
    last_month: str
    months_used: int  # of which a value was needed
    released_on: date | None  # the latest release among them


@dataclass(frozen=True, kw_only=True)
class Report(Answer):
    """The inflation report of a kitchen on a day."""

    on: date
    currency: str
    market: str  # whose prices were asked for: shop, trade or any
    fresh_days: int
    tolerance_pct: float
    pantry_counted: bool  # in printed figures
    book_sha256: str  # of all that the book was told
    inflation: Inflation
    drivers: Drivers  # between the 15th of the first month and of the last
    dishes: tuple[ReportedDish, ...]  # by name
    figures: tuple[CheckedFigure, ...]  # printed and in force, the most misleading first
    drafts: tuple[str, ...]  # dishes that begin later, and are not in the report
    series: tuple[SeriesUsed, ...]
    prices: tuple[PriceUsed, ...]
    index_values: tuple[IndexUsed, ...]

    @property
    def corrections(self) -> tuple[CheckedFigure, ...]:
        """The figures that were wrong when they were costed."""
        return tuple(each for each in self.figures if each.then == "differs")
