"""Says what a user should know of series just taken: adjusted, revised, ended, by the quarter."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from statistics import fmean
from typing import Any

from ingest.offices.reading.collect import Gathered
from ingest.offices.reading.periods import MONTHS, month_number
from ingest.text.sentences import counted, plural
from pricing.book.connect import Connection
from pricing.book.read import read_settings
from pricing.days import month_words

_ENDED = 18  # months without a value after which a series is said to have ended
_NEAR_100 = 1.5  # percent by which the mean of the reference year may miss its 100


def remarks_on(
    con: Connection,
    series: Sequence[Gathered],
    in_book: Mapping[str, Mapping[str, Any]],
    revised: Mapping[str, Sequence[tuple[date, float, float]]],
    today: date,
) -> Iterator[str]:
    """Yield the remarks, in sentences."""
    yield from _adjusted(series)
    yield from _by_quarter(series)
    yield from _wrong_bases(series)
    for each in series:
        yield from _holes(each)
        before = in_book.get(each.series, {}).get("base_label")
        if before and each.base_label and before != each.base_label:
            yield (
                f"{each.series} was re-referenced from {before} to {each.base_label}: all its "
                "months came anew, and ratios inside it stay as they were but for rounding."
            )
        elif changes := revised.get(each.series):
            yield _revision(each.series, changes)
    yield from _ended(series, today)
    undated = sum(each.released_on is None for each in series)
    if undated:
        yield (f"{_series(undated)} without a release day in the file; today stands for it.")
    yield from _unset(con, series)


def _series(many: int) -> str:
    return "1 series" if many == 1 else f"{many:,} series"


def _adjusted(series: Sequence[Gathered]) -> Iterator[str]:
    named = [each.series for each in series if each.seasonally_adjusted]
    if named:
        yield (
            f"Seasonally adjusted: {', '.join(named[:5])}{' and others' if named[5:] else ''}. "
            "Offices recompute such series for years back; the unadjusted one is the better guide "
            "to prices paid."
        )


def _by_quarter(series: Sequence[Gathered]) -> Iterator[str]:
    many = sum(each.frequency == "quarterly" for each in series)
    if many:
        yield f"{_series(many)} by the quarter: each month carries the value of its quarter."


def _holes(each: Gathered) -> Iterator[str]:
    months = sorted({month_number(month) for month, *_ in each.values()})
    missing = months[-1] - months[0] + 1 - len(months)
    if 0 < missing <= 120:
        yield (
            f"{each.series} has {counted(missing, 'month')} without a value inside "
            "it; the month before stands in there, up to three months, and is marked."
        )


def _revision(series: str, changes: Sequence[tuple[date, float, float]]) -> str:
    month, before, after = changes[-1]
    return (
        f"{series}: {len(changes)} {plural(len(changes), 'month')} revised, the last "
        f"{month_words(month)} from {before:g} to {after:g}. The former values are kept; see "
        f"`portiondrift index show {series}`."
    )


def _wrong_bases(series: Sequence[Gathered]) -> Iterator[str]:
    off = [(each, mean) for each in series if (mean := _off_base(each)) is not None]
    if off:
        each, mean = off[0]
        others = f", and {len(off) - 1} others like it" if off[1:] else ""
        yield (
            f"{each.series} calls itself {each.base_label}, but its mean over that time is "
            f"{mean:.1f}{others}. Check that it is the series you want; only ratios inside a "
            "series count here."
        )


def _off_base(each: Gathered) -> float | None:
    """Return the mean over the reference period when it is not about what the label says."""
    found = re.fullmatch(r"(?:([A-Z][a-z]{2})[a-z]* )?(\d{4})=(1000?)", each.base_label or "")
    if found is None:
        return None
    first, many = int(found[2]) * 12, 12
    if found[1]:
        first, many = first + MONTHS[found[1].lower()] - 1, 1
    values = {month_number(month): value for month, value, *_ in each.values()}
    there = [values[month] for month in range(first, first + many) if month in values]
    if len(there) < many or abs(fmean(there) / int(found[3]) - 1) * 100 <= _NEAR_100:
        return None
    return fmean(there)


def _ended(series: Sequence[Gathered], today: date) -> Iterator[str]:
    for each in series:
        last = max(month for month, *_ in each.values())
        if month_number(today) - month_number(last) > _ENDED:
            yield (
                f"{each.series} ends in {month_words(last)}; after that the next wider series of "
                "its ladder is used, and said so."
            )


def _unset(con: Connection, series: Sequence[Gathered]) -> Iterator[str]:
    """Say how to choose the book's own food and all-items series, where it has none."""
    if read_settings(con).food_series is None and any(each.rung for each in series):
        yield (
            "The book has no food series yet by which printed figures are rebased; choose one with "
            "`portiondrift setting food_series ID` (and all_items_series)."
        )
