"""Published figures checked: a small kitchen worked out by pencil."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book, writing
from pricing.errors import DateRefused, InputRefused
from pricing.printed.check import status
from tests.kitchen import make_book

ON = date(2022, 1, 20)
FILES = {
    "ingredients": """
        ingredient,base
        flour,g
        butter,g
        saffron,g
    """,
    "prices": """
        ingredient,date,price,currency,pack
        flour,2020-01-10,1.00,USD,1 kg
        flour,2022-01-10,1.20,USD,1 kg
        butter,2020-01-10,8.00,USD,1 kg
        butter,2022-01-10,10.00,USD,1 kg
        flour,2020-01-10,0.90,EUR,1 kg
        flour,2022-01-10,0.90,EUR,1 kg
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        loaf,1,2019-01-01,1,flour,1,kg
        loaf,2,2021-01-01,1,flour,500,g
        tart,1,2019-01-01,1,dish:pastry,1,portion
        pastry,1,2019-01-01,1,butter,100,g
        pastry,2,2021-01-01,1,butter,50,g
        paella,1,2019-01-01,1,flour,100,g
        paella,1,2019-01-01,1,saffron,1,g
    """,
    "claims": """
        dish,version,published_on,cost_per_portion,currency,where,note
        loaf,1,2020-01-20,1.00,USD,Sheet 1,
        loaf,2,2021-12-20,0.60,USD,Sheet 2,
        loaf,1,2020-01-21,1.30,USD,Sheet 3,
        loaf,1,2020-01-22,0.90,EUR,Sheet 4,
        tart,1,2020-01-20,0.80,USD,Sheet 5,
        paella,1,2020-01-20,2.00,USD,,
        loaf,1,2026-11-20,1.20,USD,later,
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("claims"), FILES)


def test_by_pencil(book: Book) -> None:
    found = pricing.check_claims(book, on=ON)
    by = {(claim.dish, claim.where): claim for claim in found.claims}
    assert len(found.claims) == 6  # the last was published after that day
    first = by["loaf", "Sheet 1"]  # 1 kg at 1.00, now at 1.20: +20 %
    assert (first.recosted_then, first.recosted_now) == (pytest.approx(1.0), pytest.approx(1.2))
    assert (first.status, first.drift_pct) == ("drifted", pytest.approx(20.0))
    second = by["loaf", "Sheet 2"]  # 500 g: 0.50 in December 2021 (held: no series), 0.60 now
    assert (second.recosted_then, second.status) == (pytest.approx(0.5), "was wrong")
    third = by["loaf", "Sheet 3"]  # 1.30 printed, 1.00 by the book
    assert (third.status, third.error_pct) == ("was wrong", pytest.approx(-100 * 0.3 / 1.3))
    euros = by["loaf", "Sheet 4"]  # costed in its own currency; the book's series say nothing of it
    assert (euros.recosted_now, euros.status) == (pytest.approx(0.9), "holds")
    assert (euros.rebased_food, euros.rebased_all) == (None, None)
    # the pastry of each day: 100 g at 8.00 a kilo = 0.80; 50 g at 10.00 = 0.50
    tart = by["tart", "Sheet 5"]
    assert (tart.recosted_then, tart.recosted_now) == (pytest.approx(0.8), pytest.approx(0.5))
    assert (tart.status, tart.drift_pct) == ("drifted", pytest.approx(-37.5))
    paella = by["paella", None]
    assert (paella.status, paella.recosted_now, paella.drift_pct) == ("cannot price", None, None)
    assert {(gap.ingredient, gap.on) for gap in paella.gaps} == {
        ("saffron", date(2020, 1, 20)),
        ("saffron", ON),
    }
    assert "No price of saffron" in paella.gaps[0].reason
    assert found.complete is False


def test_rebased_by_the_series_of_the_book(book: Book) -> None:
    claim = next(
        each for each in pricing.check_claims(book, on=ON).claims if each.where == "Sheet 1"
    )
    # BLS, CPI-U, US city average, not seasonally adjusted, January 2020 → January 2022:
    # food at home (SAF11) 243.110 → 270.711; all items (SA0) 257.971 → 281.148
    assert claim.rebased_food == pytest.approx(1.00 * 270.711 / 243.110, rel=1e-12)
    assert claim.rebased_all == pytest.approx(1.00 * 281.148 / 257.971, rel=1e-12)


def test_what_misleads_most_comes_first(book: Book) -> None:
    found = pricing.check_claims(book, on=ON)
    # off by 37.5 % (tart), 23.1 % (1.30 for 1.00), 20 %, 16.7 % (0.60 for 0.50), no price, holds
    assert [claim.where for claim in found.claims] == [
        "Sheet 5", "Sheet 3", "Sheet 1", "Sheet 2", None, "Sheet 4",
    ]  # fmt: skip


def test_tolerance_is_of_the_claimed_figure() -> None:
    # 5 % of 1.00 is 0.05, to the last digit: 1.05 and 0.95 hold, although 1.05 − 1.00 is
    # 0.050000000000000044 in binary
    assert status(1.00, 1.05, 0.95) == "holds"
    assert status(1.00, 1.0501, 1.00) == "was wrong"
    assert status(1.00, 1.00, 0.9499) == "drifted"
    assert status(1.00, 1.00, 1.10, 10) == "holds"
    assert status(1.00, None, 1.00) == "cannot price"
    assert status(1.00, 2.00, None) == "cannot price"  # although it was wrong already


def test_tolerance_of_the_command(book: Book) -> None:
    wide = pricing.check_claims(book, on=ON, tolerance_pct=40)
    assert {claim.status for claim in wide.claims} == {"holds", "cannot price"}
    for wrong in (-1, float("nan"), float("inf")):
        with pytest.raises(InputRefused, match="from 0 up"):
            pricing.check_claims(book, tolerance_pct=wrong)


def test_dates(book: Book) -> None:
    with pytest.raises(DateRefused, match="after today"):
        pricing.check_claims(book, on=date(2026, 11, 25))
    today = pricing.check_claims(book)  # 24 November 2026
    assert (today.on, len(today.claims)) == (date(2026, 11, 24), 7)
    assert pricing.check_claims(book, on=date(2019, 1, 1)).claims == ()


def test_each_costing_is_the_one_of_the_cost_command(book: Book) -> None:
    for claim in pricing.check_claims(book, on=ON).claims:
        if claim.currency != "USD" or claim.status == "cannot price":
            continue
        for day, figure in ((claim.published_on, claim.recosted_then), (ON, claim.recosted_now)):
            alone = pricing.cost_dish(book, claim.dish, on=day, version=claim.version)
            assert alone.cost_per_portion == pytest.approx(figure, rel=1e-12)


def test_json_has_the_keys_that_were_promised(book: Book) -> None:
    found = pricing.check_claims(book, on=ON).as_json()
    assert found["on"] == "2022-01-20"
    assert isinstance(found["claims"], list)
    assert found["claims"][0].keys() >= {
        "dish", "version", "published_on", "claimed", "currency", "recosted_then", "recosted_now",
        "drift_pct", "status", "rebased_food", "rebased_all",
    }  # fmt: skip


def test_a_book_without_claims(tmp_path: Path) -> None:
    assert pricing.check_claims(make_book(tmp_path)).claims == ()


def test_a_version_that_was_lost_is_said(tmp_path: Path) -> None:
    book = make_book(tmp_path, FILES)
    with writing(book) as con:  # `undo` would refuse, since the figures need it
        con.execute(
            "INSERT INTO retraction SELECT row_id, '2022-01-01', 'gone' FROM dish_version "
            "WHERE version = '1' AND dish_id = (SELECT dish_id FROM dish WHERE name = 'tart')"
        )
    found = pricing.check_claims(book, on=ON)
    tart = next(claim for claim in found.claims if claim.dish == "tart")
    assert (tart.status, tart.recosted_then, tart.gaps[0].ingredient) == (
        "cannot price",
        None,
        None,
    )
    assert "no version 1 of 'tart'" in tart.gaps[0].reason
