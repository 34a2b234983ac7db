"""Says what official series the book holds, how old they are, and who leans on them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from dashboard.words.figures import counted, listed
from ingest.offices.facts.offices import office_of
from pricing.days import month_words
from pricing.prices.series_use import SeriesUse

if TYPE_CHECKING:
    from pricing.contents.series import SeriesFacts

NO_OFFICE = "—"


MOST_NAMED = 10  # ingredients in a sentence


Uses = Mapping[str, SeriesUse]


def months_old(last_month: date, on: date) -> int:
    """Return how many months lie between the last month of a series and the month of a day.

    >>> months_old(date(2026, 8, 1), date(2026, 11, 24))
    3
    """
    return (on.year - last_month.year) * 12 + on.month - last_month.month


def office_words(series: str) -> str:
    """Return the office that a series id names, or a dash."""
    office = office_of(series)
    return office.name if office else NO_OFFICE


def summary_words(all_series: Sequence[SeriesFacts], uses: Uses, on: date) -> str:
    """Return how many series of which offices there are, and how old the newest month is."""
    offices: dict[str, list[SeriesFacts]] = {}
    for each in all_series:
        offices.setdefault(office_words(each.series), []).append(each)
    parts = []
    for name, members in offices.items():
        many = counted(len(members), "series", "series")
        of = f"{many} of your own" if name == NO_OFFICE else f"{many} of the {name}"
        months = [each.last_month for each in members if each.last_month is not None]
        parts.append(
            f"{of}, up to {_until(max(months), on)}" if months else f"{of}, without values"
        )
    named = len({name for use in uses.values() for name in use.named_by})
    standing = len({name for use in uses.values() for name in use.held})
    words = f"The book holds {'; '.join(parts)}."
    if named:
        words += f" {counted(named, 'ingredient names', 'ingredients name')} one of them."
    if standing:
        words += (
            f" Today {counted(standing, 'old price is', 'old prices are')} moved up to the last "
            "month of a series, and held there until the office publishes the next."
        )
    return words


def _until(month: date, on: date) -> str:
    return f"{month_words(month)} ({age_in_months(month, on)})"


def age_in_months(month: date, on: date) -> str:
    """Return how long ago a month was: this month, 3 months ago."""
    old = months_old(month, on)
    if old <= 0:
        return "this month"
    if old < 24:
        return f"{counted(old, 'month')} ago"
    return f"{counted(old // 12, 'year')} ago"


def use_sentences(use: SeriesUse, facts: SeriesFacts, on: date) -> list[str]:
    """Return who leans on a series, and whose price stands at its last month."""
    if not (use.named_by or use.climbing):
        return ["No ingredient of the book leans on it."]
    said = []
    if use.named_by:
        said.append(f"Named by {_names(use.named_by)}.")
    if use.climbing:
        said.append(
            f"A rung above the series of {_names(use.climbing)}: it is used where the narrower "
            "ones lack a month."
        )
    if not use.moved:
        said.append("Today it moves no price: those are fresh, or another rung moves them.")
        return said
    said.append(f"Today it moves the old price of {_names(use.moved)}.")
    if use.held and facts.last_month is not None:
        which = "All of them stand" if use.held == use.moved else f"{_names(use.held)} stand"
        said.append(
            f"{which[:1].upper()}{which[1:]} where {month_words(facts.last_month)} left them: the "
            f"series has no newer month, and {month_words(on)} is asked for."
        )
    return said


def all_names(use: SeriesUse) -> str:
    """Return every ingredient that leans on a series, where `use_sentences` does not name all."""
    if max(len(names) for names in use.values()) <= MOST_NAMED:
        return ""
    parts = (("Name it", use.named_by), ("Climb to it", use.climbing), ("Moved by it", use.moved))
    return "\n\n".join(f"{how}: {', '.join(names)}." for how, names in parts if names)


def _names(names: Sequence[str]) -> str:
    left = len(names) - MOST_NAMED
    return listed([*names[:MOST_NAMED], f"{left} others"] if left > 0 else names)
