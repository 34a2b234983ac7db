"""Reads each office's ladder: which series is wider than which, from an item up to all items."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from ingest.official.bundled import bundled_series
from pricing.names import name_key
from pricing.reference.table import read_table

_FILES = {
    "uk-ons": "ladder_uk.csv",
    "eu-hicp": "ladder_ecoicop2.csv",
    "eu-hicp-v1": "ladder_ecoicop1.csv",
    "ca-statcan": "ladder_canada.csv",
    "au-abs": "ladder_australia.csv",
}
_BY_NAME = ("ca-statcan", "au-abs")  # whose rungs are known by their name


@dataclass(frozen=True, kw_only=True)
class Rung:
    """One place on an office's ladder."""

    key: str  # as the office writes it: a code, or a name where codes are not known
    title: str
    parent: str | None  # key of the next wider rung
    code: str | None = None  # number of the series, where the key is a name
    coicop: str | None = None  # class number in the title, where the office prints it


def table_rows(name: str) -> list[dict[str, str]]:
    """Return the rows of a table of this folder."""
    return read_table(name, __package__)


@cache
def ladder(office: str) -> Mapping[str, Rung]:
    """Return the rungs of an office by folded key; empty when none is described."""
    if office == "us-bls":
        return {
            name_key(item): Rung(
                key=item,
                title=each.title.removesuffix(", US city average"),
                parent=None if each.parent is None else each.parent.partition(":")[2],
            )
            for each in bundled_series()
            for item in [each.series.partition(":")[2]]
        }
    if office not in _FILES:
        return {}
    return {
        name_key(row["key"]): Rung(
            key=row["key"],
            title=row.get("title") or row["key"],
            parent=row["parent"] or None,
            code=row.get("code") or row.get("vector") or None,
            coicop=row.get("coicop"),
        )
        for row in table_rows(_FILES[office])
    }


def rung(office: str, key: str | None) -> Rung | None:
    """Return a rung by its key, in any case, or (where keys are names) by its number."""
    if key is None:
        return None
    found = ladder(office).get(name_key(key))
    if found is None and office in _BY_NAME:
        found = next((each for each in ladder(office).values() if each.code == key), None)
    return found


@cache
def area_names() -> Mapping[str, str]:
    """Return Eurostat's area codes and their names."""
    return {row["code"]: row["name"] for row in table_rows("areas.csv")}


def above(office: str, key: str) -> Iterator[Rung]:
    """Yield the rungs above a key, nearest first."""
    here = rung(office, key)
    while here is not None and here.parent is not None:
        here = rung(office, here.parent)
        if here is not None:
            yield here


def nearest_above(office: str, key: str, there: Collection[str]) -> str | None:
    """Return the key of the nearest wider rung that is among `there` (folded keys).

    >>> nearest_above("eu-hicp", "CP01148", {"cp01", "total"})
    'CP01'
    """
    return next((each.key for each in above(office, key) if name_key(each.key) in there), None)
