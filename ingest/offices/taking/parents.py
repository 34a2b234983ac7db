"""Hangs series on their office's ladder: each under the nearest wider one that is at hand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from ingest.offices.facts.ladders import nearest_above, rung
from ingest.offices.reading.collect import Gathered
from pricing.names import name_key


@dataclass(frozen=True, kw_only=True)
class Place:
    """Where a series stands."""

    office: str
    rung: str  # key on the office's ladder
    context: str  # which of the office's ladders: country, region, season, frequency
    below: bool = False  # it has no rung of its own and stands below this one


def place_in_file(each: Gathered) -> Place | None:
    """Return where a series of a file stands."""
    if each.rung is None:
        return None
    office = each.series.partition(":")[0]
    return Place(office=office, rung=each.rung, context=each.context, below=each.below_rung)


def place_in_book(series: str, title: str | None) -> Place | None:
    """Return where a series of the book stands, from its id and, where need be, its title.

    >>> place_in_book("eu-hicp:IE.CP01148", None)
    Place(office='eu-hicp', rung='CP01148', context='IE', below=False)
    """
    office, _, rest = series.partition(":")
    label, _, area = (title or "").rpartition(", ")
    if office in ("uk-ons", "us-bls"):
        key, context = rest, ""
    elif office in ("eu-hicp", "eu-hicp-v1"):
        context, _, key = rest.partition(".")
    elif office == "ca-statcan":
        key, context = label, area
    elif office == "au-abs":
        code, _, context = rest.partition(".")
        key = label if rung(office, label) else code
    else:
        return None
    found = rung(office, key)
    return None if found is None else Place(office=office, rung=found.key, context=context)


class Ladders:
    """The series of the book and of a file, by their places."""

    def __init__(self, book: Mapping[str, Mapping[str, Any]], file: Iterable[Gathered]) -> None:
        self.places: dict[str, Place] = {}
        for series, facts in book.items():
            if place := place_in_book(series, facts["title"]):
                self.places[series] = place
        for each in file:
            if place := place_in_file(each):
                self.places[each.series] = place
        self._there: dict[tuple[str, str], dict[str, str]] = {}  # ladder → folded rung → series
        for series, place in self.places.items():
            if not place.below:
                ladder = self._there.setdefault((place.office, place.context), {})
                ladder[name_key(place.rung)] = series

    def parent(self, series: str) -> str | None:
        """Return the nearest wider series, or None when none is at hand."""
        place = self.places.get(series)
        if place is None:
            return None
        there = self._there.get((place.office, place.context), {})
        if place.below and name_key(place.rung) in there:
            return there[name_key(place.rung)]
        key = nearest_above(place.office, place.rung, there)
        return None if key is None else there[name_key(key)]
