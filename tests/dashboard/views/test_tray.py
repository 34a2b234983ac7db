"""The page of what waits: decided as proposed, corrected, new, or no ingredient; and taken back."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.views.tray import A_PAGE
from pricing.book.connect import Book
from pricing.contents.choices import list_ingredients
from pricing.dishes.cost import cost_dish
from tests.dashboard.bill import bill
from tests.dashboard.views.reading import page, press, table, words
from tests.ingest.invoices.documents import load_invoice
from tests.kitchen import TODAY, load

LEEK, BARLEY, TOWEL = "LEEKS LOOSE 1KG", "PRL BARLEY 500G", "PAPER TOWEL 2PK"
LINES = [(LEEK, "1", "C62", "2.80"), (BARLEY, "1", "C62", "1.10"), (TOWEL, "1", "C62", "3.00")]


@pytest.fixture
def waiting(kitchen: Book) -> Book:
    """The small kitchen, into which an invoice came whose words it does not know."""
    assert load_invoice(kitchen, bill(LINES)).waiting == 3
    return kitchen


def field(app: AppTest, name: str, described: str, sender: str = "Tarn Hill") -> Any:
    kind = {"tick": app.checkbox, "ingredient": app.selectbox, "base": app.selectbox}
    return kind.get(name, app.text_input)(f"tray {name} {sender}|{described}")


def of_the_tray(app: AppTest) -> list[Any]:
    """Return the choices of what a line is, without those of the bar."""
    return [each for each in app.selectbox if (each.key or "").startswith("tray ")]


def choose(app: AppTest, name: str, described: str, value: str | None) -> AppTest:
    return field(app, name, described).set_value(value).run()


def write_new(app: AppTest, described: str, name: str) -> AppTest:
    """Write a name that no choice has; AppTest itself can only choose."""
    field(app, "ingredient", described).options.append(name)
    return choose(app, "ingredient", described, name)


def prices(book: Book) -> dict[str, tuple[int, date | None]]:
    return {each.ingredient: (each.prices, each.last_on) for each in list_ingredients(book)}


def test_an_empty_tray_says_so_and_what_comes_here(kitchen: Book) -> None:
    app = page("tray")
    assert not app.exception
    assert "Nothing waits for a decision. What comes here: lines of a price list" in words(app)


def test_each_description_stands_with_its_price_by_the_pack_beside_what_is_expected(
    waiting: Book,
) -> None:
    app = page("tray")
    assert not app.exception
    said = words(app)
    assert "3 lines wait for a decision, under 3 descriptions." in said
    assert "from Tarn Hill, 1 line, last $2.80" in said
    assert field(app, "ingredient", LEEK).value == "leek"
    assert field(app, "pack", BARLEY).value == "500 g"
    # 2.80 a kg is 2.80 x 0.45359237 = $1.27 per lb; leek is expected at 3.00 a kg, $1.36
    assert "$1.27 per lb; the book expects $1.36." in said
    assert field(app, "ingredient", TOWEL).value == "not an ingredient"  # by its words
    assert not any(each.value for each in app.checkbox)  # nothing is accepted by itself


def test_sure_ones_are_ticked_by_a_button_and_stored_by_another(waiting: Book) -> None:
    app = page("tray")
    press(app, "Tick the 2 sure ones")
    assert [field(app, "tick", each).value for each in (LEEK, BARLEY, TOWEL)] == [True, True, False]
    assert prices(waiting)["leek"] == (3, date(2026, 11, 12))  # nothing is stored before the press
    app.button("store").click().run()
    said = words(app)
    assert "2 decisions stored." in said
    assert "2 lines of the tray settled: 2 new prices." in said
    assert "1 line waits for a decision, under 1 description." in said
    assert prices(waiting)["leek"] == (4, date(2026, 11, 20))
    assert load_invoice(waiting, bill(LINES, "TH-2")).waiting == 1  # as decided from now on


def test_what_was_stored_is_taken_back_and_waits_again(waiting: Book) -> None:
    app = page("tray")
    press(app, "Tick the 2 sure ones")
    app.button("store").click().run()
    app.button("take_back").click().run()
    assert "Taken back" in words(app)
    assert "3 lines wait for a decision" in words(app)
    assert field(app, "ingredient", LEEK).value == "leek"
    assert prices(waiting)["leek"] == (3, date(2026, 11, 12))


def test_another_ingredient_and_another_pack_are_ticked_and_told_by_their_price(
    waiting: Book,
) -> None:
    app = page("tray")
    choose(app, "pack", BARLEY, "2 kg")
    assert field(app, "tick", BARLEY).value
    # 1.10 for 2 kg is 0.55 a kg, $0.249 per lb; the book expects 2.00 a kg, $0.907
    assert "$0.25 per lb; the book expects $0.91. Under a third of that" in words(app).replace(
        "**", ""
    )
    choose(app, "pack", BARLEY, "500 g")
    choose(app, "ingredient", BARLEY, "saffron")
    app.button("store").click().run()
    assert prices(waiting)["saffron"] == (1, date(2026, 11, 20))
    assert prices(waiting)["pearl barley"] == (2, date(2026, 11, 10))


def test_an_unusual_price_is_refused_beside_its_row_and_taken_when_told_so(waiting: Book) -> None:
    load(waiting, "prices", "ingredient,date,price,currency,pack,kind\n"
         "pearl barley,2026-11-01,2.10,USD,1 kg,invoice")  # fmt: skip
    app = page("tray")
    choose(app, "pack", BARLEY, "2 kg")
    field(app, "tick", LEEK).set_value(True).run()
    app.button("store").click().run()
    said = words(app)
    assert "1 decision stored. 1 still waits: why stands below, first of all." in said
    assert "1 line of the tray settled: 1 new price." in said  # the refused one is none of them
    assert "take it as it is with the tick box above" in said
    assert "--" not in said
    assert app.checkbox[1].label == f"**{BARLEY}**"  # the refused one stands first
    app.checkbox("tray take unusual").set_value(True).run()
    app.button("store").click().run()
    assert prices(waiting)["pearl barley"] == (4, date(2026, 11, 20))


def test_a_new_ingredient_is_made_with_its_facts_and_unknown_allergens(waiting: Book) -> None:
    app = page("tray")
    write_new(app, TOWEL, "leak tops")
    said = words(app)
    assert "The book has no leak tops. Nearest:" in said
    assert "Check the labels." in said
    choose(app, "base", TOWEL, "g")
    choose(app, "pack", TOWEL, "200 g")
    app.button("store").click().run()
    assert "1 decision stored." in words(app)
    assert prices(waiting)["leak tops"] == (1, date(2026, 11, 20))


def test_the_nearest_name_is_taken_by_its_button(waiting: Book) -> None:
    app = page("tray")
    write_new(app, TOWEL, "saffrom")
    press(app, "saffron")
    assert field(app, "ingredient", TOWEL).value == "saffron"
    assert "The book has no" not in words(app)


def test_a_new_name_without_what_it_is_counted_in_is_refused_in_words(waiting: Book) -> None:
    app = page("tray")
    write_new(app, TOWEL, "leak tops")
    choose(app, "base", TOWEL, None)
    app.button("store").click().run()
    said = words(app)
    assert "Nothing was stored. 1 still waits" in said
    assert "choose above how its prices are counted, to make it a new one" in said
    assert field(app, "ingredient", TOWEL).value == "leak tops"  # what was written stays


def test_facts_of_a_new_ingredient_are_proposed_with_their_source_and_may_be_changed(
    waiting: Book,
) -> None:
    app = page("tray")
    write_new(app, TOWEL, "onion")
    # USDA SR28, onions, raw (11282): a medium one 110 g edible, 10 % refuse: 110 ÷ 0.9 = 122 g
    assert field(app, "grams_each", TOWEL).value == "122"
    assert field(app, "yield_pct", TOWEL).value == "90"
    said = words(app)
    assert "Proposed, to be looked over:" in said
    assert "% left after trimming: " in said
    choose(app, "yield_pct", TOWEL, "85")
    choose(app, "base", TOWEL, "each")
    assert field(app, "yield_pct", TOWEL).value == "85"  # what was written stays


def test_a_cleared_field_stays_empty(waiting: Book) -> None:
    app = page("tray")
    choose(app, "ingredient", LEEK, None)
    assert field(app, "ingredient", LEEK).value is None
    app.button("store").click().run()
    assert "Choose what it is, or untick it." in words(app)


def test_not_an_ingredient_is_set_aside_once(waiting: Book) -> None:
    app = page("tray")
    field(app, "tick", TOWEL).set_value(True).run()  # as it is proposed
    app.button("store").click().run()
    assert "2 lines wait for a decision" in words(app)
    again = load_invoice(waiting, bill([(TOWEL, "2", "C62", "3.10")], "TH-3"))
    assert again.waiting == 0


def test_a_tick_without_an_ingredient_says_what_to_do(waiting: Book) -> None:
    app = page("tray")
    choose(app, "ingredient", TOWEL, None)
    app.button("store").click().run()
    assert "Choose what it is, or untick it." in words(app)


def test_ticks_and_words_are_kept_over_the_pages_of_a_long_tray(kitchen: Book) -> None:
    many = [(f"MYSTERY ITEM {each:02}", "1", "C62", "1.00") for each in range(A_PAGE + 5)]
    load_invoice(kitchen, bill(many))
    app = page("tray")
    assert len(of_the_tray(app)) == A_PAGE
    choose(app, "ingredient", "MYSTERY ITEM 03", "not an ingredient")
    app.get("pagination")[0].set_value(2).run()
    assert len(of_the_tray(app)) == 5
    choose(app, "ingredient", "MYSTERY ITEM 28", "not an ingredient")
    press_first = next(each for each in app.button if each.key == "store")
    assert press_first.label == "Store 2 decisions"
    press_first.click().run()
    assert f"{A_PAGE + 3} lines wait for a decision" in words(app)
    app.text_input("tray find").set_value("item 17").run()
    assert [each.label for each in app.checkbox] == ["**MYSTERY ITEM 17**"]


def test_a_dish_that_waits_leads_to_the_tray_and_costs_at_least(kitchen: Book) -> None:
    load(kitchen, "dishes", """
        dish,version,effective_from,portions,ingredient,quantity,unit
        salt barley,1,2026-06-01,2,pearl barley,200,g
        salt barley,1,2026-06-01,2,waiting: smoked salt,5,g
    """)  # fmt: skip
    app = page("dish", dish="salt barley")
    assert "smoked salt (waits for a decision)" in words(app)
    assert "waiting: " not in words(app)
    lines = table(app, "Costed lines").value
    assert lines["Ingredient"].iloc[1] == "[smoked salt (waits for a decision)](book?part=tray)"
    assert "portiondrift tray" not in words(app) + " ".join(lines["Evidence"])
    assert not cost_dish(kitchen, "salt barley", on=TODAY).complete
    app = page("tray")
    assert "in the recipe of salt barley" in words(app)
    field(app, "ingredient", "smoked salt", sender="").set_value("butter").run()
    app.button("store").click().run()
    assert "1 recipe line settled in 1 dish version." in words(app)
    assert cost_dish(kitchen, "salt barley", on=TODAY).complete


def test_a_file_with_unknown_words_says_how_many_lines_wait_and_where(kitchen: Book) -> None:
    app = page("book")
    app.file_uploader("file 0").set_value(("bill.xml", bill(LINES), "text/xml")).run()
    said = words(app)
    assert "Read as an e-invoice (UBL)." in said
    assert "3 lines wait for a decision: their words are not known yet" in said
    assert "portiondrift tray" not in said
    press(app, "Let the lines wait in the Tray")
    assert "3 lines wait for a decision: decide in the Tray" in [
        each.label for each in app.get("page_link")
    ]


def test_a_table_is_pasted_like_a_file(kitchen: Book) -> None:
    app = page("book")
    text = "ingredient,date,price,currency,pack\nleek,2026-11-20,2.75,USD,1 kg\n"
    app.text_area("pasted prices 0").set_value(text).run()
    assert "pasted text can be loaded: 1 row would be added." in words(app)
    press(app, "Load 1 row")
    assert "pasted text is stored: 1 row added." in words(app)


def test_a_new_name_is_proposed_by_the_words_and_made_when_it_is_ticked(kitchen: Book) -> None:
    load_invoice(kitchen, bill([("ZORVIK CHDR 454G", "1", "C62", "4.50")]))
    app = page("tray")
    described = "ZORVIK CHDR 454G"
    assert field(app, "ingredient", described).value == "cheddar"
    assert "A name proposed by its words." in words(app)
    assert not field(app, "tick", described).value
    field(app, "tick", described).set_value(True).run()
    assert field(app, "base", described).value == "g"
    app.button("store").click().run()
    assert "1 decision stored." in words(app)
    assert prices(kitchen)["cheddar"][0] == 1


def test_an_address_in_a_description_is_shown_as_text(kitchen: Book) -> None:
    load_invoice(kitchen, bill([('=HYPERLINK("http://e.x") ZRV', "1", "C62", "2.80")]))
    labels = [each.label for each in page("tray").checkbox]
    assert any("e.x" in each for each in labels)
    assert not any("http://" in each for each in labels)
