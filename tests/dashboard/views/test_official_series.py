"""The page of official series without a browser: what is loaded, who leans on it, files."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pandas as pd
import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from dashboard.tables import official_series as table
from dashboard.words.series import age_in_months, all_names, months_old
from pricing.book.connect import Book
from pricing.contents.series import list_series
from pricing.prices.bridge_error import national_errors
from pricing.prices.series_use import SeriesUse, series_uses
from tests.dashboard.views.reading import figure, fill, page, press, tables, words
from tests.dashboard.views.reading import table as table_of
from tests.ingest.offices.stand_in import FOLDER
from tests.kitchen import TODAY, make_book

# Leek names a vegetable series, butter one of fats; both climb to food. Prices of January 2026 are
# no longer fresh on 24 November 2026; barley names nothing.
FILES = {
    "index": """
        series,month,value,title,parent,base_label,released_on
        own:VEG,2026-01,100,"Vegetables, my office",own:FOOD,2015=100,2026-02-20
        own:VEG,2026-08,110,"Vegetables, my office",own:FOOD,2015=100,2026-09-20
        own:VEG,2026-08,112,"Vegetables, my office",own:FOOD,2015=100,2026-10-20
        own:FAT,2026-01,100,"Fats, my office",own:FOOD,2015=100,2026-02-20
        own:FAT,2026-11,120,"Fats, my office",own:FOOD,2015=100,2026-11-20
        own:FOOD,2026-01,100,"Food, my office",own:ALL,2015=100,2026-02-20
    """,
    "ingredients": "ingredient,base,series\nleek,g,own:VEG\nbutter,g,own:FAT\nbarley,g,\n",
    "prices": """
        ingredient,date,price,currency,pack
        leek,2026-01-10,1.00,GBP,100 g
        butter,2026-01-10,2.00,GBP,100 g
        barley,2026-11-20,0.50,GBP,100 g
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        leek toast,1,2026-01-01,1,leek,100,g
        leek toast,1,2026-01-01,1,barley,100,g
        barley alone,1,2026-01-01,1,barley,100,g
    """,
}


def told(book: Book, monkeypatch: pytest.MonkeyPatch) -> Book:
    """Let the pages show `book`."""
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(book.path))
    st.cache_data.clear()
    return book


@pytest.fixture(scope="module")
def _made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PORTIONDRIFT_TODAY", TODAY.isoformat())
        folder = tmp_path_factory.mktemp("series")
        return make_book(folder, FILES, currency="GBP", measures="uk").path


@pytest.fixture
def book(_made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    path = Path(shutil.copyfile(_made, tmp_path / "kitchen.duckdb"))
    return told(Book(path=path), monkeypatch)


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    return told(
        make_book(tmp_path, currency="GBP", measures="uk", name="empty.duckdb"), monkeypatch
    )


def facts(app: AppTest) -> dict[str, str]:
    """Return what the page says of the series looked at."""
    (shown,) = (each.value for each in tables(app) if "About it" in each.value.columns)
    said = dict(zip(shown.iloc[:, 0], shown.iloc[:, 1], strict=True))
    return {name: str(value).replace("\\", "") for name, value in said.items()}


def look_at(app: AppTest, series: str) -> AppTest:
    return app.selectbox("series").set_value(series).run()


def test_who_leans_on_a_series_and_what_stands_at_its_last_month(book: Book) -> None:
    uses = series_uses(book, on=TODAY)
    # the vegetables end in August, so leek is held there; the fats reach November
    assert uses["own:VEG"] == SeriesUse(
        named_by=("leek",), climbing=(), moved=("leek",), held=("leek",)
    )
    assert uses["own:FAT"] == SeriesUse(
        named_by=("butter",), climbing=(), moved=("butter",), held=()
    )
    assert uses["own:FOOD"] == SeriesUse(
        named_by=(), climbing=("butter", "leek"), moved=(), held=()
    )
    assert "own:ALL" not in uses  # the book does not have it: the ladder ends below it
    assert not any(series.startswith("us-bls:") for series in uses)


def test_uses_count_as_the_list_does(book: Book) -> None:
    uses = series_uses(book, on=TODAY)
    for each in list_series(book):
        use = uses.get(each.series)
        assert each.ingredients == (len(use.named_by) if use else 0)
        assert each.leaning == (len(use.climbing) if use else 0)


def test_the_table_tells_age_use_and_terms(book: Book) -> None:
    app = page("official_series")
    assert not app.exception
    rows = app.dataframe[0].value.set_index(table.ID)
    assert list(rows.index) == ["own:FAT", "own:VEG", "own:FOOD"]  # only those leant on, most first
    assert list(rows[table.AGE]) == [0, 3, 10]  # November less November, August, January
    assert list(rows[table.NAMED]) == [1, 1, 0]
    assert list(rows[table.CLIMBING]) == [0, 0, 2]
    assert list(rows[table.HELD]) == [0, 1, 0]
    assert list(rows[table.REVISED]) == [0, 1, 0]
    assert rows.loc["own:VEG", table.WIDER] == "Food, my office"
    assert "Today 1 old price is moved up to the last month of a series" in words(app)
    app.toggle("only_used").set_value(False).run()
    rows = app.dataframe[0].value.set_index(table.ID)
    assert rows.loc["us-bls:SS10011", table.TERMS] == "public domain; cite BLS"
    assert rows.loc["us-bls:SS10011", table.OFFICE] == "U.S. Bureau of Labor Statistics"
    app.text_input("find_series").set_value("labor BUTTER margarine").run()
    assert list(app.dataframe[0].value[table.ID]) == ["us-bls:SEFS01"]
    app.text_input("find_series").set_value("no such series").run()
    assert "No series passes these filters" in words(app)


def test_one_series_in_full(book: Book) -> None:
    app = look_at(page("official_series"), "own:VEG")
    assert not app.exception
    assert app.subheader[0].value == "Vegetables, my office"
    said = words(app)
    assert "Named by leek." in said
    assert "Today it moves the old price of leek." in said
    assert "All of them stand where August 2026 left them" in said
    assert "1. **Vegetables, my office** (own:VEG), 2026-01 to 2026-08, this series" in said
    assert "2. **Food, my office** (own:FOOD), 2026-01 to 2026-01" in said
    assert "3. own:ALL, not in the book: the ladder ends below it" in said
    assert facts(app)["Months"] == "2: January 2026 to August 2026 (3 months ago)"
    assert facts(app)["Index reference period"] == "2015=100"
    revised = table_of(app, "Revised months").value
    assert list(revised["Month"]) == ["August 2026"]
    assert revised.iloc[0, 1] == "110 (20 September 2026) → 112 (20 October 2026), in force"


def test_the_rung_above_says_who_climbs_to_it(book: Book) -> None:
    said = words(look_at(page("official_series"), "own:FOOD"))
    assert "A rung above the series of butter and leek" in said
    assert "Today it moves no price" in said
    assert "The higher the rung, the rougher the figure." in said.replace("**", "")


def test_many_names_are_told_in_full_apart() -> None:
    many = tuple(f"herb {number}" for number in range(12))
    use = SeriesUse(named_by=many, climbing=(), moved=(), held=())
    assert "herb 11" in all_names(use)
    assert all_names(SeriesUse(named_by=many[:2], climbing=(), moved=(), held=())) == ""


def test_an_empty_book_shows_the_bundled_series_and_what_to_do(empty: Book) -> None:
    app = page("official_series")
    assert not app.exception
    assert len(app.dataframe[0].value) == len(list_series(empty))
    assert "No ingredient names a series yet." in app.info[0].value
    assert "No ingredient of the book leans on it." in words(app)
    # bundled to August 2026: three months before November
    assert "up to August 2026 (3 months ago)" in words(app)
    app = look_at(app, "us-bls:SS10011")
    assert "8. **All items, US city average** (us-bls:SA0)" in words(app)


def upload(app: AppTest, name: str, data: bytes) -> AppTest:
    (chooser,) = (each for each in app.file_uploader if each.key.startswith("series file "))
    return chooser.set_value((name, data, "text/csv")).run()


def test_a_british_file_is_looked_at_stored_shown_and_taken_back(empty: Book) -> None:
    before = len(list_series(empty))
    app = upload(page("official_series"), "mm23.csv", (FOLDER / "mm23_small.csv").read_bytes())
    said = words(app)
    assert "mm23.csv can be loaded: 11 rows would be added. Nothing is stored yet." in said
    assert "2 series of rates, changes or weights: left out." in said
    listed = next(each.value for each in tables(app) if "Title" in each.value.columns)
    assert "Milk, cheese and eggs, UK" in list(listed["Title"])
    assert len(list_series(empty)) == before
    press(app, "Load 11 rows")
    assert "mm23.csv is stored: 11 rows added." in words(app)
    app = look_at(app, "uk-ons:D7D8")
    assert "1. **Milk, cheese and eggs, UK** (uk-ons:D7D8), 2026-01 to 2026-03" in words(app)
    assert "3. **All items, UK** (uk-ons:D7BT)" in words(app)
    assert facts(app)["Terms of use"] == "Open Government Licence v3.0"
    assert facts(app)["Last release"] == "22 April 2026"
    app.button("take_back").click().run()
    assert not app.exception
    assert len(list_series(empty)) == before


def test_only_the_series_that_are_named_are_taken(empty: Book) -> None:
    app = upload(page("official_series"), "mm23.csv", (FOLDER / "mm23_small.csv").read_bytes())
    app = fill(app, only_series="D7BU , D7BT")
    listed = next(each.value for each in tables(app) if "Title" in each.value.columns)
    assert list(listed["Id"]) == ["uk-ons:D7BT", "uk-ons:D7BU"]
    assert "D7G8" not in words(app)


def test_a_bad_file_is_told_by_line_and_column_and_nothing_is_stored(empty: Book) -> None:
    data = (FOLDER / "mm23_small.csv").read_bytes().replace(b'"142.6"', b'"-1"')
    app = upload(page("official_series"), "mm23.csv", data)
    problems = tables(app)[-1].value
    assert list(problems["Line"]) == ["11"]
    assert list(problems["Column"]) == ["D7BU"]
    assert "an index value over 0" in problems["Expected"].iloc[0]
    assert "1 problem; nothing was stored" in words(app)
    assert not any(button.label.startswith("Load ") for button in app.button)


def test_a_file_of_dates_and_values_is_asked_its_name(empty: Book) -> None:
    app = upload(page("official_series"), "food.csv", (FOLDER / "two_columns.csv").read_bytes())
    assert "food.csv holds dates and values alone" in words(app)
    assert not any(button.label.startswith("Load ") for button in app.button)
    app = fill(app, series_title="Food, my office", series_id="FOODX")
    press(app, "Load 2 rows")
    assert app.selectbox("series").value == "own:FOODX"
    assert app.subheader[0].value == "Food, my office"


def test_a_future_month_in_the_own_form_is_a_sentence(empty: Book) -> None:
    data = b"series,month,value\nown:X,2026-11,100\nown:X,2026-12,101\n"
    app = upload(page("official_series"), "own.csv", data)
    problems = tables(app)[-1].value
    assert (list(problems["Line"]), list(problems["Column"])) == (["3"], ["month"])
    assert "which is still to come" in problems["Found"].iloc[0].replace("\\", "")


def test_the_dish_page_tells_the_band_and_what_rests_on_it(book: Book) -> None:
    """Pencil. Leek: 1.00 × 112/100 = 1.12, ten months after its price alone; barley 0.50 as seen.
    A portion is 1.62, of which 1.12/1.62 = 69 % is moved; the national table's error of a gap up
    to a year from one price, times 1.12, is the band.
    """
    app = page("dish", dish="leek toast")
    assert figure(app) == "£1.62"
    pct = national_errors().moved["one", 12].pct
    off = 1.12 * pct / 100
    said = words(app)
    assert "69 % of it rests on prices estimated from official prices." in said
    by = f"£{off:.2f} ({100 * off / 1.62:.1f} %)"
    assert f"That typically puts it off by {by}, by national indices" in said
    assert "the prices of one shop swing more" in said
    assert f"typically £{1.62 - off:.2f} to £{1.62 + off:.2f}" in said


def test_a_dish_without_a_bridge_has_no_band(book: Book) -> None:
    said = words(page("dish", dish="barley alone"))
    assert "typically" not in said
    assert "rests on old prices" not in said


def test_ages_are_counted_in_months() -> None:
    assert months_old(date(2026, 8, 1), date(2026, 11, 1)) == 3
    assert age_in_months(date(2026, 11, 1), date(2026, 11, 30)) == "this month"
    assert age_in_months(date(2017, 8, 1), date(2026, 11, 24)) == "9 years ago"


def test_a_table_of_series_holds_numbers_and_dates(book: Book) -> None:
    held = list_series(book)
    rows = table.series_rows(held, {}, TODAY)
    assert pd.api.types.is_numeric_dtype(rows[table.MONTHS])
    assert rows[table.LAST].iloc[0] == date(2026, 11, 1)
