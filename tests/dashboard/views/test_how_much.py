"""A dish planned to a budget: how much of an ingredient, which portion, and lines at other sizes.

A batch of four portions of soup is 4 kg of leek at $8.00 and 4 kg of salt at $3.00: 32 + 12 = 44,
$11.00 a portion (tests/dashboard/ahead_kitchen.py); it weighs 8 kg.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from pricing.book.connect import Book
from tests.dashboard.ahead_kitchen import ahead_kitchen
from tests.dashboard.views.reading import cells, figures, page, words


@pytest.fixture
def soup(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    book = ahead_kitchen(tmp_path)
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    return book


def how_much(dish: str = "soup", **asked: str) -> AppTest:
    app = page("dishes", dish=dish, way="amount", **asked)
    assert not app.exception
    return app


def test_what_is_left_of_the_target_buys_the_ingredient(soup: Book) -> None:
    app = how_much(target="9", of="leek")
    assert figures(app)["Cost per portion"] == "$11.00"
    # 4 × 9.00 = 36.00 less the salt's 12.00 = 24.00, 3 kg at 8.00
    assert (
        "**At $9.00 a portion, a batch of 4 portions may take 3 kg of leek as purchased, and all "
        "else as it is; it takes 4 kg now.**"
    ) in words(app)
    # 44 ÷ 9 = 4.9: five, of 8 kg ÷ 5 = 1.6 kg, at 44 ÷ 5 = 8.80
    assert "makes 5 portions of 80 % of a portion now (1.6 kg), at $8.80 each." in words(app)


def test_the_dishs_own_target_is_there_and_the_dearest_stands_first(soup: Book) -> None:
    app = how_much()
    assert app.number_input("target").value == 11.0
    choose = app.selectbox("of")
    assert choose.options == ["leek", "salt"]
    assert "Enter a target and choose an ingredient" in words(app)
    choose.select("salt").run()
    assert app.query_params["of"] == "salt"
    assert "may take 4 kg of salt as purchased" in words(app)  # 44 − 32 = 12 buys 4 kg
    assert "The batch as it is meets it in 4 portions; in fewer it does not." in words(app)


def test_where_the_rest_alone_costs_more_no_amount_is_told(soup: Book) -> None:
    app = how_much(target="2.5", of="leek")
    # 12 of salt over 4 portions
    assert "Without any leek a portion costs $3.00: no amount of it meets $2.50." in words(app)


@pytest.mark.parametrize(
    "asked", [{"of": "no such thing"}, {"target": "0"}, {"of": "leek", "target": ""}]
)
def test_an_address_that_asks_for_what_is_not_there_still_opens(
    soup: Book, asked: dict[str, str]
) -> None:
    assert "Enter a target and choose an ingredient" in words(how_much(**asked))


def test_a_line_without_a_price_is_a_sentence(kitchen: Book) -> None:
    app = how_much("saffron barley", target="1", of="pearl barley")
    assert "Found a line of 'saffron barley' without a price" in words(app)


def test_the_lines_are_scaled_to_so_many_portions(soup: Book) -> None:
    app = page("dishes", dish="soup")
    assert "At prices of 24 November 2026: $44.00 for 4 portions." in words(app)
    app.number_input("portions").set_value(10.0).run()
    assert app.query_params["portions"] == "10"
    assert "At prices of 24 November 2026: $110.00 for 10 portions, scaled from 4." in words(app)
    leek, salt = cells(app, "Costed lines of soup")
    assert (leek["Recipe"], leek["As purchased"], leek["Cost"]) == ("10 kg", "10 kg", "$80.00")
    assert (salt["Recipe"], salt["Cost"]) == ("10 kg", "$30.00")
    assert figures(app)["Cost per portion"] == "$11.00"
