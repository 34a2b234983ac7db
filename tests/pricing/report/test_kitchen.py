"""The report's figures and its evidence on the small kitchen, by pencil."""

from __future__ import annotations

import json
import shutil
from datetime import date
from pathlib import Path

import pytest

from pricing.book.connect import Book
from pricing.errors import DateRefused, InputRefused, UnknownName
from pricing.report.kitchen import kitchen_report
from pricing.report.records import Report
from tests.dashboard.small_kitchen import small_kitchen
from tests.kitchen import TODAY, load, make_book


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return small_kitchen(tmp_path_factory.mktemp("report"))


@pytest.fixture(scope="module")
def found(book: Book) -> Report:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PORTIONDRIFT_TODAY", TODAY.isoformat())
        return kitchen_report(book, start="2026-06", end="2026-11")


@pytest.fixture(autouse=True)
def _today(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PORTIONDRIFT_TODAY", TODAY.isoformat())


def test_a_dish_then_as_printed_today_and_now(found: Report) -> None:
    # small_kitchen.py: 0.40 in June, 0.65 by the old recipe now, 0.50 by the new one
    bowl = next(e.then_and_now for e in found.dishes if e.then_and_now.dish == "barley bowl")
    assert bowl.then_on == date(2026, 6, 15)
    assert (bowl.cost_then, bowl.cost_moved, bowl.cost_now) == pytest.approx((0.40, 0.65, 0.50))
    assert (bowl.price_effect, bowl.recipe_effect) == pytest.approx((0.25, -0.15))
    assert bowl.printed is not None
    assert bowl.printed.cost_per_portion == 0.40


def test_the_parts_of_a_dish_add_up_to_its_costs(found: Report) -> None:
    bowl = next(e.then_and_now for e in found.dishes if e.then_and_now.dish == "barley bowl")
    told = {part.ingredient: part for part in bowl.parts}
    leek = told["leek"]
    # 600 g for four at $2.00 a kg; 400 g for four at $3.00 a kg
    assert (leek.quantity_then, leek.quantity_now) == pytest.approx((150, 100))
    assert (leek.unit_price_then, leek.unit_price_now) == pytest.approx((0.002, 0.003))


def test_the_index_is_that_of_the_mean_portion(found: Report) -> None:
    # 15 June: bowl 0.40, supper 0.40, saffron barley without saffron 200 g for two: 0.10; mean 0.30
    # 15 November, recipes of June: 0.65, 0.65 and 0.20; mean 0.50
    assert found.inflation.cost_from == pytest.approx(0.30)
    assert found.inflation.cost_to == pytest.approx(0.50)
    assert found.inflation.change_pct == pytest.approx(100 * (0.50 / 0.30 - 1))


def test_every_price_used_is_listed_once_and_no_other(found: Report) -> None:
    # of six rows, the offer and the butter that no dish takes are behind no figure
    told = [(e.ingredient, e.observed_on.isoformat(), f"{e.price:.2f}") for e in found.prices]
    assert told == [
        ("leek", "2026-06-10", "2.00"), ("leek", "2026-11-10", "3.00"),
        ("pearl barley", "2026-06-10", "1.00"), ("pearl barley", "2026-11-10", "2.00"),
    ]  # fmt: skip


def test_every_index_value_is_of_its_month_or_of_the_one_before_it(found: Report) -> None:
    food = [each for each in found.index_values if each.series == "us-bls:SAF11"]
    assert {each.month for each in food} >= {"2026-06", "2026-08"}
    assert [each for each in found.index_values if each.value_month > each.month] == []
    assert {each.series for each in found.series} == {each.series for each in found.index_values}


def test_named_dishes_alone_are_told(book: Book) -> None:
    one = kitchen_report(book, ["Barley Bowl"], start="2026-06")
    assert [each.then_and_now.dish for each in one.dishes] == ["barley bowl"]
    assert one.inflation.dishes == 1


def test_the_whole_report_goes_into_json(found: Report) -> None:
    told = json.loads(json.dumps(found.as_json(), allow_nan=False))
    assert told["index_values"][0]["month"].count("-") == 1
    assert told["dishes"][0]["then_and_now"]["parts"]


def test_a_copy_of_the_book_has_its_digest_and_one_price_more_another(
    book: Book, found: Report, tmp_path: Path
) -> None:
    copy = Book(path=tmp_path / "copy.duckdb")
    shutil.copyfile(book.path, copy.path)
    assert kitchen_report(copy).book_sha256 == found.book_sha256
    load(copy, "prices", "ingredient,date,price,currency,pack\nleek,2026-11-20,3.10,USD,1 kg")
    assert kitchen_report(copy).book_sha256 != found.book_sha256


def test_what_cannot_be_told_is_refused(book: Book, tmp_path: Path) -> None:
    with pytest.raises(UnknownName, match="barley bawl"):
        kitchen_report(book, ["barley bawl"])
    with pytest.raises(DateRefused, match="earlier --from"):
        kitchen_report(book, start="2026-11")
    with pytest.raises(InputRefused, match="no dish"):
        kitchen_report(make_book(tmp_path, {}))
