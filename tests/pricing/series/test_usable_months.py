"""Which months of a series can be used: its own, and three months without a value."""

from __future__ import annotations

from datetime import date

import pytest

from pricing.book.connect import Book, reading
from pricing.errors import SeriesRefused
from pricing.series.many_months import usable_months
from pricing.series.rebase import rebase
from tests.kitchen import make_book

JANUARY = date(2020, 1, 1)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    index = """
        series,month,value
        t:food,2020-01,100
        t:food,2020-06,120
    """
    return make_book(tmp_path_factory.mktemp("months"), {"index": index}, series=())


@pytest.mark.parametrize(
    ("month", "value"),
    [(1, 100), (4, 100), (5, None), (6, 120), (9, 120), (10, None)],  # by the rule: three months
)
def test_a_value_serves_its_month_and_the_three_after_it(
    book: Book, month: int, value: float | None
) -> None:
    day = date(2020, month, 1)
    with reading(book) as con:
        found = usable_months(con, ["t:food"], [day]).get(("t:food", day))
    assert (found and found.value) == value
    if value is None:
        with pytest.raises(SeriesRefused, match="or the 3 months before it"):
            rebase(book, 10.0, start=JANUARY, end=day, series="t:food")
    else:
        moved = rebase(book, 10.0, start=JANUARY, end=day, series="t:food")
        assert moved.result == pytest.approx(10.0 * value / 100)
