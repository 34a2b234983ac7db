"""What stands around a picture for print: title, finding, how its marks are read, source, date."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from dashboard.words.figures import listed
from dashboard.words.series import NO_OFFICE, office_words
from pricing.days import day_words


@dataclass(frozen=True, kw_only=True)
class Caption:
    """The words of one picture. The unit is the title of its axis."""

    title: str  # what it shows
    finds: str  # in a sentence
    reads: str = ""  # how its marks are read
    source: str


DRIFT_READS = (
    "Solid line and points: mostly from prices seen. Dashed line: mostly estimated from official "
    "prices. Diamonds: figures as printed."
)
WATERFALL_READS = "Solid bars are prices, striped bars the recipe; grey is the cost of a portion."
DRIVERS_READS = "Solid bars are prices, striped bars recipes."
SEASON_READS = "The cheapest months are filled."
INFLATION_READS = (
    "Solid line: this kitchen; dashed where most of its prices were not seen but estimated from "
    "official prices. Dots: food prices. Dashes and dots: all items."
)


def source_words(on: date, series: Iterable[str | None] = ()) -> str:
    """Return where a picture's figures are from, with the day it was drawn."""
    names = dict.fromkeys(office_words(each) for each in series if each is not None)
    offices = [name for name in names if name != NO_OFFICE]
    official = f"; official price series of {listed(offices)}" if offices else ""
    return f"Source: the price book of this kitchen{official}. Drawn on {day_words(on)}."
