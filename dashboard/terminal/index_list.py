"""The command that lists the official series of the book."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, the_book
from dashboard.terminal.text_table import text_table
from ingest.offices.facts.offices import office_of
from pricing.days import month_text

if TYPE_CHECKING:
    from pricing.contents.series import SeriesFacts


def index_list(json: Json = False) -> None:
    """List the official series of the book."""
    from pricing.contents.series import list_series

    found = list_series(the_book())
    answer(
        {"series": [series_json(each) for each in found]},
        lambda: series_list_text(found),
        as_json=json,
    )


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
