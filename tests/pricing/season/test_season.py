"""The pattern of the year, recovered from series made by hand."""

from __future__ import annotations

import math
from datetime import date
from pathlib import Path

import pytest

from pricing.errors import SeriesRefused
from pricing.season.season import season_of_dish, season_of_ingredient
from pricing.season.year_pattern import year_pattern
from tests.kitchen import make_book

# January to December; they multiply to 1 (each with its opposite half a year on)
SEASON = [1.25, 1.2, 1.1, 1.0, 0.9, 0.85, 1 / 1.25, 1 / 1.2, 1 / 1.1, 1.0, 1 / 0.9, 1 / 0.85]


def months(count: int, start: int = 2016) -> list[date]:
    return [date(start + at // 12, at % 12 + 1, 1) for at in range(count)]


def test_a_made_pattern_on_a_steady_trend_is_found_whole() -> None:
    values = {month: 3 * 1.004**at * SEASON[month.month - 1] for at, month in enumerate(months(84))}
    found = year_pattern(values)
    assert found is not None
    assert found.relatives == pytest.approx(SEASON, rel=1e-9)
    assert math.prod(found.relatives) == pytest.approx(1)
    assert found.strength == pytest.approx(1, abs=1e-9)
    assert (found.first_month, found.last_month) == ("2016-01", "2022-12")


def test_without_a_pattern_the_strength_is_nothing() -> None:
    trend = {month: 2 * 1.01**at for at, month in enumerate(months(60))}
    found = year_pattern(trend)
    assert found is not None
    assert found.relatives == pytest.approx([1.0] * 12)
    assert found.strength == 0


def test_under_three_years_or_with_a_gap_nothing_is_told() -> None:
    assert year_pattern(dict.fromkeys(months(35), 1.0)) is None
    assert year_pattern(dict.fromkeys(months(36), 1.0)) is not None
    holed = {month: 1.0 for at, month in enumerate(months(60)) if at != 40}
    assert year_pattern(holed) is None
    assert year_pattern({}) is None


def test_of_an_ingredient_and_a_dish(tmp_path: Path) -> None:
    index = "series,month,value,title\n" + "\n".join(
        f"t:leek,{month:%Y-%m},{100 * SEASON[month.month - 1]:.6f},Leeks" for month in months(84)
    )
    book = make_book(
        tmp_path,
        {
            "index": index,
            "ingredients": "ingredient,base,series\nleek,g,t:leek\nsalt,g,",
            "prices": """
                ingredient,date,price,currency,pack
                leek,2026-11-10,3.00,USD,1 kg
                salt,2026-11-10,1.00,USD,1 kg
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                soup,1,2019-01-01,1,leek,500,g
                soup,1,2019-01-01,1,salt,500,g
            """,
        },
    )
    leek = season_of_ingredient(book, "leek")
    assert (leek.source, leek.series, leek.cheapest, leek.dearest) == ("official", "t:leek", 7, 1)
    assert leek.spread_pct == pytest.approx(100 * (1.25 * 1.25 - 1), abs=1e-3)
    # three quarters of the cost is leek (1.50 of 2.00), salt is even over the year
    soup = season_of_dish(book, "soup", on=date(2026, 11, 24))
    assert soup.relatives[0] == pytest.approx(0.75 * 1.25 + 0.25, abs=1e-5)
    assert soup.strength == pytest.approx(0.75, abs=1e-3)
    with pytest.raises(SeriesRefused, match="Found neither three years"):
        season_of_ingredient(book, "salt")


def test_a_line_that_waits_for_a_decision_has_no_pattern(tmp_path: Path) -> None:
    index = "series,month,value,title\n" + "\n".join(
        f"t:leek,{month:%Y-%m},{100 * SEASON[month.month - 1]:.6f},Leeks" for month in months(84)
    )
    book = make_book(
        tmp_path,
        {
            "index": index,
            "ingredients": "ingredient,base,series\nleek,g,t:leek",
            "prices": "ingredient,date,price,currency,pack\nleek,2026-11-10,3.00,USD,1 kg",
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                soup,1,2019-01-01,1,leek,500,g
                soup,1,2019-01-01,1,waiting: smoked salt,5,g
            """,
        },
    )
    soup = season_of_dish(book, "soup", on=date(2026, 11, 24))
    # all that is known of its cost is leek
    assert (soup.cheapest, soup.dearest, soup.complete) == (7, 1, False)


def test_own_prices_count_where_they_were_seen_every_month(tmp_path: Path) -> None:
    rows = "\n".join(
        f"leek,{date(2020 + at // 12, at % 12 + 1, 10)},{4 * SEASON[at % 12]:.4f},USD,1 kg"
        for at in range(82)
    )
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\nleek,g",
            "prices": f"ingredient,date,price,currency,pack\n{rows}",
        },
    )
    leek = season_of_ingredient(book, "leek")
    assert (leek.source, leek.cheapest, leek.dearest) == ("own", 7, 1)
    assert leek.relatives == pytest.approx(SEASON, rel=1e-3)
