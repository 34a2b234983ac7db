"""Joining series of the book: over stored months only, along a reviewed table, and undoable."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from ingest.load import undo
from ingest.offices.facts.crosswalk import judge
from ingest.offices.facts.ladders import rung, table_rows
from pricing.book.connect import Book
from pricing.book.keeping.check import check
from pricing.contents.series import list_series, show_series
from pricing.dishes.cost import cost_dish
from pricing.errors import InputRefused, SeriesRefused, UnknownName
from pricing.series.link import link_series, re_reference_series
from pricing.series.rebase import rebase
from tests.kitchen import load, make_book

YEAR = [date(2025, month, 1) for month in range(1, 13)]
OLD = "series,month,value,title,classification\n" + "".join(
    f"own:OLD,{month:%Y-%m},{value},Butter,A\n"
    for month, value in [
        (date(2019, 1, 1), 100),
        (date(2020, 1, 1), 120),
        *((m, 150) for m in YEAR),
    ]
)
NEW = "series,month,value,title,classification\n" + "".join(
    f"own:NEW,{month:%Y-%m},{value},Butter,A\n"
    for month, value in [*((m, 75) for m in YEAR), (date(2026, 8, 1), 90)]
)


@pytest.fixture
def book(kitchen: Book) -> Book:
    for text in (OLD, NEW):
        assert load(kitchen, "index", text).problems == ()
    return kitchen


def values(book: Book, series: str) -> dict[str, float]:
    return {f"{month:%Y-%m}": value for month, value in show_series(book, series).months}


def test_the_joined_series_is_the_older_times_the_factor_then_the_newer(book: Book) -> None:
    found = link_series(book, "own:OLD", "own:NEW", months=[YEAR[-1]])
    assert (found.series, found.factor, found.spread_pct) == ("linked:own:NEW", 0.5, 0)
    held = values(book, "linked:own:NEW")
    assert held["2019-01"] == 50  # 100 × 0.5
    assert held["2025-11"] == 75  # 150 × 0.5
    assert held["2026-08"] == 90
    moved = rebase(book, 1.0, start=date(2020, 1, 1), end=date(2026, 8, 1), series=found.series)
    assert moved.factor == pytest.approx(90 / 60)  # 120 × 0.5 = 60
    assert moved.approximate is False
    assert check(book).problems == ()


def test_it_follows_its_sources_without_being_made_again(book: Book) -> None:
    series = link_series(book, "own:OLD", "own:NEW", months=YEAR).series
    load(book, "index", "series,month,value\nown:NEW,2026-09,91\nown:OLD,2018-12,98\n")
    held = values(book, series)
    assert (held["2026-09"], held["2018-12"]) == (91, 49)


def test_linking_again_adds_nothing_and_undo_takes_it_back(book: Book) -> None:
    first = link_series(book, "own:OLD", "own:NEW", months=YEAR)
    assert link_series(book, "own:OLD", "own:NEW", months=YEAR).load is None
    assert first.load is not None
    undo(book, first.load)
    assert "linked:own:NEW" not in {each.series for each in list_series(book)}
    assert check(book).problems == ()


def test_a_source_cannot_be_taken_from_under_a_link(book: Book) -> None:
    link_series(book, "own:OLD", "own:NEW", months=YEAR)
    with pytest.raises(InputRefused, match="still used by the rows of load"):
        undo(book, 2)  # the load of own:OLD


def test_a_third_series_joins_a_joined_one(book: Book) -> None:
    link_series(book, "own:OLD", "own:NEW", months=YEAR)
    load(book, "index", "series,month,value\nown:THIRD,2026-08,180\nown:THIRD,2026-09,200\n")
    found = link_series(book, "linked:own:NEW", "own:THIRD", months=[date(2026, 8, 1)])
    held = values(book, found.series)
    # 100 × 0.5 × 2, 75 × 2, then the third itself
    assert (held["2019-01"], held["2025-01"], held["2026-08"], held["2026-09"]) == (
        100, 150, 180, 200,
    )  # fmt: skip


def test_months_that_one_of_them_lacks_are_refused(book: Book) -> None:
    with pytest.raises(SeriesRefused, match=r"no value of the older series for August 2026"):
        link_series(book, "own:OLD", "own:NEW", months=[date(2026, 8, 1)])
    with pytest.raises(UnknownName, match="own:OLDE"):
        link_series(book, "own:OLDE", "own:NEW", months=YEAR)
    with pytest.raises(InputRefused, match="twice"):
        link_series(book, "own:OLD", "own:OLD", months=YEAR)
    with pytest.raises(InputRefused, match="Found values of its own"):
        link_series(book, "own:OLD", "own:NEW", months=YEAR, series="own:OLD")


def test_a_spread_above_half_a_percent_is_said(book: Book) -> None:
    load(book, "index", "series,month,value\nown:ODD,2025-11,75\nown:ODD,2025-12,76\n")
    found = link_series(book, "own:OLD", "own:ODD", months=YEAR[-2:])
    assert found.spread_pct == pytest.approx(100 * (76 / 75 - 1))
    assert "more than 0.5 %" in " ".join(found.remarks)


def test_a_new_reference_period(book: Book) -> None:
    found = re_reference_series(book, "own:OLD", months=YEAR)
    assert found.series == "linked:own:OLD"
    held = values(book, found.series)
    assert (held["2019-01"], held["2025-06"]) == (pytest.approx(100 / 1.5), pytest.approx(100))
    assert show_series(book, found.series).facts.base_label == "2025=100"


def test_a_dish_is_bridged_over_a_joined_series(tmp_path: Path) -> None:
    files = {
        "ingredients": "ingredient,base,series\nbutter,g,linked:own:NEW\n",
        "prices": "ingredient,date,price,currency,pack\nbutter,2020-01-10,2.00,EUR,250 g\n",
        "dishes": "dish,version,effective_from,portions,ingredient,quantity,unit\n"
        "toast,1,2019-01-01,1,butter,10,g\n",
        "index": OLD,
    }
    book = make_book(tmp_path, files, currency="EUR", measures="metric")
    load(book, "index", NEW)
    link_series(book, "own:OLD", "own:NEW", months=YEAR)
    (line,) = cost_dish(book, "toast", on=date(2026, 8, 15)).lines
    assert (line.basis, line.series) == ("bridged", "linked:own:NEW")
    assert line.factor == pytest.approx(1.5)  # 90 ÷ (120 × 0.5)


V1, V2 = "eu-hicp-v1:IE.{}", "eu-hicp:IE.{}"


def test_butter_goes_to_butter_and_never_to_its_old_code() -> None:
    found = judge((V1.format("CP01151"), "1"), (V2.format("CP01152"), "2"))
    assert found.approximate
    assert found.reason is not None
    assert found.reason.startswith("Butter → Butter and other oils")
    with pytest.raises(InputRefused, match=r"never joined by code") as refused:
        judge((V1.format("CP01151"), "1"), (V2.format("CP01151"), "2"))
    assert "expected CP01152 (Butter and other oils" in str(refused.value)


def test_other_classifications_need_a_reason() -> None:
    with pytest.raises(InputRefused, match="two classifications, A and B"):
        judge(("own:A", "A"), ("own:B", "B"))
    found = judge(("own:A", "A"), ("own:B", "B"), approximate=True, reason="same shop survey")
    assert (found.approximate, found.reason) == (True, "same shop survey")
    assert judge(("own:A", "A"), ("own:B", "A")).approximate is False


@pytest.mark.parametrize(
    ("older", "newer", "said"),
    [
        (V1.format("CP01147"), "eu-hicp:FR.CP01148", "two countries"),
        (V2.format("CP01148"), V1.format("CP01147"), "Change the two round"),
        (V1.format("CP01118"), V2.format("CP01119"), "a food that the table has"),
    ],
)
def test_what_the_table_does_not_join(older: str, newer: str, said: str) -> None:
    with pytest.raises(InputRefused, match=said):
        judge((older, "1"), (newer, "2"))


def test_the_reviewed_table_has_the_titles_of_both_lists() -> None:
    for row in table_rows("crosswalk.csv"):
        before, after = rung("eu-hicp-v1", row["older"]), rung("eu-hicp", row["newer"])
        assert before is not None
        assert after is not None
        assert (before.title, after.title) == (row["older_title"], row["newer_title"])
        assert row["words"]
