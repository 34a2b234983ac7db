"""Shops of a small kitchen, worked out by pencil: whole packs, left-overs, and the plate beside."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from ingest.load import undo
from pricing.book.connect import Book
from pricing.dishes.cost import cost_dish
from pricing.errors import DateRefused, InputRefused, UnknownName
from pricing.till.records import ItemBought, Till
from pricing.till.shop import shop_for
from tests.kitchen import load, make_book

ON = date(2026, 11, 24)  # what was seen from 10 October on is fresh: 45 days
FILES = {
    "index": """
        series,month,value,title
        t:grain,2024-01,100,Grain
        t:grain,2026-11,150,Grain
    """,
    "ingredients": """
        ingredient,base,density_g_per_ml,series
        flour,g,,
        milk,ml,1.03,
        oats,g,,t:grain
        cocoa,g,,t:grain
        honey,g,,
        butter,g,,
        salt,g,,
        vanilla,g,,
        eggs,each,,
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier,kind,tax_pct,product
        flour,2026-11-10,1.20,USD,250 g,Quay,,,
        flour,2026-11-10,3.00,USD,1 kg,Quay,,,
        flour,2026-11-12,2.00,USD,500 g,Mill,offer,,
        flour,2026-10-09,0.10,USD,250 g,Mill,,,
        flour,2026-11-20,0.05,EUR,250 g,Quay,,,
        milk,2026-10-10,0.90,USD,500 ml,Mill,,10,
        oats,2024-01-15,2.00,USD,500 g,Quay,,,
        oats,2024-01-12,1.00,USD,500 g,Mill,,,
        cocoa,2026-11-20,3.00,USD,100 g,Quay,,,
        honey,2024-01-15,4.00,USD,340 g,Quay,,,
        butter,2026-10-20,4.00,USD,500 g,Quay,,,Skerry butter
        butter,2026-11-15,4.40,USD,400 g,Quay,,,Skerry butter
        salt,2026-11-01,0.60,USD,500 g,,,,
        eggs,2026-11-02,2.40,USD,1 dozen,Quay,,,
        eggs,2026-11-02,1.30,USD,6 each,Mill,,,
        eggs,2026-11-02,1.50,USD,6 each,Mill,receipt,,
        eggs,2026-11-03,1.00,USD,6 each,Farm,invoice,,
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit,pantry
        bake,old,2020-01-01,4,flour,750,g,
        bake,new,2026-01-01,4,flour,500,g,
        bake,new,2026-01-01,4,milk,250,ml,
        bake,new,2026-01-01,4,salt,10,g,yes
        bars,1,2020-01-01,2,flour,300,g,
        bars,1,2020-01-01,2,oats,200,g,
        brine,1,2020-01-01,1,salt,20,g,
        brine,1,2020-01-01,1,salt,5,g,yes
        drink,1,2020-01-01,2,cocoa,50,g,
        honey cake,1,2020-01-01,8,honey,170,g,
        honey cake,1,2020-01-01,8,butter,400,g,
        omelette,1,2020-01-01,1,eggs,2,each,
        pinch,1,2020-01-01,1,salt,1,g,yes
        scented,1,2020-01-01,1,vanilla,1,g,
        scented,1,2020-01-01,1,flour,250,g,
        supper,1,2020-01-01,2,dish:bake,1/2,batch,
        supper,1,2020-01-01,2,flour,100,g,
    """,
}


# The typical price of flour: Quay on 10 November is the median of 0.0048 and 0.0030 a g, 0.0039,
# and counts whole; Mill, 0.0004, was seen 32 days before that: it counts half for every 180 days.
MILL_COUNTS = 2 ** (-32 / 180)
FLOUR = (0.0039 + MILL_COUNTS * 0.0004) / (1 + MILL_COUNTS)
# A bake takes 500 g of it, 250 of 500 ml of milk for 0.99, and 10 g of salt at 0.0012.
BAKE = 500 * FLOUR + 0.495 + 0.012


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("till"), FILES, series=())


def item(found: Till, name: str) -> ItemBought:
    (only,) = (each for each in found.ingredients if each.ingredient == name)
    return only


def packs(found: Till, name: str) -> list[tuple[int, str]]:
    return [(pack.count, pack.pack) for pack in item(found, name).packs]


def test_a_dish_once(book: Book) -> None:
    found = shop_for(book, {"Bake ": 1}, on=ON)
    # 500 g of flour: two of 250 g for 2.40, not 1 kg for 3.00; Mill's offer, its price of 46
    # days ago and what was paid in euros do not count. 250 of 500 ml of milk, 0.90
    # and 10 % tax. 10 of 500 g of salt.
    assert packs(found, "flour") == [(2, "250 g")]
    milk, salt = item(found, "milk"), item(found, "salt")
    assert [pack.price for pack in milk.packs] == pytest.approx([0.99])
    assert (milk.packs[0].seen_on, milk.packs[0].age_days) == (date(2026, 10, 10), 45)
    assert (milk.packs[0].moved, milk.packs[0].factor, milk.reason) == (False, None, None)
    assert (milk.needed, milk.bought, milk.left_over) == pytest.approx((250, 500, 250))
    assert (milk.left_over_value, milk.left_over_share) == pytest.approx((0.495, 0.5))
    assert (salt.pantry, salt.pantry_needed, salt.left_over) == (True, 10.0, 490.0)
    assert item(found, "flour").left_over == 0
    assert found.cost == pytest.approx(2.40 + 0.99 + 0.60)
    assert found.left_over_value == pytest.approx(0.495 + 0.60 * 490 / 500)
    assert found.left_over_share == pytest.approx(1.083 / 3.99)
    assert found.plate_cost == pytest.approx(BAKE)  # without what is left over
    assert (found.portions, found.cost_per_portion) == pytest.approx((4, 3.99 / 4))
    (dish,) = found.dishes
    plate = cost_dish(book, "bake", on=ON)
    assert (dish.cost_per_batch, dish.cost_per_portion) == pytest.approx((BAKE, BAKE / 4))
    assert (dish.version, dish.cost_per_batch) == ("new", plate.cost_per_batch)
    assert found.complete
    assert found.display == {"cost": "$3.99", "plate_cost": "$1.64"}


def test_a_week_shares_its_packs(book: Book) -> None:
    found = shop_for(book, [("bake", 1), ("bars", 1), ("BAKE", 1)], on=ON)
    # 500 + 500 + 300 g: 1 kg and two of 250 g for 5.40; two of 1 kg 6.00, six of 250 g 7.20
    assert packs(found, "flour") == [(2, "250 g"), (1, "1 kg")]
    flour = item(found, "flour")
    assert (flour.needed, flour.cost, flour.left_over) == pytest.approx((1300, 5.40, 200))
    assert flour.left_over_value == pytest.approx(5.40 * 200 / 1500)
    assert [(dish.dish, dish.batches, dish.portions) for dish in found.dishes] == [
        ("bake", 2.0, 8.0), ("bars", 1.0, 2.0),
    ]  # fmt: skip
    # half a bake inside supper is 250 g, its own 100 g beside it
    assert item(shop_for(book, {"supper": 1}, on=ON), "flour").needed == pytest.approx(350)
    assert packs(shop_for(book, {"bake": 0.5}, on=ON), "flour") == [(1, "250 g")]


def test_an_old_pack_is_moved_as_the_rule_moves_the_price(book: Book) -> None:
    found = shop_for(book, {"bars": 1}, on=ON)
    oats = item(found, "oats")
    # last seen at Quay on 15 January 2024; Mill's pack of three days before was fresh then, too,
    # and is the cheaper one. Grain rose from 100 to 150: 1.00 × 1.5.
    (pack,) = oats.packs
    assert (pack.supplier, pack.price_seen, pack.price) == pytest.approx(("Mill", 1.00, 1.50))
    assert (pack.moved, pack.factor, oats.basis) == (True, pytest.approx(1.5), "bridged")
    assert (oats.series, oats.series_title, oats.months) == (
        "t:grain", "Grain", ("2024-01", "2026-11"),
    )  # fmt: skip
    assert pack.age_days == (ON - date(2024, 1, 12)).days
    # on the plate: 0.004 a g of that day, and 0.002 that counts by three days less, × 1.5
    counts = 2 ** (-3 / 180)
    assert oats.plate_cost == pytest.approx(200 * 1.5 * (0.004 + counts * 0.002) / (1 + counts))


def test_a_later_pack_counts_only_where_the_rule_bridges_back(book: Book) -> None:
    early = shop_for(book, {"drink": 1}, on=date(2024, 1, 20))
    (pack,) = item(early, "cocoa").packs
    assert (pack.price, pack.price_seen) == pytest.approx((2.00, 3.00))  # × 100 ÷ 150
    assert pack.age_days == (date(2024, 1, 20) - date(2026, 11, 20)).days
    # honey has no series: before its first day there is no pack, whatever is seen later
    none = shop_for(book, {"honey cake": 1}, on=date(2024, 1, 14))
    assert none.without_pack == ("honey", "butter")
    assert "first seen on 15 January 2024" in (item(none, "honey").reason or "")
    assert (none.complete, none.cost, none.left_over_share) == (False, 0, None)
    # and what was on the shelf on 5 November is what had been seen by then
    assert item(shop_for(book, {"bake": 1}, on=date(2026, 11, 5)), "flour").cost == 2 * 0.10


def test_a_price_that_rests_on_a_later_one_alone_takes_its_packs(tmp_path: Path) -> None:
    # The series begins between the two prices: nothing moves the first, so March 2022 is the 3.00
    # of December moved back by 103 / 112.
    index = [f"t:leek,2022-{month:02},{100 + month}" for month in range(1, 13)]
    files = {
        "index": "\n".join(["series,month,value", *index]),
        "ingredients": "ingredient,base,series\nleek,g,t:leek",
        "prices": """
            ingredient,date,price,currency,pack
            leek,2020-01-10,2.00,USD,1 kg
            leek,2022-12-10,1.50,USD,500 g
        """,
        "dishes": "dish,version,effective_from,portions,ingredient,quantity,unit\n"
        "soup,1,2019-01-01,1,leek,500,g",
    }
    found = item(
        shop_for(make_book(tmp_path, files, series=()), {"soup": 1}, on=date(2022, 3, 1)), "leek"
    )
    (pack,) = found.packs
    assert (pack.pack, pack.seen_on) == ("500 g", date(2022, 12, 10))
    assert (pack.factor, pack.price) == pytest.approx((103 / 112, 1.50 * 103 / 112))
    assert found.plate_cost == pytest.approx(pack.price)


def test_a_pack_that_nothing_can_move_is_held_with_its_age(book: Book) -> None:
    honey = item(shop_for(book, {"honey cake": 1}, on=ON), "honey")
    (pack,) = honey.packs
    assert (pack.price, pack.moved, honey.basis) == (4.00, False, "observed")
    assert pack.age_days == (ON - date(2024, 1, 15)).days
    assert honey.reason == (
        "Held from 15 January 2024: no official series is named for this ingredient."
    )


def test_a_pack_that_gave_way_to_another_is_not_to_be_had(book: Book) -> None:
    # Skerry butter shrank from 500 to 400 g: 400 g is one of 400 g at 4.40, not 500 g at 4.00
    assert packs(shop_for(book, {"honey cake": 1}, on=ON), "butter") == [(1, "400 g")]
    before = shop_for(book, {"honey cake": 1}, on=date(2026, 11, 14))
    assert packs(before, "butter") == [(1, "500 g")]


def test_two_prices_of_a_pack_on_a_day_count_as_their_median(book: Book) -> None:
    found = shop_for(book, {"omelette": 4}, on=ON)
    # 8 eggs: a dozen for 2.40, or two of six at the median of 1.30 and 1.50: 2.80
    assert packs(found, "eggs") == [(1, "1 dozen")]
    assert item(shop_for(book, {"omelette": 1}, on=ON), "eggs").cost == pytest.approx(1.40)


def test_packs_are_those_of_the_market_that_counts(book: Book) -> None:
    # Farm's six on an invoice at 1.00 are no shop's, and two shops' six at 1.40 no trader's
    trade = item(shop_for(book, {"omelette": 1}, on=ON, market="trade"), "eggs")
    assert [(pack.supplier, pack.price) for pack in trade.packs] == [("Farm", 1.00)]
    pooled = item(shop_for(book, {"omelette": 4}, on=ON, market="any"), "eggs")
    assert [(pack.count, pack.supplier) for pack in pooled.packs] == [(2, "Farm")]


def test_store_cupboard_lines_are_left_out_by_choice(book: Book) -> None:
    found = shop_for(book, {"bake": 2}, on=ON, pantry=False)
    assert [each.ingredient for each in found.ingredients] == ["flour", "milk"]
    # 1 kg of flour for 3.00 and one pack of milk; salt 20 g at 0.0012 a g stays apart
    assert found.cost == pytest.approx(3.00 + 0.99)
    (salt,) = found.not_counted
    assert (salt.ingredient, salt.needed, salt.plate_cost) == ("salt", 20.0, pytest.approx(0.024))
    assert found.plate_cost == pytest.approx(2 * BAKE - 0.024)
    # of brine's salt only what is not for the pantry is bought for
    brine = shop_for(book, {"brine": 1}, on=ON, pantry=False)
    assert (item(brine, "salt").needed, brine.not_counted[0].needed) == (20.0, 5.0)
    assert not item(brine, "salt").pantry
    whole = item(shop_for(book, {"brine": 1}, on=ON), "salt")
    assert (whole.needed, whole.pantry_needed, whole.pantry) == (25.0, 5.0, False)
    empty = shop_for(book, {"pinch": 1}, on=ON, pantry=False)
    assert (empty.ingredients, empty.cost, empty.complete) == ((), 0, True)


def test_offers_count_when_asked_for(book: Book) -> None:
    flour = item(shop_for(book, {"bake": 1}, on=ON, offers=True), "flour")
    assert [(pack.pack, pack.price) for pack in flour.packs] == [("500 g", 2.00)]


def test_one_shop_only(book: Book) -> None:
    found = shop_for(book, {"bake": 1}, on=ON, supplier="mill")
    flour = item(found, "flour")
    assert (found.supplier, flour.cost, flour.packs[0].age_days) == ("Mill", 0.20, 46)
    # salt was seen at a place not stated
    assert found.without_pack == ("salt",)
    assert "from Mill" in (item(found, "salt").reason or "")
    assert found.display["cost"] == "at least $1.19"  # 0.20 + 0.99
    with pytest.raises(UnknownName, match="supplier"):
        shop_for(book, {"bake": 1}, on=ON, supplier="Pier")


def test_what_has_no_pack_is_named_and_the_sum_is_at_least(book: Book) -> None:
    found = shop_for(book, {"scented": 1}, on=ON)
    assert (found.complete, found.without_pack) == (False, ("vanilla",))
    vanilla = item(found, "vanilla")
    assert (vanilla.packs, vanilla.cost, vanilla.left_over) == ((), None, None)
    assert "No price of vanilla is in the book" in (vanilla.reason or "")
    assert found.display["cost"] == "at least $1.20"


def test_versions(book: Book) -> None:
    old = shop_for(book, {"bake": 1}, on=ON, version="old")
    assert item(old, "flour").needed == 750
    assert not old.dishes[0].version_in_force
    both = shop_for(book, {"bake": 1, "bars": 1}, on=ON, version={"BAKE": "old"})
    assert item(both, "flour").needed == 1050
    with pytest.raises(InputRefused, match="beside 2 dishes"):
        shop_for(book, {"bake": 1, "bars": 1}, on=ON, version="old")
    with pytest.raises(UnknownName, match="It has: old, new"):
        shop_for(book, {"bake": 1}, on=ON, version="newest")


@pytest.mark.parametrize(
    ("dishes", "error", "sentence"),
    [
        ({"baek": 1}, UnknownName, "no dish called 'baek'. Nearest: bake"),
        ({"bake": 0}, InputRefused, "0 batches of 'bake'; expected a number above 0"),
        ({"bake": -1}, InputRefused, "-1 batches of 'bake'"),
        ({"bake": float("nan")}, InputRefused, "nan batches"),
        ({}, InputRefused, "no dish to shop for"),
    ],
)
def test_wrong_input_gets_a_sentence(
    book: Book, dishes: dict[str, float], error: type[Exception], sentence: str
) -> None:
    with pytest.raises(error, match=sentence):
        shop_for(book, dishes, on=ON)


def test_a_day_to_come_is_refused(book: Book) -> None:
    with pytest.raises(DateRefused, match="25 November 2026, which is after today"):
        shop_for(book, {"bake": 1}, on=date(2026, 11, 25))


def test_the_answer_reads_like_its_json(book: Book) -> None:
    found = shop_for(book, {"bake": 1}, on=ON, pantry=False)
    told = json.loads(json.dumps(found.as_json(), allow_nan=False))
    assert told["ingredients"][0]["packs"][0]["seen_on"] == "2026-11-10"
    assert told["cost"] == found["cost"] == found.cost
    assert told["not_counted"] == [
        {"ingredient": "salt", "base": "g", "needed": 10.0, "plate_cost": pytest.approx(0.012)}
    ]


def test_undone_prices_cannot_be_bought(tmp_path: Path) -> None:
    own = make_book(tmp_path, FILES, series=())
    late = load(
        own, "prices", "ingredient,date,price,currency,pack\nflour,2026-11-20,1.00,USD,1 kg"
    )
    assert shop_for(own, {"bake": 1}, on=ON).cost == pytest.approx(1.00 + 0.99 + 0.60)
    assert late.batch is not None
    undo(own, late.batch)
    found = shop_for(own, {"bake": 1}, on=ON)
    assert (found.cost, found.plate_cost) == (pytest.approx(3.99), pytest.approx(BAKE))
