"""Examines a book: can every row be read, is it as it was stored, does it all fit together."""

from __future__ import annotations

from dataclasses import dataclass

import duckdb

from pricing.book.connect import Book, reading, writing
from pricing.book.derive import refresh_prices
from pricing.book.keeping import check_rows, check_structure


@dataclass(frozen=True, kw_only=True)
class CheckReport:
    """What an examination of a book came to."""

    problems: tuple[str, ...]  # sentences: found, expected, remedy; none = the book is sound
    counts: dict[str, int]  # table → rows that could be read


def check(book: Book, *, upgrade: bool = False) -> CheckReport:
    """Examine the book and return what is wrong with it; nothing is changed.

    With `upgrade` the missing structure steps are taken first, and the kept prices, which are
    derived, are derived anew when they are not what the observations say.
    Raises BookUnreadable when the file cannot be opened as a book at all.
    """
    if upgrade:
        with writing(book) as con:
            if any(check_rows.prices(con)):
                refresh_prices(con)
    counts: dict[str, int] = {}
    with reading(book) as con:
        problems = [*check_structure.steps(con), *check_structure.objects(con)]
        unreadable = list(check_rows.unreadable(con, counts))
        if unreadable:  # the questions below would stumble over the same damage
            return CheckReport(problems=(*problems, *unreadable), counts=counts)
        for examine in (
            check_structure.constraints,
            check_rows.batches,
            check_rows.fetched,
            check_rows.references,
            check_rows.names,
            check_rows.settings,
            check_rows.circles,
            check_rows.prices,
        ):
            try:
                problems += examine(con)
            except (duckdb.CatalogException, duckdb.BinderException):
                if not problems:  # otherwise it is the missing or altered table named above
                    raise
    return CheckReport(problems=tuple(problems), counts=counts)
