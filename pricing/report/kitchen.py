"""The inflation report of a kitchen: asks each question once and puts the answers together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from pricing.book.connect import Book, reading
from pricing.book.read import read_settings, rows
from pricing.change.drivers import rank_drivers
from pricing.change.overview import DishThenAndNow, then_and_now
from pricing.clock import asked_day, today
from pricing.days import Day, costing_days, month_range, month_text, read_month_of
from pricing.dishes.drift import drift_points
from pricing.dishes.recipes import find_dish
from pricing.errors import DateRefused, InputRefused
from pricing.inflation.measure import measure_inflation
from pricing.names import name_key
from pricing.prices.asked_rule import asked_rule
from pricing.printed.check import check_in
from pricing.report.evidence import Asked, evidence_of_report
from pricing.report.records import Report, ReportedDish


def kitchen_report(
    book: Book,
    dishes: Sequence[str] | None = None,
    *,
    start: Day | None = None,
    end: Day | None = None,
    on: Day | None = None,
) -> Report:
    """Return the inflation report of the dishes named (None or empty: all) on a day.

    `on`: whose prices are those of now (None: today). `start`, `end`: first and last month of the
    index and of each dish's course, YYYY-MM; unless stated the month of the oldest first printed
    figure, at least a year back, and the last month whose 15th has been. Drafts are left out, and
    half-products (others take them, and they were never printed) unless they are named.
    Raises UnknownName, DateRefused, InputRefused (no dish), RecipeRefused, BookUnreadable.
    """
    day = today() if on is None else asked_day(on)
    with reading(book) as con:
        ids = [find_dish(con, name) for name in dishes or ()]
        names = dict(con.execute("SELECT dish_id, name_key FROM dish").fetchall())
    wanted = {names[each] for each in ids}
    all_of_them = then_and_now(book, on=day)
    kept = [each for each in all_of_them if _counts(each, wanted)]
    if not kept:
        raise InputRefused(
            f"Found no dish to report on {day}; expected one that has begun. Load dishes, or name "
            "others."
        )
    named = [each.dish for each in kept] if wanted else None
    months = _months(kept, start, end, day)
    drafts = tuple(each.dish for each in all_of_them if each.draft)
    return _put_together(book, _Chosen(on=day, named=named, kept=kept, months=months), drafts)


@dataclass(frozen=True, kw_only=True)
class _Chosen:
    """What is reported on."""

    on: date
    named: list[str] | None  # None: all dishes
    kept: list[DishThenAndNow]
    months: list[date]  # the 15th of each


def _put_together(book: Book, chosen: _Chosen, drafts: tuple[str, ...]) -> Report:
    named, months = chosen.named, chosen.months
    first, last = month_text(months[0]), month_text(months[-1])
    inflation = measure_inflation(book, named, start=first, end=last)
    drift = drift_points(book, named, start=first, end=last)
    driven = rank_drivers(book, named, then=months[0], now=months[-1])
    points = {each.dish: each.points for each in drift.dishes}
    told = {each.dish for each in chosen.kept}
    with reading(book) as con:
        settings, checked = read_settings(con), check_in(con, chosen.on)
        figures = tuple(each for each in checked.in_force if each.dish in told)
        asked = Asked(
            on=chosen.on, days=months, dishes=chosen.kept, figures=figures, inflation=inflation,
            drivers=driven, settings=settings,
        )  # fmt: skip
        found = evidence_of_report(con, asked_rule(con, settings), asked)
        digest = str(rows(con, "report/book_digest", {})[0]["digest"])
    return Report(
        on=chosen.on,
        currency=settings.currency,
        market=settings.market,
        fresh_days=settings.fresh_days,
        tolerance_pct=checked.tolerance_pct,
        pantry_counted=checked.pantry_counted,
        book_sha256=digest,
        inflation=inflation,
        drivers=driven,
        dishes=tuple(ReportedDish(then_and_now=e, points=points[e.dish]) for e in chosen.kept),
        figures=figures,
        drafts=drafts,
        series=found.series,
        prices=found.prices,
        index_values=found.index_values,
    )


def _counts(each: DishThenAndNow, wanted: set[str]) -> bool:
    if each.draft:
        return False
    return name_key(each.dish) in wanted if wanted else not each.half_product


def _months(
    dishes: Sequence[DishThenAndNow], start: Day | None, end: Day | None, on: date
) -> list[date]:
    """Return the 15th of each month of the report. Raises DateRefused for fewer than two."""
    last = on.replace(day=1) if end is None else read_month_of(end)
    if start is None:
        year_ago = last.replace(year=last.year - 1)
        first = min([year_ago, *(each.then_on.replace(day=1) for each in dishes if each.printed)])
    else:
        first = read_month_of(start)
    days = costing_days(month_range(first, last), on)
    if len(days) < 2:
        raise DateRefused(
            f"Found the months {month_text(first)} to {month_text(last)}, of which {len(days)} can "
            "be costed; expected two at least, whose 15th has been. Choose an earlier --from."
        )
    return days
