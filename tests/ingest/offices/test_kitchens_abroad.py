"""A British dish costed on UK classes, and an amount rebased in four countries, as a user would."""

from __future__ import annotations

import csv
import io
import json
import shutil
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from ingest.load import load_bytes, load_file
from ingest.offices.facts.ladders import ladder
from pricing.book.connect import Book
from pricing.contents.series import list_series, show_series
from pricing.days import month_words
from pricing.dishes.cost import cost_dish
from tests import terminal
from tests.ingest.offices.mm23 import path_of, write_mm23
from tests.kitchen import TODAY, load, make_book

FILES = {
    "ingredients": """
        ingredient,base,density_g_per_ml,grams_each,series
        cheddar,g,,,uk-ons:D7D8
        leek,g,,,uk-ons:D7DB
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier
        cheddar,2015-02-10,2.00,GBP,400 g,Quay Stores
        leek,2015-02-10,1.10,GBP,500 g,Quay Stores
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        leek and cheese bake,1,2015-01-01,4,cheddar,200,g
        leek and cheese bake,1,2015-01-01,4,leek,600,g
    """,
}


@pytest.fixture(scope="module")
def mm23(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_mm23(tmp_path_factory.mktemp("ons") / "mm23.csv", columns=400)


@pytest.fixture(scope="module")
def _made(tmp_path_factory: pytest.TempPathFactory, mm23: Path) -> Path:
    book = make_book(tmp_path_factory.mktemp("british"), FILES, currency="GBP", measures="uk")
    report = load_file(book, "index", mm23, today=TODAY)
    assert report.problems == ()
    return book.path


@pytest.fixture
def british(_made: Path, tmp_path: Path) -> Book:
    """A British book of the test's own, with the series of MM23."""
    return Book(path=Path(shutil.copyfile(_made, tmp_path / "kitchen.duckdb")))


def run(book: Path, *arguments: str, status: int = 0) -> terminal.Done:
    done = terminal.run(*arguments, book=book)
    assert done.returncode == status, done.stderr + done.stdout
    return done


def test_one_load_of_mm23_brings_the_ladder_of_the_uk(british: Book) -> None:
    held = {each.series: each for each in list_series(british)}
    wanted = {f"uk-ons:{each.key}" for each in ladder("uk-ons").values()}
    assert {series for series in held if series.startswith("uk-ons:")} == wanted
    cheese = [series for series, _ in show_series(british, "uk-ons:D7D8").ladder]
    assert cheese == ["uk-ons:D7D8", "uk-ons:D7C8", "uk-ons:D7BU", "uk-ons:D7BT"]
    facts = held["uk-ons:D7D8"]
    assert (facts.title, facts.base_label, facts.classification, facts.months) == (
        "Milk, cheese and eggs, UK", "2015=100", "COICOP 1999 (UK CPI)", 450,
    )  # fmt: skip


def test_a_british_dish_is_bridged_on_its_classes(british: Book) -> None:
    found = cost_dish(british, "leek and cheese bake", on=TODAY.replace(month=8, day=15))
    assert [line.basis for line in found.lines] == ["bridged", "bridged"]
    assert [line.series for line in found.lines] == ["uk-ons:D7D8", "uk-ons:D7DB"]
    # The file begins in March 1989; February 2015 is month 311 and August 2026 month 449 of it.
    # Column 10 is milk, cheese and eggs, column 14 vegetables; values have one decimal.
    factors = []
    for key in ("D7D8", "D7DB"):
        column = [each.key for each in ladder("uk-ons").values()].index(key)
        then, now = (round(path_of(column, step), 1) for step in (311, 449))
        factors.append(now / then)
    assert [line.factor for line in found.lines] == pytest.approx(factors)
    # 200 g of 2.00 / 400 g and 600 g of 1.10 / 500 g, each times its factor
    assert found.cost_per_batch == pytest.approx(1.00 * factors[0] + 1.32 * factors[1])
    assert found.currency == "GBP"
    assert found.band is not None
    assert found.band.share_bridged == pytest.approx(1)


def months(first: int, last: int) -> list[int]:
    return list(range(first, last + 1))


def irish() -> bytes:
    """Eurostat, SDMX-CSV: 100 in 2012-03, 0.25 more each month, May 2019 missing (invented)."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    out.write("DATAFLOW,LAST UPDATE,freq,unit,coicop18,geo,TIME_PERIOD,OBS_VALUE,OBS_FLAG\n")
    for step, month in enumerate(months(2012 * 12 + 2, 2026 * 12 + 7)):
        value = "" if month == 2019 * 12 + 4 else f"{100 + 0.25 * step:.2f}"
        period = f"{month // 12}-{month % 12 + 1:02}"
        rows.writerow(
            ["ESTAT:PRC_HICP_MINR(1.0)", "17/09/26 11:00:00", "M", "I25", "CP01148", "IE",
             period, value, ""]
        )  # fmt: skip
    return out.getvalue().encode()


def canadian() -> bytes:
    """StatCan long CSV: food 130 in 2012-03, 0.5 more each month (invented)."""
    header = (
        "REF_DATE,GEO,DGUID,Products and product groups,UOM,UOM_ID,SCALAR_FACTOR,SCALAR_ID,VECTOR,"
        "COORDINATE,VALUE,STATUS,SYMBOL,TERMINATED,DECIMALS"
    )
    lines = [header]
    for step, month in enumerate(months(2012 * 12 + 2, 2026 * 12 + 6)):
        lines.append(
            f"{month // 12}-{month % 12 + 1:02},Canada,2016A000011124,Food,2002=100,17,units,0,"
            f"v41690974,2.3,{130 + 0.5 * step:.1f},,,,1"
        )
    return ("\ufeff" + "\n".join(lines) + "\n").encode()


def australian() -> bytes:
    """ABS: food by the quarter, 100 in 2012-Q1, 1 more each quarter to 2026-Q2; by the month from
    April 2024, in each month its quarter's value (invented).
    """
    header = (
        "STRUCTURE,STRUCTURE_ID,STRUCTURE_NAME,ACTION,MEASURE,Measure,INDEX,Index,TSEST,"
        "Adjustment Type,REGION,Region,FREQ,Frequency,TIME_PERIOD,Time Period,OBS_VALUE,"
        "Observation Value,BASE_PERIOD,Reference Base Period"
    )
    start = "DATAFLOW,ABS:CPI(2.0.0),Consumer Price Index (CPI),I,1,Index numbers,20001,Food and "
    start += "non-alcoholic beverages,10,Original,50,Australia"
    lines = [header]
    for step in range(58):
        year, quarter = 2012 + step // 4, step % 4 + 1
        lines.append(f"{start},Q,Quarterly,{year}-Q{quarter},,{100 + step}.0,,25,Sep 2025 = 100.0")
    for month in months(2024 * 12 + 3, 2026 * 12 + 7):
        value = 100 + (month - 2012 * 12) // 3
        period = f"{month // 12}-{month % 12 + 1:02}"
        lines.append(f"{start},M,Monthly,{period},,{value}.0,,25,Sep 2025 = 100.0")
    return ("\n".join(lines) + "\n").encode()


@pytest.fixture(scope="module")
def abroad(tmp_path_factory: pytest.TempPathFactory, mm23: Path) -> Path:
    book = make_book(tmp_path_factory.mktemp("abroad"), currency="GBP", measures="uk")
    assert load_file(book, "index", mm23, today=TODAY).problems == ()
    for name, data in (("ie.csv", irish()), ("ca.csv", canadian()), ("au.csv", australian())):
        report = load_bytes(book, "index", name, data, today=TODAY)
        assert report.problems == (), [problem.sentence() for problem in report.problems]
    run(book.path, "index", "link", "au-abs:20001.10.50.Q", "au-abs:20001.10.50.M",
        "--over", "2025")  # fmt: skip
    return book.path


def rebase(book: Path, series: str, start: str = "2012-03", end: str = "2026-08") -> dict[str, Any]:
    done = run(book, "rebase", "2.40", "--from", start, "--to", end, "--series", series, "--json")
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


def test_rebasing_on_a_british_series(abroad: Path) -> None:
    found = rebase(abroad, "uk-ons:D7BU")
    # Food is the second column of the file, 0.2 % more each month from 40.0 in March 1989 on, to
    # one decimal: March 2012 is 276 months on, 40 × 1.002^276 = 69.43, August 2026 449 months,
    # 40 × 1.002^449 = 98.10
    assert (found["index_from"], found["index_to"]) == (69.4, 98.1)
    assert found["result"] == pytest.approx(2.40 * 98.1 / 69.4)
    assert (found["held_at"], found["filled"], found["frequency"]) == (None, [], "monthly")
    assert (found["title"], found["base_label"]) == (
        "Food and non-alcoholic beverages, UK", "2015=100",
    )  # fmt: skip
    later = rebase(abroad, "uk-ons:D7BU", end="2026-10")  # two months after its last
    assert (later["index_to"], later["held_at"]) == (98.1, "2026-08")


HELD, FILLED, BY_QUARTER = (
    "The series is held at its last month, {}.",
    "{} was not published; the month before stands in.",
    "The office publishes by the quarter: each month carries its quarter's value.",
)


@pytest.mark.parametrize(
    ("series", "start", "end", "amount", "marks"),
    [
        # 2.40 × 98.1 / 69.4, as above
        ("uk-ons:D7BU", "2012-03", "2026-08", "3.39", []),
        ("uk-ons:D7BU", "2012-03", "2026-10", "3.39", [HELD.format("August 2026")]),
        # 2.40 × 143.25 / 100; from May 2019, the value of April: 2.40 × 143.25 / 121.25 = 2.8355
        ("eu-hicp:IE.CP01148", "2012-03", "2026-08", "3.44", []),
        ("eu-hicp:IE.CP01148", "2019-05", "2026-08", "2.84", [FILLED.format("May 2019")]),
        # 2.40 × 216 / 130 = 3.9877
        ("ca-statcan:v41690974", "2012-03", "2026-08", "3.99", [HELD.format("July 2026")]),
        # 2.40 × 157 / 100; by months from April 2024 on, 2.40 × 158 / 100
        ("au-abs:20001.10.50.Q", "2012-03", "2026-08", "3.77",
         [HELD.format("June 2026"), BY_QUARTER]),
        ("linked:au-abs:20001.10.50.M", "2012-03", "2026-08", "3.79", [BY_QUARTER]),
    ],
)  # fmt: skip
def test_every_mark_of_a_rebased_amount_is_said(
    abroad: Path, series: str, start: str, end: str, amount: str, marks: list[str]
) -> None:
    said = run(abroad, "rebase", "2.40", "--from", start, "--to", end, "--series", series).stdout
    then, now = (month_words(date.fromisoformat(f"{month}-01")) for month in (start, end))
    assert said.startswith(f"£2.40 of {then} is £{amount} in {now}\n")
    assert [line for line in said.splitlines()[2:] if not line.startswith("Made of: ")] == marks


def test_rebasing_on_an_irish_series_and_through_a_hole_in_it(abroad: Path) -> None:
    found = rebase(abroad, "eu-hicp:IE.CP01148")
    # March 2012 is 100, August 2026 is 173 months later: 100 + 0.25 × 173 = 143.25
    assert (found["index_from"], found["index_to"]) == (100, 143.25)
    assert found["result"] == pytest.approx(2.40 * 1.4325)
    hole = rebase(abroad, "eu-hicp:IE.CP01148", start="2019-05")
    assert hole["filled"] == ["2019-05"]
    assert hole["index_from"] == 121.25  # April 2019, 85 months on


def test_rebasing_on_a_canadian_series_that_is_a_month_behind(abroad: Path) -> None:
    found = rebase(abroad, "ca-statcan:v41690974")
    # July 2026 is 172 months after March 2012: 130 + 86 = 216
    assert (found["index_from"], found["index_to"], found["held_at"]) == (130, 216, "2026-07")
    assert found["result"] == pytest.approx(2.40 * 216 / 130)


def test_rebasing_on_an_australian_series_by_the_quarter(abroad: Path) -> None:
    found = rebase(abroad, "au-abs:20001.10.50.Q")
    # March 2012 is in the first quarter, 100; the last is April to June 2026, 157
    assert (found["index_from"], found["index_to"]) == (100, 157)
    assert (found["held_at"], found["frequency"]) == ("2026-06", "quarterly")
    text = run(abroad, "rebase", "2.40", "--from", "2012-03", "--to", "2026-08", "--series",
               "au-abs:20001.10.50.Q").stdout  # fmt: skip
    assert "each month carries its quarter's value" in text
    assert "held at its last month, June 2026" in text


def test_rebasing_from_australian_quarters_into_its_months(abroad: Path) -> None:
    found = rebase(abroad, "linked:au-abs:20001.10.50.M")
    # the months agree with their quarters, so the factor is 1: 100 then, 158 in the third quarter
    assert (found["index_from"], found["index_to"]) == (100, 158)
    assert (found["held_at"], found["frequency"]) == (None, "quarterly")
    assert rebase(abroad, "linked:au-abs:20001.10.50.M", start="2025-06")["frequency"] == "monthly"
    assert "link: Food and non-alcoholic beverages" in found["note"]


def test_the_list_names_office_base_release_and_terms(abroad: Path) -> None:
    found = json.loads(run(abroad, "index", "list", "--json").stdout)["series"]
    food = next(each for each in found if each["series"] == "uk-ons:D7BU")
    assert food["office"] == "Office for National Statistics (UK)"
    assert food["licence"] == "Open Government Licence v3.0"
    assert (food["parent"], food["base_label"], food["last_released_on"], food["months"]) == (
        "uk-ons:D7BT", "2015=100", "2026-09-16", 450,
    )  # fmt: skip
    text = run(abroad, "index", "list").stdout
    assert "uk-ons: Office for National Statistics (UK); Open Government Licence v3.0" in text


def test_a_british_book_rebases_by_series_of_its_own(british: Book) -> None:
    for name, series in (("food_series", "uk-ons:D7BU"), ("all_items_series", "uk-ons:D7BT")):
        run(british.path, "setting", name, series)
    done = run(british.path, "compare", "leek and cheese bake", "--then", "2015-02-10", "--now",
               "2026-08-15", "--json")  # fmt: skip
    rebased = {each["series"]: each["amount"] for each in json.loads(done.stdout)["rebased"]}
    assert set(rebased) == {"uk-ons:D7BU", "uk-ons:D7BT"}
    assert all(amount > 0 for amount in rebased.values())


def test_a_series_is_drawn(abroad: Path, tmp_path: Path) -> None:
    chart = tmp_path / "eggs.svg"
    run(abroad, "index", "show", "eu-hicp:IE.CP01148", "--chart", str(chart))
    assert b"<svg" in chart.read_bytes()[:400]


def test_what_is_loaded_can_be_exported_and_loaded_again(abroad: Path, tmp_path: Path) -> None:
    folder = tmp_path / "out"
    run(abroad, "export", str(folder))
    again = make_book(tmp_path, currency="GBP", measures="uk", name="again.duckdb")
    report = load_file(again, "index", folder / "index.csv", today=TODAY, replace=True)
    assert report.problems == ()
    for series in ("au-abs:20001.10.50.Q", "linked:au-abs:20001.10.50.M", "uk-ons:D7BU"):
        first, second = (show_series(Book(path=each), series) for each in (abroad, again.path))
        assert first.months == second.months
        assert first.ladder == second.ladder
        kept = ("title", "base_label", "frequency", "note", "classification")
        assert [first.facts[name] for name in kept] == [second.facts[name] for name in kept]


def test_own_form_stays_first(tmp_path: Path) -> None:
    book = make_book(tmp_path)
    report = load(book, "index", "series,month,value\nown:X,2020-01,100\n")
    assert (report.added, report.problems) == (1, ())
