"""The page of the season: twelve months, how strong, read from what, and when there is none."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from dashboard.charts.season import season_chart
from dashboard.tables.season import month_rows
from dashboard.terminal.season import season_text
from dashboard.words.season import cheap_months, season_sentence, strength_words
from pricing.book.connect import Book
from pricing.season.season import Season
from tests.dashboard.views.reading import cells, figures, page, words
from tests.kitchen import make_book

# January to December; each half of the year undoes the other, so they multiply to 1
SEASON = [1.3, 1.2, 1.1, 1.0, 0.9, 0.85, 1 / 1.3, 1 / 1.2, 1 / 1.1, 1.0, 1 / 0.9, 1 / 0.85]


def season(relatives: list[float], strength: float) -> Season:
    return Season(
        name="leek", source="own", series=None, series_title=None, first_month="2020-01",
        last_month="2025-12", relatives=tuple(relatives), strength=strength,
        cheapest=relatives.index(min(relatives)) + 1, dearest=relatives.index(max(relatives)) + 1,
        spread_pct=100 * (max(relatives) / min(relatives) - 1),
    )  # fmt: skip


@pytest.fixture
def seasonal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    """Leek with a season of its series, salt without any; soup is three quarters leek by cost."""
    months = [date(2016 + at // 12, at % 12 + 1, 1) for at in range(84)]
    index = "series,month,value,title\n" + "\n".join(
        f"t:leek,{month:%Y-%m},{100 * SEASON[month.month - 1]:.6f},Leeks" for month in months
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
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    return book


def test_of_an_ingredient_by_its_official_series(seasonal: Book) -> None:
    app = page("ingredients", ingredient="leek")
    assert not app.exception
    # the cheapest is July, 1 ÷ 1.3; the dearest January, 1.3, which is 69 % more
    shown = figures(app)
    assert [shown[each] for each in ("Cheapest month", "Dearest month", "Pattern")] == [
        "July", "January", "strong",
    ]  # fmt: skip
    said = words(app)
    assert "Cheapest month for leek: July, then August and June. January, the dearest, is" in said
    assert "is 69.0 % above July." in said
    assert "A strong pattern: it explains 100 % of the swings about the trend." in said
    assert "Read from the official series Leeks, January 2016 to December 2022." in said
    assert shown["Typical price today"].startswith("$1.36")  # its prices, on the same page


def test_of_a_dish_by_its_ingredients(seasonal: Book) -> None:
    app = page("dishes", dish="soup", cheap="yes")
    assert not app.exception
    said = words(app)
    # in January three quarters at 1.25 and a quarter as it is: 1.225; in July 0.8269
    assert "Cheapest month for soup: July" in said
    assert f"is {100 * (1.225 / (0.75 / 1.3 + 0.25) - 1):.1f} % above July." in said
    assert "Ingredients without a known pattern, 25 % of the cost, count as even." in said
    leek, salt = cells(app, "The patterns behind the season of soup")
    assert (leek["Share"], leek["Cheapest"], leek["Pattern"]) == ("75 %", "July", "strong (100 %)")
    assert (salt["Share"], salt["Cheapest"], salt["Pattern"]) == ("25 %", "—", "not known")


def test_of_an_ingredient_without_a_pattern_is_a_sentence(seasonal: Book) -> None:
    app = page("ingredients", ingredient="salt")
    assert not app.exception
    assert "Found neither three years of own prices of salt" in words(app)


def test_it_is_a_section_of_a_dish_and_of_an_ingredient(kitchen: Book) -> None:
    app = page("dishes", dish="barley bowl")
    assert "[When it is cheap](#when-cheap)" in words(app)
    assert "when-cheap" in [each.proto.anchor for each in app.subheader]
    app = page("ingredients", ingredient="butter")
    assert "season" in [each.proto.anchor for each in app.subheader]


def test_a_book_with_ingredients_and_no_dishes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = make_book(tmp_path, {"ingredients": "ingredient,base,series\nbutter,g,us-bls:SS10011"})
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    app = page("ingredients", ingredient="butter")
    assert "Read from the official series Butter, US city average" in words(app)
    app = page("dishes", dish="soup", cheap="yes")
    assert [each.value for each in app.header] == ["No dish is called “soup”"]
    assert "The book holds no dishes yet." in words(page("dishes"))


def test_the_cheap_months_are_filled_and_every_month_can_be_read_aloud() -> None:
    rows = month_rows(season(SEASON, 0.9))
    assert list(rows["month"][rows["cheap"]]) == ["Jun", "Jul", "Aug"]
    assert rows["said"].iloc[6] == "July: −23.1 %, one of the cheapest months"
    spec = season_chart(rows).to_dict()
    full, hollow = (each for each in spec["layer"] if each["mark"]["type"] == "bar")
    assert [len(spec["datasets"][each["data"]["name"]]) for each in (full, hollow)] == [3, 9]
    assert full["mark"]["fill"] != hollow["mark"]["fill"]
    shown = [
        row["shown"]
        for each in spec["layer"]
        if each["mark"]["type"] == "text"
        for row in spec["datasets"][each["data"]["name"]]
    ]
    assert len(shown) == 12


def test_where_there_is_hardly_a_pattern_no_month_is_called_cheap() -> None:
    found = season(SEASON, 0.2)
    assert cheap_months(found) == []
    assert "No season to speak of" in season_sentence(found)
    assert strength_words(found).startswith("Hardly a pattern: it explains only 20 %")
    assert not month_rows(found)["cheap"].any()


def test_in_a_terminal_the_same_words_and_the_twelve_months() -> None:
    shown = season_text(season(SEASON, 0.45))
    assert "A weak pattern: it explains 45 % of the swings about the trend." in shown
    assert "this kitchen's own prices, seen every month, January 2020 to December 2025" in (
        shown.replace("\n", " ")
    )
    assert "July                −23.1 %" in shown


def test_a_season_that_cannot_be_told_does_not_draw_the_page_again_and_again(
    seasonal: Book,
) -> None:
    """Before, each refusal made the page try again every few seconds, under the reader's hands."""
    app = page("ingredients", ingredient="salt")
    assert "Found" in words(app)
    assert not app.session_state["refused"]
