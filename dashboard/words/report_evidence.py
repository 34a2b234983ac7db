"""The evidence of a report in words: every price, every series, every value of a series."""

from __future__ import annotations

from collections.abc import Iterator

from dashboard.words.document import Section, Table
from dashboard.words.figures import counted
from dashboard.words.series import office_words
from pricing.days import day_words
from pricing.money import exact_money
from pricing.report.records import IndexUsed, Report

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def evidence_sections(found: Report) -> Iterator[Section]:
    """Yield the lists of prices, of series and of their values."""
    prices = counted(len(found.prices), "price")
    yield Section(
        title="Evidence: prices",
        says=[f"{prices}, each on its day as it was logged. No figure rests on another one."],
        tables=[_prices(found)],
        breaks=True,
    )
    yield Section(
        title="Evidence: official series",
        says=[
            "Each value that a figure rests on is listed below. ° marks a month that was not "
            "published: the value of the last month before it stands in."
        ],
        tables=[_series(found), _values(found)],
        breaks=True,
    )


def _prices(found: Report) -> Table:
    rows = []
    for each in found.prices:
        tax = f" + {each.tax_pct.normalize():f} % tax" if each.tax_pct else ""
        rows.append(
            [
                each.ingredient,
                each.observed_on.isoformat(),
                exact_money(each.price, each.currency) + tax,
                each.pack,
                " ".join(filter(None, [each.supplier or "—", each.product])),
                each.kind,
                each.source or each.file,
            ]
        )
    headings = ["Ingredient", "Day", "Price", "Pack", "Where", "Kind", "Source"]
    return Table(headings=headings, rows=rows, right=(2,), says="Prices")


def _series(found: Report) -> Table:
    rows = [
        [
            each.series,
            each.title or "—",
            office_words(each.series),
            each.base_label or "—",
            f"{each.first_month} to {each.last_month}",
            f"{each.months_used:,}",
            day_words(each.released_on) if each.released_on else "day not stated",
        ]
        for each in found.series
    ]
    headings = ["Series", "Title", "Office", "Base", "Months", "Values", "Latest release"]
    return Table(headings=headings, rows=rows, right=(5,), says="Official series")


def _values(found: Report) -> Table:
    """Return a line a series and year, a column a month."""
    years: dict[tuple[str, int], dict[int, IndexUsed]] = {}
    for each in found.index_values:
        year, month = map(int, each.month.split("-"))
        years.setdefault((each.series, year), {})[month] = each
    rows = [
        [series, str(year), *(_value(own.get(month)) for month in range(1, 13))]
        for (series, year), own in years.items()
    ]
    return Table(
        headings=["Series", "Year", *_MONTHS],
        rows=rows,
        right=range(2, 14),
        says="Values of the series by month",
    )


def _value(each: IndexUsed | None) -> str:
    if each is None:
        return ""
    return f"{each.value:.6g}{'°' if each.value_month != each.month else ''}"
