"""What the check of printed figures answers (contract §3)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.printed.gaps import Gap
from pricing.printed.verdict import AGREES, CANNOT_PRICE, HOLDS


@dataclass(frozen=True, kw_only=True)
class CheckedFigure(Answer):
    """One printed figure against its costings. Money per portion, in `currency`."""

    dish: str
    version: str  # that the figure names
    published_on: date  # may lie ahead: the issue is not out yet
    costed_on: date  # the day whose prices it rests on
    printed: float
    as_printed: str | None  # where the words say more than the number: "about 3.50"
    currency: str
    recipe_day: date  # whose sub-recipes count, in all costings: that of `costed_on`
    known_then: float | None  # for `costed_on`, by what had been seen by then; None: cannot price
    recosted_then: float | None  # for `costed_on`, by all that is known now
    recosted_now: float | None  # for the day asked about
    off_then_pct: float | None  # (known_then ÷ printed − 1) × 100
    off_now_pct: float | None  # (recosted_now ÷ printed − 1) × 100
    then: str  # agrees, differs or cannot price
    now: str  # holds, stale or cannot price
    rebased_food: float | None  # the printed figure moved by the book's food series since costed_on
    rebased_all: float | None  # and by its all-items series
    superseded_by: date | None  # when a later figure of the dish was published; None: in force
    where: str | None
    note: str | None
    frozen: bool  # its evidence was kept when it was recorded
    gaps: tuple[Gap, ...]  # why it cannot be priced
    row: int  # of the book, by which it is taken back

    @property
    def misleads_pct(self) -> float:
        """By how much the printed figure is off, on its own day or now, whichever is more."""
        return max(abs(self.off_then_pct or 0.0), abs(self.off_now_pct or 0.0))

    @property
    def priced(self) -> bool:
        """Tell whether it could be costed for both days."""
        return CANNOT_PRICE not in (self.then, self.now)

    @property
    def right(self) -> bool:
        """Tell whether it agreed with its own day and holds now."""
        return (self.then, self.now) == (AGREES, HOLDS)


@dataclass(frozen=True, kw_only=True)
class CheckedFigures(Answer):
    """Every printed figure costed up to a day: those in force, then the superseded ones.

    In both, those that mislead most come first.
    """

    on: date
    tolerance_pct: float
    pantry_counted: bool  # lines marked pantry are in the costings
    food_series: str | None
    all_items_series: str | None
    figures: tuple[CheckedFigure, ...]

    @property
    def complete(self) -> bool:
        return all(figure.priced for figure in self.figures)

    @property
    def in_force(self) -> tuple[CheckedFigure, ...]:
        return tuple(figure for figure in self.figures if figure.superseded_by is None)

    @property
    def superseded(self) -> tuple[CheckedFigure, ...]:
        return tuple(figure for figure in self.figures if figure.superseded_by is not None)
