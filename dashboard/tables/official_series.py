"""What the page of official series says: the list, one series in full, its ladder, its use."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

import pandas as pd

from dashboard.tables.sought import holds_every_word
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from dashboard.words.series import (
    Uses,
    _until,
    months_old,
    office_words,
)
from ingest.offices.facts.offices import office_of
from pricing.contents.series import SeriesFacts, SeriesShown
from pricing.days import day_words, month_text, month_words
from pricing.prices.series_use import NO_USE

TITLE, ID, OFFICE, LAST, AGE = "Series", "Id", "Office", "Last month", "Months old"
NAMED, CLIMBING, HELD, REVISED = "Named by", "Climb to it", "Held", "Revised"
BASE, WIDER, FIRST, MONTHS, TERMS = "Reference", "Wider series", "First month", "Months", "Terms"


def chosen(
    all_series: Iterable[SeriesFacts], uses: Uses, *, text: str, only_used: bool
) -> list[SeriesFacts]:
    """Return the series whose title, id or office has every word of `text`: the most used first.

    Most used: by number of ingredients that name it, then of those that climb to it, then by id.
    """

    def rank(each: SeriesFacts) -> tuple[int, int, str]:
        use = uses.get(each.series, NO_USE)
        return -len(use.named_by), -len(use.climbing), each.series

    return [
        each
        for each in sorted(all_series, key=rank)
        if (each.series in uses or not only_used)
        and holds_every_word(f"{each.title} {each.series} {office_words(each.series)}", text)
    ]


def series_rows(all_series: Sequence[SeriesFacts], uses: Uses, on: date) -> pd.DataFrame:
    """Return one row a series: numbers and dates, ready for a table that sorts."""
    titles = {each.series: each.title for each in all_series}

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

    return pd.DataFrame([row(each) for each in all_series])


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


def ladder_lines(
    found: SeriesShown, all_series: Mapping[str, SeriesFacts], uses: Uses
) -> list[str]:
    """Return the rungs from the series itself upwards, as a numbered list of Markdown."""
    lines = []
    for number, (series, title) in enumerate(found.ladder, start=1):
        facts = all_series.get(series)
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


def series_frame(found: SeriesShown) -> pd.DataFrame:
    """Return month (datetime64), value, shown and run (a new one after each hole), by month."""
    months = pd.to_datetime([month for month, _ in found.months])
    frame = pd.DataFrame({"month": months, "value": [value for _, value in found.months]})
    number = frame["month"].dt.year * 12 + frame["month"].dt.month
    frame["run"] = (number.diff().fillna(1) != 1).cumsum()
    frame["shown"] = frame["month"].dt.strftime("%b %Y")
    return frame
