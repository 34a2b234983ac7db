"""Official series, as a cook reads them in a terminal: the list, one in full, links and fetches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from dashboard.answers import listing
from dashboard.text_table import text_table
from dashboard.words import counted
from ingest.offices.facts.offices import office_of
from ingest.offices.suggest import Suggested
from pricing.contents.series import Release, SeriesFacts, SeriesShown
from pricing.days import day_words, month_text, month_words
from pricing.series.link import Linked

_RECENT = 24  # months shown
_MOST_REVISED = 12  # months listed


def series_json(each: SeriesFacts) -> dict[str, Any]:
    """Return a series with its office and the terms of use."""
    office = office_of(each.series)
    return {
        **each.as_json(),
        "office": office.name if office else None,
        "licence": office.licence if office else None,
    }


def series_list_text(found: Sequence[SeriesFacts]) -> str:
    """Return the official series with their months, bases and who leans on them."""
    if not found:
        return "The book holds no official series. Load one with `portiondrift index load FILE`."
    rows = [
        [
            each.series,
            "—" if each.first_month is None else month_text(each.first_month),
            "—" if each.last_month is None else month_text(each.last_month),
            each.last_released_on.isoformat() if each.last_released_on else "",
            each.base_label or "",
            str(each.ingredients),
            each.parent or "",
            _title(each),
        ]
        for each in found
    ]
    table = text_table(
        ["Series", "From", "To", "Released", "Base", "Ingr.", "Wider", "Title"], rows, right=(5,)
    )
    return "\n".join([table, "", *_terms(found)])


def _title(each: SeriesFacts) -> str:
    marks = [
        "by quarter" if each.frequency == "quarterly" else "",
        "seasonally adjusted" if each.seasonally_adjusted else "",
    ]
    said = ", ".join(filter(None, marks))
    return f"{each.title or ''}{f' ({said})' if said else ''}"


def _terms(found: Sequence[SeriesFacts]) -> list[str]:
    offices = {office.key: office for each in found if (office := office_of(each.series))}
    return [
        f"{office.key}: {office.name}" + (f"; {office.licence}" if office.licence else "")
        for office in offices.values()
    ]


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


def linked_text(found: Linked) -> str:
    """Return what a link came to."""
    stored = (
        "The book had it already, exactly so."
        if found.batch is None
        else f"Stored as batch {found.batch}; `undo {found.batch}` takes it back."
    )
    months = found.first_month
    if found.last_month != found.first_month:
        months += f" to {found.last_month}"
    kind = "approximately " if found.approximate else ""
    how = (
        f"{found.older} re-referenced to {months}=100"
        if found.older == found.newer
        else f"{found.older} and {found.newer}, {kind}linked over {months}, "
        f"spread {found.spread_pct:.2f} %"
    )
    return f"{found.series}: {how}, factor {found.factor:.6g}.\n{stored}"


def fetched_text(fetched: Sequence[Mapping[str, Any]]) -> str:
    """Return what was asked for and what came."""
    lines = [
        f"  {each['url']}\n  {each['size_bytes']:,} bytes, SHA-256 {each['sha256'][:16]}…"
        for each in fetched
    ]
    return "\n".join(["Kept as received:", *lines])


def suggested_text(found: Sequence[Suggested]) -> str:
    """Return ingredients with the series that may move their prices, best first."""
    if not found:
        return "Every ingredient names a series. Ask for one: `portiondrift index suggest NAME`."
    rows = []
    for each in found:
        name = each.ingredient
        for best in each.suggestions:
            rows.append([name, best.series, f"{best.score:.2f}", best.last_month or "", best.title])
            name = ""
        if not each.suggestions:
            rows.append([name, "—", "", "", "nothing in the book's titles fits"])
    table = text_table(["Ingredient", "Series", "Fit", "To", "Title"], rows, right=(2,))
    return (
        f"{table}\n\nNothing is changed. To take them: `index suggest --write FILE`, look through "
        "FILE, then `load ingredients FILE --replace`."
    )
