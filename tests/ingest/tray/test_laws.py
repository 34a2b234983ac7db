"""Laws of the tray: twice is once, the order of decisions does not matter, and undo undoes."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

import pricing
from ingest.brought import PriceLine
from ingest.load import undo
from pricing.book.connect import Book
from tests.ingest.tray.bring import bring, decide, line, seen, waiting
from tests.kitchen import load
from tests.loading import ask

WORDS = ("ZRV", "QLP 500G", "=crate", "leek", "Über 2 x 250 g")
DISH = """
    dish,version,effective_from,portions,ingredient,quantity,unit
    chowder,1,2026-01-01,4,leek,500,g
    chowder,1,2026-01-01,4,waiting: zrv,200,g
    chowder,1,2026-01-01,4,waiting: =crate,1,each
"""
lines = st.lists(
    st.builds(
        line,
        st.sampled_from(WORDS),
        st.decimals("0.01", "99", places=2).map(str),
        supplier=st.sampled_from([None, "Shop A", "Shop B"]),
        count=st.sampled_from([Decimal(1), Decimal(3), Decimal("0.843"), Decimal("0.3333333")]),
        pack=st.sampled_from([None, "1 kg", "6 x 330 ml"]),
        unit=st.sampled_from([None, "box"]),
        item_number=st.sampled_from([None, "7"]),
    ),
    min_size=1,
    max_size=6,
)
rows = st.lists(
    st.tuples(
        st.sampled_from(["", "Shop A", "shop b"]),
        st.sampled_from([each if each[0] != "=" else f"'{each}" for each in WORDS]),
        st.sampled_from(["leek", "barley", "not an ingredient"]),
    ),
    min_size=1,
    max_size=6,
    unique_by=lambda row: (row[0].casefold(), row[1].casefold()),
).map(lambda found: [",".join([*row, "500 g"]) for row in found])


@contextmanager
def copy(of: Book) -> Iterator[Book]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "copy.duckdb"
        shutil.copyfile(of.path, path)
        yield Book(path=path)


def answers(book: Book) -> dict[str, Any]:
    costing = pricing.cost_dish(book, "chowder", on=date(2026, 11, 24)).as_json()
    return {
        "seen": sorted(map(repr, seen(book))),
        "waiting": sorted(waiting(book)),
        "cost": costing,
    }


@given(lines)
@settings(max_examples=10)
def test_a_list_twice_adds_nothing(stocked: Book, brought: list[PriceLine]) -> None:
    with copy(stocked) as book:
        bring(book, *brought, accept_unusual=True)
        again = bring(book, *brought, accept_unusual=True)
        assert (again.load, again.added, again.already) == (None, 0, len(brought))


@given(lines, rows, st.randoms(use_true_random=False))
@settings(max_examples=10)
def test_the_order_of_decisions_does_not_matter(
    stocked: Book, brought: list[PriceLine], decisions: list[str], chance: Any
) -> None:
    with copy(stocked) as one, copy(stocked) as other:
        for book in (one, other):
            load(book, "dishes", DISH)
            bring(book, *brought, accept_unusual=True)
        decide(one, *decisions, accept_unusual=True, skip_bad=True)
        chance.shuffle(decisions)
        decide(other, *decisions, accept_unusual=True, skip_bad=True)
        assert answers(one) == answers(other)


@given(lines, rows)
@settings(max_examples=10)
def test_decided_and_taken_back_all_is_as_before(
    stocked: Book, brought: list[PriceLine], decisions: list[str]
) -> None:
    with copy(stocked) as book:
        load(book, "dishes", DISH)
        bring(book, *brought, accept_unusual=True)
        before = answers(book)
        made = decide(book, *decisions, accept_unusual=True, skip_bad=True).load
        if made is None:
            assert ask(book, "SELECT count(*) FROM decision") == [(0,)]
        else:
            undo(book, made)
        assert answers(book) == before
