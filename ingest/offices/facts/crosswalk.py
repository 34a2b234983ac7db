"""Judges whether two series may be linked: across classifications only along a reviewed table."""

from __future__ import annotations

from ingest.offices.facts.ladders import table_rows
from pricing.errors import InputRefused
from pricing.series.link import Judgement

_OLDER, _NEWER = "eu-hicp-v1", "eu-hicp"


def judge(
    older: tuple[str, str | None],
    newer: tuple[str, str | None],
    *,
    approximate: bool = False,
    reason: str | None = None,
) -> Judgement:
    """Return what is to be said of a link between two series, each (id, classification).

    Raises InputRefused for a pair that only its code, or nothing, holds together: between two
    versions of a European classification the reviewed table must have it, between others the
    user says `approximate` and why.
    """
    if _office(older[0]) == _OLDER and _office(newer[0]) == _NEWER:
        return _along_the_table(older[0], newer[0])
    if _office(older[0]) == _NEWER and _office(newer[0]) == _OLDER:
        raise InputRefused(
            f"Found {newer[0]} as the newer series; expected the older classification first. "
            "Change the two round."
        )
    differ = None not in (older[1], newer[1]) and older[1] != newer[1]
    if differ and not (approximate and reason):
        raise InputRefused(
            f"Found two classifications, {older[1]} and {newer[1]}; expected one, for the same "
            "code or title can mean other goods. Say --approximate and, in --reason, why they may "
            "be joined."
        )
    return Judgement(approximate=approximate or differ, reason=reason)


def _office(series: str) -> str:
    return series.partition(":")[0]


def _along_the_table(older: str, newer: str) -> Judgement:
    (area, _, code), (other, _, wanted) = (
        each.partition(":")[2].partition(".") for each in (older, newer)
    )
    if area != other:
        raise InputRefused(
            f"Found two countries, {area} and {other}; expected one. Correct one of the series."
        )
    found = [row for row in table_rows("crosswalk.csv") if row["older"] == code]
    for row in found:
        if row["newer"] == wanted:
            return Judgement(
                approximate=True,
                reason=f"{row['older_title']} → {row['newer_title']}: {row['words']}",
            )
    homes = "; ".join(f"{row['newer']} ({row['newer_title']}), {row['words']}" for row in found)
    raise InputRefused(
        f"Found {code} of version 1 and {wanted} of version 2, which the reviewed table does not "
        f"join; expected {homes or 'a food that the table has'}. The same code means other food in "
        "the two versions, so they are never joined by code."
    )
