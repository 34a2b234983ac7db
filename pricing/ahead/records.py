"""What an outlook answers: ranges, the chance of a target, and the series they rest on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer


@dataclass(frozen=True, kw_only=True)
class Range(Answer):
    """Where the cost of a portion may end. Money in the answer's currency."""

    share: float  # of such forecasts that it is to hold: 0.5 or 0.8
    low: float
    high: float
    held: int  # of the past forecasts it was learned from, those that it would have held


@dataclass(frozen=True, kw_only=True)
class Reach(Answer):
    """How likely a target is reached."""

    amount: float  # per portion, in the answer's currency
    chance: float  # that the cost ends at or under it, 0 to 1


@dataclass(frozen=True, kw_only=True)
class Rung(Answer):
    """A series that moved an ingredient in some of the past changes looked at."""

    series: str
    title: str | None
    changes: int


@dataclass(frozen=True, kw_only=True)
class LeansOn(Answer):
    """The official series that an ingredient's outlook leans on."""

    ingredient: str
    series: str | None  # of the newest change; None: the book has none, so it moves as the rest
    title: str | None
    share: float  # of today's cost
    named: str | None  # the series that the ingredient names
    rungs: tuple[Rung, ...]  # of all changes behind the middle, the most used first


@dataclass(frozen=True, kw_only=True)
class Outlook(Answer):
    """What a portion may cost on a later day (contract §6)."""

    dish: str | None  # None: the mean of the kitchen's dishes
    version: str | None
    dishes: int  # that are in the mean
    currency: str
    market: str  # whose prices were asked for today
    today: date
    now: float  # cost per portion today
    on: date
    months: int  # ahead
    complete: bool  # false: all amounts are "at least", those of the priced lines
    missing: tuple[str, ...]  # what has no price: ingredients; of a mean, dishes
    ranges: tuple[Range, ...]  # 50 %, then 80 %
    reach: Reach | None  # None: no target was asked for
    forecasts: int  # of past months that the ranges were learned from
    history_from: str  # YYYY-MM of the first change behind the middle
    history_to: str  # YYYY-MM of the last value used
    series: tuple[LeansOn, ...]  # largest share first
