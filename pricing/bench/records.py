"""What the test bench answers with: a column for each recipe, and how it differs from the first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.contents.allergen_words import Told
from pricing.dishes.allergens import AllergensOfDish

CAUTION = (
    "Minutes, energy and pots are as the kitchen states them, of the dish and of every dish inside "
    "it, each made once; waiting for several things at once is shorter than their sum. Allergens "
    "are those of the ingredient records: check the labels."
)


@dataclass(frozen=True, kw_only=True)
class Stated(Answer):
    """A figure of a batch, added up over the dish and every dish inside it, each made once."""

    amount: float | None  # of those that state it; None: none does
    own: float | None  # of the dish itself
    unstated: tuple[str, ...]  # dishes that do not state it: the amount is then "at least"


@dataclass(frozen=True, kw_only=True)
class Marks(Answer):
    """What tasters gave a version, on a scale of their own."""

    given: tuple[float, ...]  # as written
    mean: float


@dataclass(frozen=True, kw_only=True)
class Difference(Answer):
    """One column less the first. None: one of the two is not known in full."""

    cost_per_portion: float | None
    minutes: float | None  # of work, per batch
    minutes_waiting: float | None
    energy_kwh: float | None
    pots: float | None
    mark: float | None  # of the means
    allergens_added: Told  # by the records, against the first
    allergens_removed: Told


@dataclass(frozen=True, kw_only=True)
class BenchColumn(Answer):
    """One recipe on the bench."""

    dish: str
    version: str
    version_in_force: bool  # is the version used the one in force on the day
    change: str | None  # what is otherwise than in the version: an exchange or an addition
    portions: float  # of a batch
    complete: bool  # false: the cost is "at least", the sum of the priced lines
    missing: tuple[str, ...]  # what has no price
    cost_per_portion: float
    display: dict[str, str]
    minutes: Stated  # of work
    minutes_waiting: Stated
    energy_kwh: Stated
    pots: Stated
    marks: Marks | None
    tasting_note: str | None
    allergens: AllergensOfDish
    against_first: Difference | None  # None: it is the first


@dataclass(frozen=True, kw_only=True)
class SideBySide(Answer):
    """Two to four recipes on one day."""

    on: date
    currency: str
    market: str  # whose prices were asked for: shop, trade or any
    complete: bool
    columns: tuple[BenchColumn, ...]
    caution: str
