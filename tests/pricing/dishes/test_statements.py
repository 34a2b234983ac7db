"""How often costing one dish on one day asks the book."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import pytest

import pricing
from pricing.book import connect
from pricing.book.connect import Book
from pricing.contents.settings import change_setting
from tests.kitchen import make_book

MOST_STATEMENTS = 9  # from opening the book to the answer
FILES = {
    "index": """
        series,month,value,title,parent
        t:grain,2018-01,100,Grain,
        t:grain,2018-12,110,Grain,
        t:grain,2019-02,120,Grain,
    """,
    "ingredients": """
        ingredient,base,series
        barley,g,t:grain
        leek,g,
        salt,g,
        saffron,g,
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier,product
        barley,2018-01-10,2.00,USD,1 kg,Quay,pearl
        leek,2018-01-10,1.20,USD,1 kg,Quay,
        salt,2019-01-30,0.60,USD,500 g,Mill,
    """,
    "dishes": """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,minutes
        broth,1,2018-01-01,4,1000,barley,500,g,
        broth,1,2018-01-01,4,1000,salt,10,g,
        stew,1,2018-01-01,2,,dish:broth,250,g,20
        stew,1,2018-01-01,2,,leek,100,g,20
        stew,1,2018-01-01,2,,saffron,1,g,20
    """,
}


class Counting:
    """A connection that notes what it is told to execute."""

    def __init__(self, con: Any, said: list[str]) -> None:
        self._con, self._said = con, said

    def execute(self, *words: Any) -> Any:
        self._said.append(words[0])
        return self._con.execute(*words)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._con, name)


@pytest.fixture
def said(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The statements executed since the test began, on any book."""
    statements: list[str] = []
    real = connect.connected

    @contextmanager
    def connected(book: Book, *, read_only: bool) -> Iterator[Any]:
        with real(book, read_only=read_only) as con:
            yield Counting(con, statements)

    monkeypatch.setattr(connect, "connected", connected)
    return statements


def test_a_dish_with_every_kind_of_line_asks_nine_times_at_most(
    tmp_path: Path, said: list[str]
) -> None:
    book = make_book(tmp_path, FILES, series=())
    change_setting(book, "rate_per_hour", "18")
    said.clear()
    cost = pricing.cost_dish(pricing.open_book(book.path), "stew", on=date(2019, 2, 1))
    assert len(said) <= MOST_STATEMENTS, "\n\n".join(said)
    lines = {line.ingredient: line for line in cost.ingredient_lines()}
    assert {name: line.basis for name, line in lines.items()} == {
        "barley": "bridged", "salt": "observed", "leek": "observed", "saffron": "missing",
    }  # fmt: skip
    barley = lines["barley"]
    assert (barley.series_title, barley.months, barley.filled) == (
        "Grain", ("2018-01", "2019-02"), (),
    )  # fmt: skip
    assert [(seen.supplier, seen.product) for seen in barley.observed] == [("Quay", "pearl")]
    assert lines["leek"].reason == (
        "Held from 10 January 2018: no official series is named for this ingredient."
    )
    assert lines["saffron"].reason == (
        "No price of saffron is in the book. Log one with `portiondrift price`."
    )
    # 20 minutes at $18 an hour are $6, for two portions
    assert cost.work_per_portion == pytest.approx(3.0)
