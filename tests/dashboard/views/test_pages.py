"""The pages without a browser: what is written on them, and what their widgets change."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.views.pages import TITLES
from pricing.book.connect import Book
from pricing.dishes.cost import cost_dish
from tests.dashboard.small_kitchen import JUNE, NOW, NOW_OLD_RECIPE
from tests.dashboard.views.reading import cells, figure, fill, form, page, press, table, words
from tests.ingest.invoices.documents import CREDIT_NOTE
from tests.kitchen import TODAY, load, make_book
from tests.pricing.book.other_process import holding


def test_catalogue_shows_then_and_now_of_every_dish(kitchen: Book) -> None:
    app = page("dishes")
    assert not app.exception
    rows = table(app, "Every dish").value.set_index("Dish")
    rows.index = rows.index.str.extract(r"\[(.*)\]", expand=False)
    assert list(rows.index) == ["barley bowl", "barley supper", "saffron barley"]
    bowl = rows.loc["barley bowl"]
    assert [bowl["Printed"], bowl["Then"], bowl["Now"]] == ["$0.40", "$0.40", "$0.50"]
    assert [bowl["Change"], bowl["in %"]] == ["+$0.10", "+25 %"]
    assert bowl["By recipe"] == "−$0.15"
    assert rows.loc["saffron barley", "Now"].endswith("$0.20")


def listed(app: AppTest) -> list[str]:
    return [re.sub(r"\[(.*)\].*", r"\1", row["Dish"]) for row in cells(app, "Every dish")]


def test_catalogue_filters_by_words_by_rework_and_by_evidence(kitchen: Book) -> None:
    app = page("dishes")
    app.text_input("find").set_value("SAFFRON bar").run()
    assert listed(app) == ["saffron barley"]
    app.text_input("find").set_value("").run()
    app.toggle("only_reworked").set_value(True).run()
    assert listed(app) == ["barley bowl", "barley supper"]
    app.toggle("only_reworked").set_value(False).run()
    app.toggle("only_moved").set_value(True).run()
    assert listed(app) == ["saffron barley"]
    app.text_input("find").set_value("no such dish").run()
    assert "No dish passes these filters" in words(app)


def test_catalogue_sorts_by_the_largest_rise(kitchen: Book) -> None:
    app = page("dishes")
    app.selectbox("sort").select("largest rise in %").run()
    shown = table(app, "Every dish").data
    at = [column["name"] for column in shown["columns"]].index("in %")
    changes = [row["cells"][at]["by"] for row in shown["rows"]]
    changes = [-1000.0 if change is None else change for change in changes]
    assert changes == sorted(changes, reverse=True)
    assert len(set(changes)) > 1


def test_dish_page_shows_the_figure_its_evidence_and_then_and_now(kitchen: Book) -> None:
    app = page("dishes", dish="barley bowl")
    assert not app.exception
    assert figure(app) == NOW
    said = words(app)
    assert "At prices of 24 November 2026, complete: all from prices seen" in said
    assert "First printed at $0.40 on 15 June 2026 in Harbour Sheet no. 7." in said
    assert "+$0.10 (+25 %), +$0.25 by prices and −$0.15 by the recipe" in said
    lines = cells(app, "Costed lines")
    assert [each["Cost"] for each in lines] == ["$0.80", "$1.20"]
    assert "seen 14 days ago at Quay Market" in lines[0]["Evidence"]
    assert [each["Ingredient"] for each in lines] == [
        "[pearl barley](ingredients?ingredient=pearl%20barley)",
        "[leek](ingredients?ingredient=leek)",
    ]  # fmt: skip


def test_dish_page_tells_allergens_and_what_the_new_version_does_to_them(kitchen: Book) -> None:
    said = words(page("dishes", dish="barley bowl"))
    records = "Allergens, by the ingredient records"
    assert f"{records}: none named; unknown of leek, pearl barley. Check the labels." in said
    assert f"{records}, from then to now: no change in the records. Check the labels." in said


def test_the_date_picker_and_the_version_picker_change_the_figure(kitchen: Book) -> None:
    app = page("dishes", dish="barley bowl")
    app.date_input("on").set_value(TODAY.replace(month=6, day=15)).run()
    assert figure(app) == JUNE
    app.date_input("on").set_value(TODAY).run()
    app.selectbox("version").select("1").run()
    assert figure(app) == NOW_OLD_RECIPE
    assert "version 1, not the one in force on that day" in words(app)


def test_a_date_in_the_address_is_the_date_costed(kitchen: Book) -> None:
    assert figure(page("dishes", dish="barley bowl", on="2026-06-15")) == JUNE


def test_a_missing_price_makes_the_figure_at_least_and_names_the_gap(kitchen: Book) -> None:
    app = page("dishes", dish="saffron barley")
    assert figure(app) == "at least $0.20"
    assert "saffron: No price of saffron is in the book." in words(app)


def test_sub_recipe_lines_fold_away(kitchen: Book) -> None:
    app = page("dishes", dish="barley supper")
    lines = table(app, "Costed lines")
    names = [name.replace("\u2003", "> ") for name in lines.value["Ingredient"]]
    assert [name.startswith("> ") for name in names] == [False, True, True]
    app.toggle("unfold").set_value(False).run()
    assert len(cells(app, "Costed lines")) == 1
    assert figure(app) == NOW


def test_an_ingredient_says_what_is_typical_and_why(kitchen: Book) -> None:
    app = page("ingredients", ingredient="leek")
    assert figure(app) == "$1.36 per lb"  # 3.00 a kg × 0.45359237 = 1.3608
    said = words(app)
    assert "Seen 14 days ago at Salt Lane." in said  # the offer of 12 November does not count
    assert "No official series is named for this ingredient" in said
    assert app.subheader[0].value == "3 prices in the book"


def test_an_old_price_names_the_series_that_moved_it(kitchen: Book) -> None:
    said = words(page("ingredients", ingredient="butter"))
    assert "Moved from January 2015 by Butter, US city average" in said
    assert "us-bls:SS10011" in said


def test_the_bar_opens_the_form_of_the_ingredient_that_is_shown(kitchen: Book) -> None:
    app = press(page("ingredients", ingredient="leek"), "Log a price")
    assert not app.exception
    assert app.selectbox("price of leek").value == "leek"
    app = press(page("dishes"), "Log a price")
    assert any(each.label == "Price of the pack" for each in app.text_input)


def test_a_price_is_understood_stored_shown_and_taken_back(kitchen: Book) -> None:
    app = fill(form("saffron"), price="6.00", pack="2 g")
    assert "saffron, seen on 24 November 2026: $6.00 for 2 g, that is $1,360.78 per lb" in words(
        app
    )
    assert not cost_dish(kitchen, "saffron barley", on=TODAY).complete
    press(app, "Store this price")
    assert "The price of saffron is stored: 1 row added." in words(app)
    assert app.text_input("price").value == ""
    # 0.20 + 1 g at 6.00 ÷ 2 g, for two portions
    assert cost_dish(kitchen, "saffron barley", on=TODAY).cost_per_portion == pytest.approx(1.70)
    assert page("ingredients", ingredient="saffron").subheader[0].value == "1 price in the book"
    app.button("take_back").click().run()
    assert "Taken back" in words(app)
    assert not cost_dish(kitchen, "saffron barley", on=TODAY).complete


def test_an_unusual_price_must_be_confirmed(kitchen: Book) -> None:
    app = fill(form("leek"), price="30.00", pack="1 kg")
    assert "over three times what the book expects, about $1.36 per lb" in words(app)
    store = next(button for button in app.button if button.label == "Store this price")
    assert store.disabled
    app.checkbox("unusual").set_value(True).run()
    press(app, "Store this price")
    assert "The price of leek is stored" in words(app)


def test_a_price_that_cannot_be_read_is_a_sentence(kitchen: Book) -> None:
    app = fill(form("leek"), price="three", pack="1 sack")
    said = words(app)
    assert "found 'three'" in said
    assert not any(button.label == "Store this price" for button in app.button)


GOOD = b"ingredient,date,price,currency,pack\nleek,2026-11-20,2.75,USD,1 kg\n"
BAD = GOOD + b"leak,2026-11-20,2.75,USD,1 kg\nleek,2026-02-30,2.75,USD,1 kg\n"


def test_a_file_with_two_bad_rows_lists_both_and_stores_nothing(kitchen: Book) -> None:
    app = page("book")
    app.file_uploader("file 0").set_value(("shop.csv", BAD, "text/csv")).run()
    problems = table(app, "Problems of shop.csv").value
    assert list(problems["Line"]) == ["3", "4"]
    assert list(problems["Column"]) == ["ingredient", "date"]
    assert "2 problems; nothing was stored" in words(app)
    assert not any(button.label.startswith("Load") for button in app.button)
    assert page("ingredients", ingredient="leek").subheader[0].value == "3 prices in the book"


def test_a_good_file_is_tried_first_and_stored_by_the_button(kitchen: Book) -> None:
    app = page("book")
    app.file_uploader("file 0").set_value(("shop.csv", GOOD, "text/csv")).run()
    assert "1 row would be added. Nothing is stored yet." in words(app)
    assert page("ingredients", ingredient="leek").subheader[0].value == "3 prices in the book"
    press(app, "Load 1 row")
    assert "shop.csv is stored: 1 row added." in words(app)
    assert page("ingredients", ingredient="leek").subheader[0].value == "4 prices in the book"


def test_an_e_invoice_is_tried_and_its_lines_told(kitchen: Book) -> None:
    app = page("book")
    app.file_uploader("file 0").set_value(("bill.xml", CREDIT_NOTE, "text/xml")).run()
    assert "none of its lines is a price" in words(app)
    assert "Nothing to load from bill.xml." in words(app)
    assert "in the book already" not in words(app)


@pytest.mark.parametrize("name", sorted(TITLES))
def test_an_empty_book_gets_a_sentence_that_says_what_to_do(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = make_book(tmp_path, name="empty.duckdb")
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    app = page(name)
    assert not app.exception
    assert "yet." in app.info[0].value


@pytest.mark.parametrize("name", sorted(TITLES))
def test_a_locked_book_gets_a_sentence_and_the_page_recovers(kitchen: Book, name: str) -> None:
    with holding(kitchen.path, "writing"):
        app = page(name)
        assert not app.exception
        assert "in use by" in words(app)
        assert "try again" in words(app)
    app.run()
    assert "in use by" not in words(app)


@pytest.mark.parametrize("name", sorted(TITLES))
def test_no_book_gets_a_sentence(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(tmp_path / "none.duckdb"))
    app = page(name)
    assert "Found no price book" in words(app)
    monkeypatch.delenv("PORTIONDRIFT_BOOK")
    assert "portiondrift serve" in words(page(name))


def test_a_file_that_is_no_book_gets_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "notes.duckdb"
    path.write_text("not a book\n" * 1000)
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(path))
    assert "cannot be read as a price book" in words(page("dishes"))


def test_what_is_kept_is_dropped_when_the_book_changes(kitchen: Book) -> None:
    app = page("dishes", dish="barley bowl")
    assert figure(app) == NOW
    report = load(kitchen, "prices", "ingredient,date,price,currency,pack,supplier\n"
                  "leek,2026-11-24,5.00,USD,1 kg,Salt Lane")  # fmt: skip
    assert report.added == 1
    # barley 0.80 and leek 0.4 × 5.00 = 2.00, for four
    assert figure(app.run()) == "$0.70"


def test_the_course_of_a_dish_ends_with_the_day_chosen(kitchen: Book) -> None:
    """Before, the 15th of its month was drawn although it comes after the day chosen."""
    for day, last in (("2026-11-10", "10 November 2026"), ("2026-11-20", "20 November 2026")):
        rows = cells(page("dishes", dish="barley bowl", on=day), "Data: Drift chart")
        assert rows[-1]["Prices of"] == last
        assert len(rows) == len({row["Prices of"] for row in rows})
