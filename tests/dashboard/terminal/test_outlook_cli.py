"""`outlook` as a reader types it, on the demo kitchen."""

from __future__ import annotations

from pathlib import Path

import pytest

from pricing.book.connect import Book
from tests.kitchen import make_book
from tests.terminal import answer, run

DISH = "macaroni and cheddar bake"


def test_ranges_stand_around_todays_cost_and_a_target_has_its_chance(demo: Book) -> None:
    found = answer("outlook", DISH, "--months", "4", "--target", "1.5", "--json", book=demo.path)
    cost = answer("cost", DISH, "--json", book=demo.path)
    assert found["now"] == pytest.approx(cost["cost_per_portion"], rel=1e-12)
    assert found["on"] == "2027-03-24"
    half, most = found["ranges"]
    assert (half["share"], most["share"]) == (0.5, 0.8)
    assert most["low"] < half["low"] < half["high"] < most["high"]
    assert found["reach"]["amount"] == 1.5
    assert 0.9 < found["reach"]["chance"] < 1
    assert sum(each["share"] for each in found["series"]) == pytest.approx(1)


def test_a_date_is_the_nearest_number_of_months(demo: Book) -> None:
    by_date = answer("outlook", DISH, "--on", "2027-03-20", "--json", book=demo.path)
    by_months = answer("outlook", DISH, "--months", "4", "--json", book=demo.path)
    assert by_date["months"] == 4  # 116 days ÷ 30.4 = 3.8
    assert by_date["ranges"] == by_months["ranges"]


def test_the_words_are_a_cooks(demo: Book) -> None:
    done = run("outlook", "--on", "2027-03-24", "--target", "2", book=demo.path)
    assert done.returncode == 0
    told = " ".join(done.stdout.split())
    assert "In four of five such forecasts the cost ended within $" in told
    assert "In one of two such forecasts the cost ended within $" in told
    assert "the mean of 20 dishes" in told
    assert "The chance that a portion costs $2.00 or less then: about " in told
    assert "lamb shoulder: its own series is short, has gaps or has ended" in told
    assert "names no series, so leans on Food at home" in told


def test_a_line_without_a_price_makes_it_at_least(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base,series\nrice,g,us-bls:SAF11\nsaffron,g,",
            "prices": "ingredient,date,price,currency,pack\nrice,2026-11-10,2.00,USD,1 kg",
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                bowl,1,2026-01-01,1,rice,500,g
                bowl,1,2026-01-01,1,saffron,1,g
            """,
        },
        series=("us-bls:SAF11",),
    )
    found = answer("outlook", "bowl", "--months", "3", "--json", book=book.path, status=1)
    assert (found["complete"], found["missing"], found["now"]) == (False, ["saffron"], 1.0)
    done = run("outlook", "bowl", "--months", "3", book=book.path)
    assert done.returncode == 1
    assert "ended within at least $" in done.stdout
    assert "saffron" in done.stdout


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["--months", "0"], "Found 0 months; expected a whole number from 1 to 36."),
        (["--months", "37"], "Found 37 months; expected a whole number from 1 to 36."),
        (["--on", "2026-11-24"], "expected one after today (24 November 2026)"),
        (["--on", "2030-01-01"], "up to 24 November 2029"),
        ([], "Found neither months nor a date"),
        (["--months", "3", "--on", "2027-01-01"], "Found both months and a date"),
        (["--months", "3", "--target", "-1"], "Found the target -1"),
        (["--months", "3", "--version", "9"], "Found a version and no dish"),
        (["--check", "--months", "3"], "Found --check beside other words"),
    ],
)
def test_what_cannot_be_asked_is_one_sentence(words: list[str], sentence: str, demo: Book) -> None:
    done = run("outlook", *words, book=demo.path)
    assert done.returncode == 2
    assert sentence in done.stderr
    assert done.stdout == ""
