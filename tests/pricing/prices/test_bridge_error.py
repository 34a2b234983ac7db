"""How far a bridge may be off: held-out prices by pencil, and the band around a cost."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pricing.book.connect import Book, writing
from pricing.dishes.cost import cost_dish
from pricing.errors import UnknownName
from pricing.prices.bridge_check import check_bridges
from pricing.prices.bridge_error import ENOUGH, gap_class, national_errors
from tests.kitchen import make_book

INDEX = """
    series,month,value,title,parent
    own:V,2019-01,100,Vegetables,own:F
    own:V,2019-07,110,Vegetables,own:F
    own:V,2020-01,120,Vegetables,own:F
    own:F,2019-01,100,Food,
    own:F,2020-01,100,Food,
"""
FILES = {
    "index": INDEX,
    "ingredients": "ingredient,base,series\nleek,g,own:V\nbarley,g,\n",
    "prices": """
        ingredient,date,price,currency,pack
        leek,2019-01-01,1.00,USD,100 g
        leek,2019-07-02,1.20,USD,100 g
        leek,2020-01-01,1.32,USD,100 g
        barley,2019-01-01,2.00,USD,100 g
        barley,2019-07-01,2.00,USD,100 g
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        broth,1,2018-01-01,2,leek,200,g
        broth,1,2018-01-01,2,barley,100,g
        broth,1,2018-01-01,2,leek,100,g
    """,
}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES, series=())


def test_prices_are_held_out_one_at_a_time(book: Book) -> None:
    """Pencil. 2 July 2019 is held out: from 1.00 alone the series gives 1.00 × 110/100 = 1.10, off
    by 0.10/1.20; holding is off by 0.20/1.20. 1 January 2020 is held out: from 1.20 alone 1.20 ×
    120/110, off by |1.309 − 1.32|/1.32; holding by 0.12/1.32.
    Between the two ends, 182 of 365 days in: the bend begins after 45 of them, so 1.10 ×
    (1.32/1.20)^(137/320); the straight line is at 1 + 0.32 × 182/365.
    """
    found = check_bridges(book)
    rows = {(row.ends, row.up_to_months): row for row in found.own}
    assert set(rows) == {("one", 6), ("two", 12)}
    alone = rows["one", 6]
    assert alone.cases == 2  # 182 and 183 days are six months
    off = [0.10 / 1.20, abs(1.20 * 120 / 110 - 1.32) / 1.32]
    assert alone.bridge_pct == pytest.approx(100 * sum(off) / 2)
    assert alone.hold_pct == pytest.approx(100 * (0.20 / 1.20 + 0.12 / 1.32) / 2)
    between = rows["two", 12]
    assert between.cases == 1
    assert between.bridge_pct == pytest.approx(100 * abs(1.10 * 1.1 ** (137 / 320) / 1.20 - 1))
    assert between.line_pct == pytest.approx(100 * abs((1 + 0.32 * 182 / 365) / 1.20 - 1))
    assert found.days_held_out == 2  # barley names no series


def test_the_outcome_is_kept_once_and_costings_use_it_where_it_has_enough(book: Book) -> None:
    national = national_errors()["one", 6].pct
    on = date(2020, 6, 15)  # half a year after the last price of leek
    before = cost_dish(book, "broth", on=on).lines[0]
    assert (before.typical_error_pct, before.typical_error_from) == (national, "national")

    assert check_bridges(book).kept
    assert check_bridges(book).kept
    with writing(book) as con:
        assert con.execute("SELECT count(DISTINCT run) FROM bridge_check").fetchone() == (1,)
        con.execute(
            "INSERT INTO bridge_check (run, checked_at, ends, up_to_months, cases, bridge_pct, "
            "hold_pct, line_pct) VALUES (2, '2026-01-01', 'one', 6, $many, 7.5, 9, 9)",
            {"many": ENOUGH},
        )
    after = cost_dish(book, "broth", on=on).lines[0]
    assert (after.typical_error_pct, after.typical_error_from) == (7.5, "book")


def test_the_band_of_a_cost(book: Book) -> None:
    """Pencil. Both leek lines rest on one price, so their errors add up; barley is held, not
    bridged, and has none.
    """
    found = cost_dish(book, "broth", on=date(2020, 6, 15))
    leek, barley, more = found.lines
    assert barley.typical_error_pct is None
    assert leek.cost is not None
    assert more.cost is not None
    pct = national_errors()["one", 6].pct
    band = found.band
    assert band is not None
    assert band.typical_error == pytest.approx((leek.cost + more.cost) / 2 * pct / 100)
    assert band.share_bridged == pytest.approx((leek.cost + more.cost) / found.cost_per_batch)
    assert band.low == pytest.approx(found.cost_per_portion - band.typical_error)
    assert band.high == pytest.approx(found.cost_per_portion + band.typical_error)
    assert band.from_book is False
    assert found.as_json()["band"]["typical_error_pct"] == band.typical_error_pct


def test_a_cost_without_a_bridge_has_no_band(book: Book) -> None:
    assert cost_dish(book, "broth", on=date(2019, 7, 10)).band is None
    assert cost_dish(book, "broth", on=date(2020, 6, 15), basis="observed").band is None


def test_one_series_alone_is_checked_and_nothing_is_kept(book: Book) -> None:
    found = check_bridges(book, "own:V")
    assert sum(row.cases for row in found.own) == 3
    assert found.kept is False
    assert check_bridges(book, "own:F").own == ()
    with pytest.raises(UnknownName):
        check_bridges(book, "own:W")


def test_a_gap_belongs_to_the_class_it_does_not_exceed() -> None:
    assert [gap_class(months) for months in (1, 3, 3.04, 3.1, 96, 97)] == [3, 3, 3, 6, 96, None]
