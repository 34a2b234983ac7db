"""The command that shows one official series in full."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from dashboard.terminal.options import ChartFile, Json
from dashboard.terminal.output import answer, refuse_chart, remark, the_book
from dashboard.terminal.text_table import listing, text_table
from dashboard.words.figures import counted
from ingest.offices.facts.offices import office_of
from pricing.days import day_words, month_text, month_words

if TYPE_CHECKING:
    from pricing.contents.series import Release, SeriesFacts, SeriesShown


def index_show(
    series: str,
    chart: ChartFile = None,
    json: Json = False,
) -> None:
    """Show one series: its ladder, its values, what was revised."""
    from pricing.contents.series import show_series

    refuse_chart(chart)
    found = show_series(the_book(), series)
    if chart is not None and found.months:
        from dashboard.terminal.chart_file import save_series_chart

        save_series_chart(found, chart)
        remark(f"Drew {chart}.")
    answer(found, lambda: series_text(found), as_json=json)


_RECENT = 24  # months shown


_MOST_REVISED = 12  # months listed


def series_text(found: SeriesShown) -> str:
    """Return one series: what it is, its ladder, its last two years, what was revised."""
    facts = found.facts
    adjusted = {True: "seasonally adjusted", False: "not seasonally adjusted", None: "not stated"}
    office = office_of(facts.series)
    pairs = [
        ("Series", facts.series),
        ("Title", facts.title or "—"),
        ("Office", office.name if office else "—"),
        ("Licence", (office.licence if office else None) or "—"),
        ("Ladder", " → ".join(title or series for series, title in found.ladder)),
        ("Classification", facts.classification or "—"),
        ("Reference period", facts.base_label or "not stated"),
        ("Season", adjusted[facts.seasonally_adjusted]),
        ("Months", _months(facts)),
        ("Ingredients", f"{facts.ingredients}, and {facts.leaning} from narrower series"),
        ("Months revised", f"{facts.revised}"),
    ]
    if facts.note:
        pairs.append(("Made of", facts.note))
    if found.link and found.link["reason"]:
        pairs.append(("Why", str(found.link["reason"])))
    pairs += [("Fetched", f"{each['fetched_at']} {each['url']}") for each in found.fetched]
    rows = [[month_text(month), f"{value:g}"] for month, value in found.months[-_RECENT:]]
    parts = [listing(pairs)]
    if found.revisions:
        parts.append(_revisions(found.revisions))
    if rows:
        parts.append(text_table(["Month", "Value"], rows, right=(1,)))
    return "\n\n".join(parts)


def _months(facts: SeriesFacts) -> str:
    if facts.first_month is None or facts.last_month is None:
        return "none"
    span = f"{month_words(facts.first_month)} to {month_words(facts.last_month)}"
    by = ", each month with the value of its quarter" if facts.frequency == "quarterly" else ""
    return f"{facts.months:,}, {span}{by}"


def _revisions(found: Sequence[Release]) -> str:
    months: dict[str, list[str]] = {}
    for each in found:
        when = f" ({day_words(each.released_on)})" if each.released_on else ""
        months.setdefault(month_text(each.month), []).append(f"{each.value:g}{when}")
    shown = list(months.items())[-_MOST_REVISED:]
    rows = [[month, " → ".join(values)] for month, values in shown]
    left = len(months) - len(shown)
    more = f"\n… and {counted(left, 'earlier month')}; --json lists all." if left else ""
    return text_table(["Revised", "From → to"], rows) + more
