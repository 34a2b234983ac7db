"""Which price counts on a day, worked out by pencil at the edges of the rule."""

from __future__ import annotations

from datetime import date

import pytest

from pricing.book.connect import Book, reading
from pricing.prices.evidence import GridPrice, grid_prices
from pricing.prices.rule import Rule
from tests.kitchen import make_book

FILES = {
    "index": """
        series,month,value,title,parent
        t:grain,2024-01,100,Grain,t:food
        t:grain,2024-02,110,Grain,t:food
        t:grain,2024-04,120,Grain,t:food
        t:grain,2024-05,125,Grain,t:food
        t:food,2024-01,100,Food,
        t:food,2024-05,150,Food,
        t:food,2024-09,300,Food,
    """,
    "ingredients": """
        ingredient,base,series
        rice,g,t:grain
        barley,g,
        oats,g,t:grain
        rye,g,t:grain
        wheat,g,t:grain
        maize,g,t:grain
        millet,g,t:grain
        spelt,g,
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier,kind,region
        rice,2024-01-10,2.00,USD,1 kg,Quay,,
        barley,2024-01-10,2.00,USD,1 kg,Quay,,
        barley,2024-01-10,2.40,USD,1 kg,Mill,,
        barley,2024-01-10,9.00,USD,1 kg,Lane,,coast
        oats,2023-12-20,1.00,USD,1 kg,Quay,,
        oats,2024-01-10,2.00,USD,1 kg,Mill,,
        rye,2023-10-01,9.00,USD,1 kg,Quay,,
        rye,2024-01-10,2.00,USD,1 kg,Mill,,
        wheat,2024-01-10,1.00,USD,1 kg,Quay,,
        wheat,2024-05-09,1.50,USD,1 kg,Quay,,
        wheat,2024-05-09,2.50,USD,1 kg,Mill,,
        maize,2024-05-09,3.00,USD,1 kg,Quay,,
        maize,2024-05-09,4.00,USD,1 kg,Quay,,
        maize,2024-05-09,8.00,USD,1 kg,Quay,,
        millet,2024-01-10,1.00,USD,1 kg,Quay,,
        millet,2024-04-20,2.00,USD,1 kg,Mill,,
        spelt,2024-01-10,1.00,USD,1 kg,Quay,,
        spelt,2024-04-20,2.00,USD,1 kg,Mill,,
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("rule"), FILES, series=())


def priced(book: Book, ingredient: str, on: date, **rule: str) -> GridPrice:
    with reading(book) as con:
        ids = dict(con.execute("SELECT name, ingredient_id FROM ingredient_now").fetchall())
        pair = ids[ingredient], on
        return grid_prices(con, Rule(currency="USD", **rule), [pair])[pair]  # type: ignore[arg-type]


def per_kg(book: Book, ingredient: str, on: date, **rule: str) -> float | None:
    found = priced(book, ingredient, on, **rule).unit_price
    return None if found is None else 1000 * found


def test_a_price_is_fresh_on_the_45th_day_and_not_on_the_46th(book: Book) -> None:
    # 10 January + 45 days is 24 February; from January to February grain went from 100 to 110
    last, first = (priced(book, "rice", date(2024, 2, day)) for day in (24, 25))
    assert (last.basis, last.unit_price) == ("observed", pytest.approx(0.002))
    assert (first.basis, first.unit_price) == ("bridged", pytest.approx(0.0022))


def test_the_mean_of_what_the_shops_ask_counts(book: Book) -> None:
    # 2.00, 2.40 and 9.00 of one day weigh the same: 13.40 ÷ 3; on the day itself, and long after,
    # when it is held for want of a series. The three prices of one shop on one day are one price,
    # the middle one: 4.00, not their mean of 5.00.
    assert per_kg(book, "barley", date(2024, 1, 10)) == pytest.approx(13.40 / 3)
    assert per_kg(book, "barley", date(2024, 6, 10)) == pytest.approx(13.40 / 3)
    assert per_kg(book, "maize", date(2024, 5, 9)) == pytest.approx(4.00)


def test_an_older_price_in_the_mean_is_moved_by_the_series_and_counts_less(book: Book) -> None:
    # 20 April: Mill asks 2.00; Quay's 1.00 is 101 days old and counts 2^(-101/180) = 0.67777996.
    # Grain went from 100 to 120: (2.00 + 0.67777996 × 1.20) ÷ 1.67777996 = 1.67682057
    weight = 2 ** (-101 / 180)
    assert weight == pytest.approx(0.67777996, rel=1e-8)
    moved = priced(book, "millet", date(2024, 4, 20))
    assert (moved.basis, moved.series) == ("observed", None)
    assert 1000 * (moved.unit_price or 0) == pytest.approx((2 + weight * 1.2) / (1 + weight))
    assert moved.moved_share == pytest.approx(weight * 1.2 / (2 + weight * 1.2))
    assert [(each.supplier, each.moved, each.series) for each in moved.observed] == [
        ("Mill", 1, None),
        ("Quay", pytest.approx(1.2), "t:grain"),
    ]
    # as seen on basis `observed`, and where no series serves
    as_seen = (2 + weight * 1.00) / (1 + weight)
    for held in (
        priced(book, "millet", date(2024, 4, 20), basis="observed"),
        priced(book, "spelt", date(2024, 4, 20)),
    ):
        assert 1000 * (held.unit_price or 0) == pytest.approx(as_seen)
        assert held.moved_share == 0


def test_a_region_keeps_only_its_own_prices(book: Book) -> None:
    assert per_kg(book, "barley", date(2024, 1, 10), region="Coast") == pytest.approx(9.00)


def test_what_was_known_on_the_last_day_seen_is_moved_as_one(book: Book) -> None:
    # 10 April: last seen on 10 January, grain 100 → 120. Oats: Quay's 1.00 was 21 days old then,
    # Mill asked 2.00. Rye: Quay's 9.00 was 101 days old, and grain does not reach back to October,
    # so it counts as seen.
    oats, rye = 2 ** (-21 / 180), 2 ** (-101 / 180)
    assert per_kg(book, "oats", date(2024, 4, 10)) == pytest.approx(
        (2.00 + oats * 1.00) / (1 + oats) * 1.2
    )
    assert per_kg(book, "rye", date(2024, 4, 10)) == pytest.approx(
        (2.00 + rye * 9.00) / (1 + rye) * 1.2
    )


def test_between_two_days_the_path_of_the_series_bends_to_the_later_price(book: Book) -> None:
    # Wheat: 1.00 on 10 January, 2.00 (the mean of 1.50 and 2.50) 120 days later, asked about after
    # 90 of them. Grain: 100, 125 and 120. It would have risen to 1.25 instead of 2.00; the bend
    # begins when the price ceases to be fresh, so 45 of 75 days of it are over.
    found = priced(book, "wheat", date(2024, 4, 9))
    assert found.unit_price == pytest.approx(0.001 * 1.2 * 1.6 ** (45 / 75))
    assert found.anchors == (date(2024, 1, 10), date(2024, 5, 9))


def test_a_later_price_alone_is_moved_back(book: Book) -> None:
    # Maize: 4.00 in May at 125; in February grain stood at 110
    assert per_kg(book, "maize", date(2024, 2, 9)) == pytest.approx(4.00 * 110 / 125)


def test_a_series_serves_three_months_after_its_last_and_then_a_wider_one(book: Book) -> None:
    # Grain ends in May 2024. August is its third month after that, held at May: 125. In September
    # food serves: 100 in January, 300 in September.
    august, september = (priced(book, "rice", date(2024, month, 20)) for month in (8, 9))
    assert (august.series, august.unit_price) == ("t:grain", pytest.approx(0.002 * 1.25))
    assert (september.series, september.unit_price) == ("t:food", pytest.approx(0.002 * 3))


def test_a_later_price_is_never_used_for_an_earlier_day_on_basis_observed(book: Book) -> None:
    assert per_kg(book, "maize", date(2024, 2, 9), basis="observed") is None
    # and an old one is held as it was
    assert per_kg(book, "rice", date(2024, 4, 9), basis="observed") == pytest.approx(2.00)
