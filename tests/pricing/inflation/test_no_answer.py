"""A formula without an answer is null; a month that the office has not published is no datum."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import pricing
from dashboard.tables.inflation import level_frame, rate_rows
from dashboard.words.inflation import not_worked_out, official_end
from dashboard.words.states import ALL, FOOD
from pricing.book.connect import Book
from tests.kitchen import make_book
from tests.terminal import answer, run

KITCHEN = {
    "ingredients": "ingredient,base\nrice,g\nbarley,g",
    "prices": """
        ingredient,date,price,currency,pack
        rice,2020-01-10,2.00,USD,1 kg
        rice,2020-02-10,2.20,USD,1 kg
        barley,2020-01-10,1.00,USD,1 kg
        barley,2020-02-10,1.50,USD,1 kg
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        bowl,1,2019-01-01,1,rice,100,g
        bowl,2,2020-02-01,1,barley,100,g
    """,
}


@pytest.fixture(scope="module")
def nothing_shared(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """A bowl of rice in January becomes a bowl of barley in February."""
    return make_book(tmp_path_factory.mktemp("no answer"), KITCHEN, series=())


def test_baskets_that_share_nothing_have_no_walsh_and_no_vartia_2(nothing_shared: Book) -> None:
    found = pricing.measure_inflation(nothing_shared, start="2020-01", end="2020-02")
    none = {name for name, index in found.formulas.items() if index is None}
    assert none == {"walsh", "vartia_2"}
    # rice 2.20 ÷ 2.00, barley 1.50 ÷ 1.00
    assert found.formulas["laspeyres"] == pytest.approx(110)
    assert found.formulas["paasche"] == pytest.approx(150)
    assert not_worked_out(found) == (
        "Walsh and Vartia II cannot be worked out: the recipes of January 2020 and of February "
        "2020 share no ingredient of the index."
    )


def test_json_says_null_and_the_terminal_says_why(nothing_shared: Book) -> None:
    asked = ("inflation", "--from", "2020-01", "--to", "2020-02")
    told = answer(*asked, "--json", book=nothing_shared.path)
    assert (told["formulas"]["walsh"], told["formulas"]["vartia_2"]) == (None, None)
    said = run(*asked, book=nothing_shared.path).stdout
    assert "Walsh and Vartia II cannot be worked out" in " ".join(said.split())


def test_a_recipe_of_which_nothing_is_in_the_index_has_no_paasche(tmp_path: Path) -> None:
    unpriced = KITCHEN | {"prices": KITCHEN["prices"].replace("barley", "rice")}
    book = make_book(tmp_path, unpriced, series=())
    found = pricing.measure_inflation(book, start="2020-01", end="2020-02")
    assert (found.months[1].paasche, found.months[1].fisher) == (None, None)
    json.dumps(found.as_json(), allow_nan=False)
    assert "nothing that the recipes of February 2020 take is in the index" in (
        not_worked_out(found) or ""
    )


def test_an_index_of_nothing_is_null(tmp_path: Path) -> None:
    unpriced = {kind: text for kind, text in KITCHEN.items() if kind != "prices"}
    book = make_book(tmp_path, unpriced, series=())
    asked = ("inflation", "--from", "2019-01", "--to", "2020-06", "--json")
    told = answer(*asked, book=book.path, status=1)
    for name in ("change_pct", "rate_12_pct", "cost_from", "cost_to"):
        assert told[name] is None, name
    assert len(told["months"]) == 18
    for month in told["months"]:
        for name in ("index", "paasche", "fisher", "tornqvist", "rate_12_pct"):
            assert month[name] is None, (month["month"], name)


@pytest.fixture(scope="module")
def official(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """Food prices from January 2020 to November 2021, without June 2021; all items to the end."""
    months = [f"{2020 + at // 12}-{at % 12 + 1:02}" for at in range(25)]
    food = [f"t:food,{each},{100 + at},Food" for at, each in enumerate(months[:23]) if at != 17]
    everything = [f"t:all,{each},100,All" for each in months]
    book = make_book(
        tmp_path_factory.mktemp("official"),
        {
            "index": "series,month,value,title\n" + "\n".join([*food, *everything]),
            "ingredients": "ingredient,base\nrice,g",
            "prices": "ingredient,date,price,currency,pack\nrice,2020-01-10,2.00,USD,1 kg",
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                bowl,1,2019-01-01,1,rice,100,g
            """,
        },
        series=(),
    )
    for name, series in (("food_series", "t:food"), ("all_items_series", "t:all")):
        assert run("setting", name, series, book=book.path).returncode == 0
    return book


def test_a_month_that_is_held_or_filled_is_no_datum(official: Book) -> None:
    found = pricing.measure_inflation(official, start="2020-01", end="2022-01")
    food = {each.month: each.official_food for each in found.months}
    assert food["2021-11"] == pytest.approx(122)
    assert (food["2021-06"], food["2021-12"], food["2022-01"]) == (None, None, None)
    assert official_end(found) == "Official figures so far: food prices to November 2021."


def test_no_line_is_drawn_over_a_month_without_a_value(official: Book) -> None:
    frame = level_frame(pricing.measure_inflation(official, start="2020-01", end="2022-01"))
    food = frame[frame["which"] == FOOD]
    # 17 months to May 2021, then July to November
    assert [len(run) for _, run in food.groupby("run")] == [17, 5]
    assert frame[frame["which"] == ALL]["run"].nunique() == 1


def test_an_official_rate_is_of_the_last_month_that_the_series_has(official: Book) -> None:
    rates = rate_rows(pricing.measure_inflation(official, start="2020-01", end="2022-01"))
    # November 2021 against November 2020: 122 ÷ 110 is 10.9 % more; January 2022 is not there
    first = rates.iloc[0]
    assert first["Twelve months to"] == "January 2022"
    assert first["Food prices"].replace("\xa0", " ") == "+10.9 % (to November 2021)"
    assert "(to" not in first["All items"]  # January 2022 itself
