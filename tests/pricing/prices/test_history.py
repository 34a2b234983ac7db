"""The history of a price, and an old amount moved month by month."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from pricing.book.connect import Book, reading
from pricing.contents.choices import list_dishes, list_ingredients, list_suppliers
from pricing.errors import UnknownName
from pricing.prices.history import price_history
from pricing.series.moved_amount import rebased_paths
from pricing.series.rebase import rebase
from tests.dashboard.small_kitchen import small_kitchen
from tests.kitchen import TODAY, make_book


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return small_kitchen(tmp_path_factory.mktemp("history"))


def test_every_price_is_listed_newest_first_with_its_unit_price(book: Book) -> None:
    history = price_history(book, "LEEK", on=TODAY)
    assert [(seen.observed_on, seen.kind) for seen in history.observations] == [
        (date(2026, 11, 12), "offer"),
        (date(2026, 11, 10), "shelf"),
        (date(2026, 6, 10), "shelf"),
    ]
    newest = history.observations[0]
    assert newest.unit_price == pytest.approx(0.0024)  # $2.40 for 1,000 g
    assert (newest.price, newest.pack, newest.supplier) == (Decimal("2.4"), "1 kg", "Salt Lane")


def test_unit_prices_are_those_that_costings_use(tmp_path: Path) -> None:
    files = {
        "ingredients": "ingredient,base,density_g_per_ml\nmilk,ml,1.03",
        "measures": "ingredient,measure,grams\nmilk,jug,1030",
        "prices": """
            ingredient,date,price,currency,pack,supplier,tax_pct
            milk,2026-01-01,2.00,USD,1 l,A,
            milk,2026-01-02,2.00,USD,1 kg,B,5
            milk,2026-01-03,2.00,USD,2 jug,C,
        """,
    }
    book = make_book(tmp_path, files)
    listed = {
        seen.observed_on: seen.unit_price
        for seen in price_history(book, "milk", on=TODAY).observations
    }
    with reading(book) as con:
        kept = dict(con.execute("SELECT observed_on, unit_price FROM source_day").fetchall())
    assert listed == pytest.approx(kept)
    # 1 kg is 1000 / 1.03 ml, and 5 % tax comes on top; 2 jugs are 2 × 1030 / 1.03 ml
    assert listed[date(2026, 1, 2)] == pytest.approx(2.10 * 1.03 / 1000)
    assert listed[date(2026, 1, 3)] == pytest.approx(2.00 / 2000)


def test_the_typical_price_is_given_on_days_seen_and_on_every_15th(book: Book) -> None:
    typical = {each.on: each.unit_price for each in price_history(book, "leek", on=TODAY).typical}
    assert list(typical) == [
        date(2026, 6, 10),
        *(date(2026, month, 15) for month in (6, 7, 8, 9, 10)),
        date(2026, 11, 10),
        date(2026, 11, 15),
        TODAY,
    ]
    # no series of its own, so food at home moves it. BLS: 321.631 in June, 321.500 in August, which
    # stands for October and November too. 15 October is 127 of the 153 days between 10 June and 10
    # November; the bend towards 0.003 begins after 45 of them
    food = 321.500 / 321.631
    bend = (1.5 / food) ** ((127 - 45) / (153 - 45))
    assert typical[date(2026, 10, 15)] == pytest.approx(0.002 * food * bend)
    assert typical[TODAY] == pytest.approx(0.003)  # the offer does not count


def test_the_official_series_is_laid_through_the_price_seen(book: Book) -> None:
    history = price_history(book, "butter", on=TODAY)
    official = dict(history.official)
    # one price was seen, $2.00 for 500 g in January 2015: the series must pass through it
    assert official[date(2015, 1, 1)] == pytest.approx(0.004)
    moved = rebase(
        book, 0.004, start=date(2015, 1, 1), end=date(2020, 1, 1), series="us-bls:SS10011"
    )
    assert official[date(2020, 1, 1)] == pytest.approx(moved.result)
    assert min(official) == date(2015, 1, 1)
    assert history.now.basis == "bridged"
    assert history.now.series_title is not None


def test_an_ingredient_never_seen_says_why_it_has_no_price(book: Book) -> None:
    history = price_history(book, "saffron", on=TODAY)
    assert (history.observations, history.typical, history.official) == ((), (), ())
    assert history.now.basis == "missing"
    assert "No price of saffron" in (history.now.reason or "")


def test_an_unknown_ingredient_is_refused_with_the_nearest(book: Book) -> None:
    with pytest.raises(UnknownName, match="Nearest: leek"):
        price_history(book, "leeek", on=TODAY)


def test_a_rebased_path_agrees_with_rebasing_month_by_month(book: Book) -> None:
    start = date(2012, 1, 1)
    food, everything = rebased_paths(book, 1.24, start=start, end=date(2026, 11, 1))
    assert (food.which, everything.which) == ("food", "all items")
    assert food.points[0] == (start, pytest.approx(1.24))
    for path in (food, everything):
        assert len(path.points) > 150
        for month, amount in path.points[::40]:
            moved = rebase(book, 1.24, start=start, end=month, series=path.series)
            assert amount == pytest.approx(moved.result)
    months = [month for month, _ in food.points]
    assert date(2025, 10, 1) not in months  # never published
    assert months[-1] == date(2026, 8, 1)  # where the bundled series end


def test_a_path_from_before_the_series_says_why_there_is_none(book: Book) -> None:
    food, _ = rebased_paths(book, 1.0, start=date(1900, 1, 1), end=date(2026, 11, 1))
    assert food.points == ()
    assert "begins in" in (food.reason or "")


def test_what_there_is_to_choose_from(book: Book) -> None:
    leek = next(each for each in list_ingredients(book) if each.ingredient == "leek")
    assert (leek.base, leek.prices, leek.first_on) == ("g", 3, date(2026, 6, 10))
    assert list_suppliers(book) == ["Quay Market", "Salt Lane"]
    bowl = list_dishes(book)[0]
    assert [each.version for each in bowl.versions] == ["1", "2"]
