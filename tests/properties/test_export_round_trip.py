"""What is exported and loaded into a new book costs the same, and exports the same bytes again."""

from __future__ import annotations

import itertools
import tempfile
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ingest.load import load_bytes, load_file, undo
from pricing.answer import plain
from pricing.book.connect import Book, reading
from pricing.book.keeping.check import check
from pricing.book.keeping.export import FILES, export
from pricing.dishes.cost import cost_dish
from pricing.dishes.drift import drift_points
from pricing.dishes.recipes import dish_names
from tests.kitchen import TODAY, load, make_book
from tests.loops import rounds

DAYS = (date(2018, 2, 28), date(2026, 11, 24))  # few fresh prices, and many


def load_all(book: Book, files: Sequence[Path]) -> None:
    for file in files:
        if file.stem != "settings":
            report = load_file(book, file.stem, file, today=TODAY, replace=True)
            assert report.problems == ()
            assert report.already == 0


def content(files: Sequence[Path]) -> dict[str, str]:
    return {file.name: file.read_bytes().decode() for file in files}


def answers(book: Book) -> list[Any]:
    with reading(book) as con:
        days = itertools.cycle(DAYS)
        return [plain(cost_dish(book, dish, on=next(days))) for dish in sorted(dish_names(con))]


def drifted(book: Book) -> list[tuple[Any, ...]]:
    dishes = plain(drift_points(book, start="2011-01", end="2026-11"))["dishes"]
    return [
        (
            dish["dish"],
            point["month"],
            point["version"],
            point["complete"],
            point["cost_per_portion"],
        )
        for dish in dishes
        for point in dish["points"]
    ]


def test_the_demo_kitchen_comes_through_an_export_unchanged(demo: Book, tmp_path: Path) -> None:
    first = export(demo, tmp_path / "first")
    assert {file.stem for file in first} == set(FILES) - {
        "index",  # all its series are bundled
        "printed_evidence",  # its figures came from a file
        "decisions",  # its files name ingredients
    }
    again = make_book(tmp_path, name="again.duckdb")
    load_all(again, first)
    assert content(export(again, tmp_path / "second")) == content(first)
    assert check(again).problems == ()
    assert answers(again) == answers(demo)
    assert drifted(again) == [
        # sums over ingredients run in the order of the ingredients' numbers, which is another
        (*point, pytest.approx(cost, rel=1e-12))
        for *point, cost in drifted(demo)
    ]


def test_an_export_does_not_depend_on_the_order_in_which_dishes_were_loaded(
    tmp_path: Path,
) -> None:
    kitchen = {"ingredients": "ingredient,base\nleek,g\nrye flour,g"}
    head = "dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit"
    stock = f"{head}\nstock,1,2020-01-01,4,1000,leek,300,g\nstock,2,2021-01-01,4,900,leek,200,g"
    bread = f"{head}\nrye bread,1,2020-05-01,8,,rye flour,1,lb"
    pie = f"{head}\nleek pie,1,2020-03-01,6,,dish:Stock,250,g\nleek pie,1,2020-03-01,6,,leek,½,kg"
    held: list[dict[str, str]] = []
    for order in ((stock, bread, pie), (bread, stock, pie), (stock, pie, bread)):
        book = make_book(tmp_path, kitchen, name=f"{len(held)}.duckdb")
        for text in order:
            assert load(book, "dishes", text).problems == ()
        held.append(content(export(book, tmp_path / f"out {len(held)}")))
    assert held[0] == held[1] == held[2]


def test_replaced_and_undone_rows_do_not_come_back(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base,yield_pct\nleek,g,50\nrye flour,g,",
            "measures": "ingredient,measure,grams\nleek,bunch,400",
            "prices": "ingredient,date,price,currency,pack\nleek,2020-01-06,2.50,USD,1 bunch",
            "dishes": "dish,version,effective_from,portions,ingredient,quantity,unit,state\n"
            "leek soup,1,2020-01-01,4,leek,1/3,lb,edible",
            "index": "series,month,value,title,released_on\nown:X,2020-01,101.3,First,2020-02-01\n"
            "own:X,2020-01,101.7,First,2020-03-01",
        },
    )
    replaced = "ingredient,base,yield_pct\nleek,g,60"
    assert load(book, "ingredients", replaced, replace=True).problems == ()
    mistake = load(
        book, "prices", "ingredient,date,price,currency,pack\nleek,2020-01-07,3,USD,1 bunch"
    )
    assert mistake.load is not None
    undo(book, mistake.load)
    renamed = "series,month,value,title,released_on\nown:X,2020-01,101.7,Second,2020-03-01"
    assert load(book, "index", renamed, replace=True).problems == ()
    described = "series,month,value,title\nus-bls:SA0,2020-01,257.971,Everything"
    report = load(book, "index", described, replace=True)
    assert (report.problems, report.added) == ((), 0)
    first = export(book, tmp_path / "first")
    again = make_book(tmp_path, name="again.duckdb")
    for file in first[1:]:
        load_file(again, file.stem, file, today=TODAY, replace=True)
    held = content(export(again, tmp_path / "second"))
    assert held == content(first)
    assert "leek,,g,,,60,,," in held["ingredients.csv"]
    assert held["prices.csv"].count("\n") == 2
    assert "own:X,2020-01,101.3,Second,,,,2020-02-01,,,\n" in held["index.csv"]
    assert "us-bls:SA0" in held["index.csv"]
    assert "Everything" in held["index.csv"]
    with reading(again) as con, reading(book) as former:
        statement = "FROM series_now SELECT * EXCLUDE (row_id, batch, line, raw) ORDER BY series"
        assert con.execute(statement).fetchall() == former.execute(statement).fetchall()


WORDS = st.text(
    st.one_of(
        st.sampled_from("ab \"',;\né½ﬁ\u3000漢-=+@"),
        st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")),
    ),
    max_size=12,
)
DECIMALS = st.decimals("0.0001", "9999.9999", places=4)
DOUBLES = st.floats(1e-3, 1e6)


def cell(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


@given(
    rows=st.lists(
        st.tuples(DECIMALS, WORDS, WORDS, WORDS, st.dates(date(1990, 1, 1), TODAY)),
        min_size=1,
        max_size=6,
    ),
    values=st.lists(DOUBLES, min_size=1, max_size=6),
)
@settings(max_examples=rounds(8), deadline=None)
def test_any_text_and_any_number_come_through(
    rows: list[tuple[Any, str, str, str, date]], values: list[float]
) -> None:
    prices = "ingredient,date,price,currency,pack,supplier,product,note\n" + "".join(
        f"leek,{on},{price:f},USD,{1 + at} x 0.25 lb,{cell(shop)},{cell(product)},{cell(note)}\n"
        for at, (price, shop, product, note, on) in enumerate(rows)
    )
    index = "series,month,value\n" + "".join(
        f"own:X,20{at:02d}-07,{value:.12f}\n" for at, value in enumerate(values)
    )
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        kitchen = {"ingredients": "ingredient,base\nleek,g"}
        book = make_book(folder, kitchen, series=())
        again = make_book(folder, series=(), name="again.duckdb")
        for kind, data in (("prices", prices.encode()), ("index", index.encode())):
            report = load_bytes(book, kind, kind, data, today=TODAY, accept_unusual=True)
            assert report.problems == ()
        first = export(book, folder / "first")
        load_all(again, first)
        assert content(export(again, folder / "second")) == content(first)
        statement = "SELECT observed_on, price, pack, supplier, product, note FROM observation_now"
        with reading(book) as con, reading(again) as other:
            held = con.execute(f"{statement} ORDER BY ALL").fetchall()
            assert other.execute(f"{statement} ORDER BY ALL").fetchall() == held
            kept = "SELECT month, value FROM series_value_now ORDER BY month"
            assert other.execute(kept).fetchall() == con.execute(kept).fetchall()
