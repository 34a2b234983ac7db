"""Every public function takes a date as one or as a text, and refuses in words what is none."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

import pricing
from pricing.book.connect import Book
from pricing.errors import DateRefused
from tests.kitchen import make_book

FOOD = "us-bls:SAF11"
DAY, MONTH = "2026-11-01", "2026-08"
Asked = Callable[[Book, Any], Any]
BY_DAY: dict[str, Asked] = {
    "cost_dish": lambda book, on: pricing.cost_dish(book, "bowl", on=on),
    "cost_dish of a recipe day": lambda book, on: pricing.cost_dish(
        book, "bowl", on=date(2026, 11, 1), recipe_day=on
    ),
    "compare": lambda book, on: pricing.compare(book, "bowl", then="2026-06-15", now=on),
    "compare of a recipe day": lambda book, on: pricing.compare(
        book, "bowl", then="2026-06-15", now="2026-11-01", recipe_day=on
    ),
    "compare with a version": lambda book, on: pricing.compare(
        book, "bowl", then=(on, "1"), now="2026-11-24"
    ),
    "rank_drivers": lambda book, on: pricing.rank_drivers(book, then="2026-06-15", now=on),
    "rank_drivers from": lambda book, on: pricing.rank_drivers(book, then=on, now="2026-11-24"),
    "find_swaps": lambda book, on: pricing.find_swaps(book, "bowl", on=on),
    "catalogue_swaps": lambda book, on: pricing.catalogue_swaps(book, on=on),
    "shop_for": lambda book, on: pricing.shop_for(book, {"bowl": 1}, on=on),
    "side_by_side": lambda book, on: pricing.side_by_side(
        book, ["bowl"], on=on, add=[("side of rice", "1 portion")]
    ),
    "cost_dishes": lambda book, on: pricing.cost_dishes(book, on=on),
    "cost_all": lambda book, on: pricing.cost_all(book, on=on).to_dict("records"),
    "record_printed": lambda book, on: pricing.record_printed(book, "bowl", on=on).published_on,
    "record_printed as costed": lambda book, on: pricing.record_printed(
        book, "bowl", on="2026-12-01", costed_on=on
    ).costed_on,
    "check_printed": lambda book, on: pricing.check_printed(book, on=on),
    "reprint_round": lambda book, on: pricing.reprint_round(book, on=on),
    "reprint_round by": lambda book, on: pricing.reprint_round(book, on="2026-06-15", by=on).by,
    "said_and_known": lambda book, on: pricing.said_and_known(book, published_on=on),
}  # fmt: skip
LATER: dict[str, Asked] = {  # a day still to come
    "outlook": lambda book, on: pricing.outlook(book, "bowl", on=on),
}
BY_MONTH: dict[str, Asked] = {
    "rebase": lambda book, on: pricing.rebase(book, 5.0, start=on, end="2026-08", series=FOOD),
    "rebase to": lambda book, on: pricing.rebase(book, 5.0, start="2020-01", end=on, series=FOOD),
    "drift": lambda book, on: pricing.drift(book, start=on, end="2026-11").to_dict("records"),
    "drift_points": lambda book, on: pricing.drift_points(book, start="2026-06", end=on),
    "measure_inflation": lambda book, on: pricing.measure_inflation(book, start="2026-06", end=on),
}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(
        tmp_path,
        {
            "ingredients": f"ingredient,base,series\nrice,g,{FOOD}",
            "prices": """
                ingredient,date,price,currency,pack
                rice,2026-06-10,2.00,USD,1 kg
                rice,2026-10-28,2.20,USD,1 kg
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                bowl,1,2026-01-01,1,rice,100,g
                side of rice,1,2026-01-01,1,rice,50,g
            """,
        },
        series=(FOOD,),
    )


@pytest.mark.parametrize("name", BY_DAY)
def test_a_date_as_a_text_is_that_date(name: str, book: Book, tmp_path: Path) -> None:
    copy = tmp_path / "copy.duckdb"  # `record_printed` writes
    copy.write_bytes(book.path.read_bytes())
    asked = BY_DAY[name]
    assert asked(book, DAY) == asked(Book(path=copy), date(2026, 11, 1))


@pytest.mark.parametrize("name", LATER)
def test_a_later_date_as_a_text_is_that_date(name: str, book: Book) -> None:
    assert LATER[name](book, "2027-02-01") == LATER[name](book, date(2027, 2, 1))


def test_a_moment_is_its_day(book: Book) -> None:
    noon = datetime(2026, 11, 1, 12, tzinfo=UTC)
    assert pricing.cost_dish(book, "bowl", on=noon) == pricing.cost_dish(book, "bowl", on=DAY)


@pytest.mark.parametrize("name", BY_MONTH)
@pytest.mark.parametrize("same", ["2026-08-01", date(2026, 8, 31)])
def test_a_month_as_a_date_in_it_is_that_month(name: str, same: object, book: Book) -> None:
    asked = BY_MONTH[name]
    assert asked(book, same) == asked(book, MONTH)


@pytest.mark.parametrize("name", [*BY_DAY, *LATER, *BY_MONTH])
@pytest.mark.parametrize(
    "found", ["2026-02-30", "1.11.2026", "", "2026-11-1", "now\x00", 20261101, 2.5]
)
def test_what_is_no_date_is_refused_in_words(name: str, found: object, book: Book) -> None:
    asked = {**BY_DAY, **LATER, **BY_MONTH}[name]
    with pytest.raises(DateRefused, match=r"Found the (date|month) .*; expected YYYY-MM"):
        asked(book, found)


def test_every_public_function_that_takes_a_date_is_tried_here() -> None:
    tried = {name.split(" ")[0] for name in [*BY_DAY, *LATER, *BY_MONTH]}
    frames = {"prices_frame", "dishes_frame", "ingredients_frame", "printed_frame", "load_frame"}
    no_date = {"Book", "PortionDriftError", "open_book", *frames}
    assert tried | no_date == set(pricing.__all__)
