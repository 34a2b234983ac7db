"""What the page of official series says: the list, one series in full, its ladder, its use."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

import pandas as pd

from dashboard.page_text import plain
from dashboard.words import counted
from ingest.offices.facts.offices import office_of
from pricing.contents.series import SeriesFacts, SeriesShown
from pricing.days import day_words, month_text, month_words
from pricing.prices.series_use import NO_USE, SeriesUse

TITLE, ID, OFFICE, LAST, AGE = "Series", "Id", "Office", "Last month", "Months old"
NAMED, CLIMBING, HELD, REVISED = "Named by", "Climb to it", "Held", "Revised"
BASE, WIDER, FIRST, MONTHS, TERMS = "Reference", "Wider series", "First month", "Months", "Terms"
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


def chosen(
    held: Iterable[SeriesFacts], uses: Uses, *, text: str, only_used: bool
) -> list[SeriesFacts]:
    """Return the series whose title, id or office has every word of `text`: the most used first.

    Most used: by number of ingredients that name it, then of those that climb to it, then by id.
    """
    sought = text.casefold().split()

    def rank(each: SeriesFacts) -> tuple[int, int, str]:
        use = uses.get(each.series, NO_USE)
        return -len(use.named_by), -len(use.climbing), each.series

    return [
        each
        for each in sorted(held, key=rank)
        if (each.series in uses or not only_used)
        and all(
            word in f"{each.title} {each.series} {office_words(each.series)}".casefold()
            for word in sought
        )
    ]


def series_rows(held: Sequence[SeriesFacts], uses: Uses, on: date) -> pd.DataFrame:
    """Return one row a series: numbers and dates, ready for a table that sorts."""
    titles = {each.series: each.title for each in held}

    def row(each: SeriesFacts) -> dict[str, object]:
        use, office = uses.get(each.series, NO_USE), office_of(each.series)
        return {
            TITLE: each.title or each.series,
            ID: each.series,
            LAST: each.last_month,
            AGE: None if each.last_month is None else months_old(each.last_month, on),
            NAMED: len(use.named_by),
            CLIMBING: len(use.climbing),
            HELD: len(use.held),
            REVISED: each.revised,
            OFFICE: office_words(each.series),
            BASE: each.base_label,
            WIDER: titles.get(each.parent) or each.parent if each.parent else None,
            FIRST: each.first_month,
            MONTHS: each.months,
            TERMS: office.licence if office else None,
        }

    return pd.DataFrame([row(each) for each in held])


def summary_words(held: Sequence[SeriesFacts], uses: Uses, on: date) -> str:
    """Return how many series of which offices there are, and how old the newest month is."""
    offices: dict[str, list[SeriesFacts]] = {}
    for each in held:
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
    held_now = len({name for use in uses.values() for name in use.held})
    words = f"The book holds {'; '.join(parts)}."
    if named:
        words += f" {counted(named, 'ingredient names', 'ingredients name')} one of them."
    if held_now:
        words += (
            f" Today {counted(held_now, 'old price is', 'old prices are')} moved up to the last "
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


def fact_rows(found: SeriesShown, on: date) -> pd.DataFrame:
    """Return what a series is, as a table of two columns of Markdown."""
    facts, office = found.facts, office_of(found.facts.series)
    adjusted = {True: "seasonally adjusted", False: "not seasonally adjusted", None: "not stated"}
    span = "none"
    if facts.first_month is not None and facts.last_month is not None:
        span = f"{facts.months:,}: {month_words(facts.first_month)} to "
        span += _until(facts.last_month, on)
    if facts.frequency == "quarterly":
        span += "; published by the quarter, each month has the value of its quarter"
    parent = found.ladder[1] if len(found.ladder) > 1 else None
    pairs = [
        ("Id", facts.series),
        ("Office", office.name if office else "not known"),
        ("Terms of use", (office.licence if office else None) or "not known"),
        ("Months", span),
        ("Next wider series", (parent[1] or parent[0]) if parent else "none"),
        ("Index reference period", facts.base_label or "not stated"),
        ("Season", adjusted[facts.seasonally_adjusted]),
        ("Classification", facts.classification or "not stated"),
    ]
    if facts.last_released_on is not None:
        pairs.append(("Last release", day_words(facts.last_released_on)))
    if facts.note:
        pairs.append(("Made of", facts.note))
    if found.link and found.link["reason"]:
        pairs.append(("Why it may be joined", str(found.link["reason"])))
    pairs += [
        ("Fetched", f"{each['fetched_at'][:10]} from {each['url']}") for each in found.fetched
    ]
    return pd.DataFrame([(name, plain(words)) for name, words in pairs], columns=["About it", " "])


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
    if len(names) == 1:
        return names[0]
    if len(names) > MOST_NAMED:
        return f"{', '.join(names[:MOST_NAMED])} and {len(names) - MOST_NAMED} others"
    return f"{', '.join(names[:-1])} and {names[-1]}"


def ladder_lines(found: SeriesShown, held: Mapping[str, SeriesFacts], uses: Uses) -> list[str]:
    """Return the rungs from the series itself upwards, as a numbered list of Markdown."""
    lines = []
    for number, (series, title) in enumerate(found.ladder, start=1):
        facts = held.get(series)
        if facts is None:
            lines.append(f"{number}. {plain(series)}, not in the book: the ladder ends below it")
            continue
        words = [f"**{plain(title or series)}** ({plain(series)})"]
        if facts.first_month is None or facts.last_month is None:
            words.append("no values yet")
        else:
            words.append(f"{month_text(facts.first_month)} to {month_text(facts.last_month)}")
        if number == 1:
            words.append("this series")
        use = uses.get(series, NO_USE)
        if use.named_by:
            words.append(f"named by {counted(len(use.named_by), 'ingredient')}")
        lines.append(f"{number}. {', '.join(words)}")
    return lines


def revised_rows(found: SeriesShown) -> pd.DataFrame:
    """Return the months that were revised, newest first: the values in order of their release."""
    months: dict[date, list[str]] = {}
    for each in found.revisions:
        when = f" ({day_words(each.released_on)})" if each.released_on else ""
        counts = ", in force" if each.counts else ""
        months.setdefault(each.month, []).append(f"{each.value:g}{when}{counts}")
    return pd.DataFrame(
        [
            {"Month": month_words(month), "Values, the oldest release first": plain(" → ".join(v))}
            for month, v in sorted(months.items(), reverse=True)
        ]
    )
