"""Which price counts on a day, worked out by pencil at the edges of the rule."""

from __future__ import annotations

from datetime import date

import pytest

from pricing.book.connect import Book, reading
from pricing.prices import rule as price_rule
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
        spelt,2024-01-10,1.00,USD,1 kg,Quay,,
        spelt,2024-02-20,3.00,USD,1 kg,Mill,,
    """,
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("rule"), FILES, series=())


@pytest.fixture(autouse=True, params=["all rows", "rows near the day"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """The rule looks at all rows, or draws those near the day first; both must tell the same."""
    if request.param == "rows near the day":
        monkeypatch.setattr(price_rule, "_MANY_PAIRS", 0)


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


def test_a_shop_drops_out_after_its_45th_day(book: Book) -> None:
    # 1.00 of 10 January and 3.00 of 20 February: 2.00 until 24 February, then Mill alone
    assert per_kg(book, "spelt", date(2024, 2, 24)) == pytest.approx(2.00)
    assert per_kg(book, "spelt", date(2024, 2, 25)) == pytest.approx(3.00)


def test_the_middle_of_three_shops_counts_not_their_mean(book: Book) -> None:
    # 2.00, 2.40 and 9.00; also on the day itself, and long after, when it is held for want of a
    # series. The three prices of one shop on one day make one price, 4.00.
    assert per_kg(book, "barley", date(2024, 1, 10)) == pytest.approx(2.40)
    assert per_kg(book, "barley", date(2024, 6, 10)) == pytest.approx(2.40)
    assert per_kg(book, "maize", date(2024, 5, 9)) == pytest.approx(4.00)


def test_a_region_keeps_only_its_own_prices(book: Book) -> None:
    assert per_kg(book, "barley", date(2024, 1, 10), region="Coast") == pytest.approx(9.00)


def test_what_was_fresh_on_the_last_day_seen_counts_with_it(book: Book) -> None:
    # 10 April: last seen on 10 January. Oats: Quay's 1.00 was 21 days old then, with Mill's 2.00
    # the middle is 1.50; rye: Quay's 9.00 was 101 days old and counts no more. Grain: 100 → 120.
    assert per_kg(book, "oats", date(2024, 4, 10)) == pytest.approx(1.50 * 1.2)
    assert per_kg(book, "rye", date(2024, 4, 10)) == pytest.approx(2.00 * 1.2)


def test_between_two_days_the_path_of_the_series_bends_to_the_later_price(book: Book) -> None:
    # Wheat: 1.00 on 10 January, 2.00 (the middle of 1.50 and 2.50) 120 days later, asked about
    # after 90 of them. Grain: 100, 125 and 120. It would have risen to 1.25 instead of 2.00.
    found = priced(book, "wheat", date(2024, 4, 9))
    assert found.unit_price == pytest.approx(0.001 * 1.2 * 1.6 ** (90 / 120))
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
