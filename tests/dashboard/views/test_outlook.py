"""The section of a dish that looks ahead, and the line about it in the reprint round."""

from __future__ import annotations

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.views import outlook_loaders
from pricing.book.connect import Book
from tests.dashboard.ahead_kitchen import FILES, ahead_kitchen
from tests.dashboard.views.reading import cells, page, words
from tests.dashboard.views.test_read_once import counted
from tests.kitchen import load, make_book

FOUR_MONTHS = {"ahead": "yes"}


@pytest.fixture
def ahead(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    book = ahead_kitchen(tmp_path)
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    return book


def soup(**asked: str) -> AppTest:
    app = page("dishes", dish="soup", **asked)
    assert not app.exception
    return app


def test_it_is_a_section_that_asks_nothing_before_it_is_opened(
    ahead: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = counted(monkeypatch, outlook_loaders, "outlook")
    app = soup()
    assert "outlook" in [each.proto.anchor for each in app.subheader]
    assert "[When the issue is out](#outlook)" in words(app)
    assert (asked, "forecasts" in words(app)) == ([], False)
    app.toggle("ahead").set_value(True).run()
    assert len(asked) == 1
    assert app.query_params["ahead"] == "yes"


def test_two_ranges_the_chance_of_the_dishs_target_and_what_they_rest_on(ahead: Book) -> None:
    app = soup(**FOUR_MONTHS)
    said = words(app)
    assert (
        "Outlook for soup, version 1, to 24 March 2027 (4 months ahead); $11.00 per portion" in said
    )
    assert "**In four of five such forecasts the cost ended within $10.00 to $12.10.**" in said
    assert "**In one of two such forecasts the cost ended within $10.00 to $12.10.**" in said
    # its own target is today's cost, and a tenth up is as likely as a tenth down
    assert "The chance that a portion costs $11.00 or less then: about 50 %." in said
    assert "An outlook, no promise" in said
    leek, salt = cells(app, "The official series that carry the outlook of soup")
    assert leek == {
        "Ingredient": "[leek](ingredients?ingredient=leek)", "Share": "73 %",
        "Moves as": "Vegetables", "Where its own is short": "—",
    }  # fmt: skip
    assert (salt["Share"], salt["Moves as"]) == ("27 %", "Salt")
    assert salt["Where its own is short"] == "Vegetables (220 of 240)"


def test_a_date_stands_for_its_months_and_a_target_is_typed(ahead: Book) -> None:
    app = soup(ahead="yes", until="day", out_on="2027-03-20")  # 116 days ÷ 30.4 = 3.8: 4 months
    assert "to 20 March 2027 (4 months ahead)" in words(app)
    assert "within $10.00 to $12.10" in words(app)
    app.number_input("within").set_value(9.0).run()
    assert "The chance that a portion costs $9.00 or less then: about" in words(app)
    assert app.query_params["within"] == "9"
    app.number_input("within").set_value(None).run()
    assert "The chance" not in words(app)


def test_months_are_kept_in_the_address(ahead: Book) -> None:
    app = soup(**FOUR_MONTHS)
    app.number_input("months").set_value(6).run()
    assert "to 24 May 2027 (6 months ahead)" in words(app)
    assert app.query_params["months"] == "6"
    assert soup(ahead="yes", months="99").number_input("months").value == 36
    assert soup(ahead="yes", months="some").number_input("months").value == 4


@pytest.mark.parametrize(
    ("day", "sentence"),
    [
        ("2026-11-24", "expected one after today (24 November 2026)"),
        ("2020-01-01", "Found the date 1 January 2020; expected one after today"),
        ("2031-01-01", "up to 24 November 2029"),
    ],
)
def test_a_day_that_is_not_ahead_is_a_sentence_and_is_not_tried_again(
    ahead: Book, day: str, sentence: str
) -> None:
    app = soup(ahead="yes", until="day", out_on=day)
    assert sentence in words(app)
    assert "forecasts the cost ended" not in words(app)
    assert app.session_state["refused"] is False


def test_without_any_series_it_is_a_sentence(kitchen: Book, tmp_path: Path,
                                             monkeypatch: pytest.MonkeyPatch) -> None:  # fmt: skip
    files = {kind: FILES[kind] for kind in ("prices", "dishes")}
    bare = {"ingredients": "ingredient,base\nleek,g\nsalt,g", **files, "printed": FILES["printed"]}
    book = make_book(tmp_path / "bare", bare, series=())
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    app = soup(**FOUR_MONTHS)
    assert "Found no ingredient of 'soup' with a price and an official series" in words(app)
    assert app.session_state["refused"] is False
    app = page("print", part="round")
    assert not app.exception
    assert "Found no ingredient of any dish with a price and an official series" in words(app)
    assert not app.warning


def test_a_line_without_a_price_makes_it_at_least(ahead: Book) -> None:
    more = """
        dish,version,effective_from,portions,ingredient,quantity,unit
        broth,1,2020-01-01,1,leek,1,kg
        broth,1,2020-01-01,1,sage,1,g
    """
    assert load(ahead, "dishes", more).problems == ()
    said = words(page("dishes", dish="broth", ahead="yes"))
    # of the leek alone: 8.00 ÷ 1.1 and × 1.1
    assert "the cost ended within at least $7.27 to $8.80" in said
    assert "At least, because these lines have no price: sage." in said


def test_prices_of_a_shop_left_out_do_not_count_today(ahead: Book) -> None:
    dear = """
        ingredient,date,price,currency,pack,supplier
        leek,2026-11-10,12.00,USD,1 kg,Salt Lane
    """
    assert load(ahead, "prices", dear).problems == ()
    assert "$13.00 per portion today" in words(soup(**FOUR_MONTHS))  # (8 + 12) ÷ 2 + 3
    assert "$11.00 per portion today" in words(soup(ahead="yes", without="Salt Lane"))


def test_it_starts_from_today_whatever_day_stands_in_the_bar(ahead: Book) -> None:
    said = words(soup(ahead="yes", on="2026-11-12"))
    assert "to 24 March 2027 (4 months ahead)" in said
    assert "It starts from today's prices, not from those of the day in the bar." in said
    assert "the day in the bar" not in words(soup(**FOUR_MONTHS))


def test_the_reprint_round_ends_with_the_mean_or_the_chosen_dish(ahead: Book) -> None:
    said = words(page("print", part="round"))
    line = "such forecasts {} ended within $10.00 to $12.10 a portion; it is $11.00 today."
    assert (
        f"4 months ahead, to 24 March 2027: in four of five {line.format('the mean of 1 dish')}"
        in said
    )
    said = words(page("print", part="round", dish="soup"))
    assert line.format("soup, version 1") in said
