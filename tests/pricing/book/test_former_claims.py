"""A book of the former structure, with claims, opens with them as printed figures."""

from __future__ import annotations

import hashlib
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path

import pytest

import pricing
from ingest.load import undo
from pricing.book import append, migrate, read, tables
from pricing.book.append import Source, append_batch, reserve_row_ids, write_settings
from pricing.book.connect import Book, create, reading, writing
from pricing.book.keeping.check import check
from pricing.book.keeping.info import info
from pricing.book.read import statement
from pricing.contents.printed import list_printed
from pricing.errors import BookUnreadable
from pricing.printed.evidence import frozen_figures
from tests.kitchen import load

FILES = {
    "ingredients": "ingredient,base\nleek,g",
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        soup,1,2019-06-01,1,leek,500,g
    """,
    "prices": "ingredient,date,price,currency,pack\nleek,2020-01-20,2.40,USD,1 kg",
}
EVIDENCE = '{"costing":{"cost_per_portion":1.2},"prices":[]}'
CLAIM = {  # the columns of the former table
    "row_id": "BIGINT",
    "dish_id": "INTEGER",
    "version": "VARCHAR",
    "published_on": "DATE",
    "cost_per_portion": "DECIMAL(18, 4)",
    "currency": "VARCHAR",
    "published_where": "VARCHAR",
    "note": "VARCHAR",
}
CLAIM_EVIDENCE = {
    "claim_row": "BIGINT",
    "recorded_at": "TIMESTAMP",
    "evidence": "VARCHAR",
    "evidence_sha256": "VARCHAR",
}


@pytest.fixture
def former(tmp_path: Path) -> Book:
    """A book at step 6 with three claims: one with evidence, one without, one taken back."""
    book = Book(path=tmp_path / "former.duckdb")
    with pytest.MonkeyPatch.context() as patch:
        steps = [step for step in migrate.migrations() if step.number <= 6]
        patch.setattr(migrate, "migrations", lambda: steps)
        patch.setitem(tables.TABLES, "claim", CLAIM)
        patch.setitem(tables.TABLES, "claim_evidence", CLAIM_EVIDENCE)
        patch.setitem(tables.KIND_TABLES, "claims", ("claim", "claim_evidence"))
        patch.setitem(tables.KIND_TABLES, "prices", ("observation",))
        dishes = ("dish_line", "dish_version", "dish_detail")
        patch.setitem(tables.KIND_TABLES, "dishes", dishes)
        patch.setattr(read, "statement", _statement_of_then)
        patch.setattr(append, "ADDED_LATER", frozenset({*tables.ADDED_LATER, "claim_evidence"}))
        with writing(create(book.path)) as con:
            write_settings(con, {"currency": "USD", "measures": "us", "fresh_days": "45"})
        for kind, text in FILES.items():
            assert load(book, kind, text).problems == ()
        _claim(book, date(2020, 2, 1), "1.20", evidence=EVIDENCE)
        _claim(book, date(2021, 2, 1), "1.2500")
        wrong = _claim(book, date(2020, 3, 1), "9.99")
        with writing(book) as con:
            con.execute(
                "INSERT INTO retraction SELECT row_id, '2020-03-02', 'wrong' FROM claim "
                "WHERE batch = $load",
                {"load": wrong},
            )
    return book


_TRIED = "minutes_waiting, energy_kwh, pots, marks, tasting_note"  # of a later step


def _statement_of_then(name: str) -> str:
    text = statement(name)
    if name != "book/known_versions":
        return text
    assert _TRIED in text
    return text.replace(_TRIED, ", ".join(f"NULL AS {each}" for each in _TRIED.split(", ")))


def _claim(book: Book, on: date, amount: str, evidence: str | None = None) -> int:
    """Store a claim as the former structure did; return its load."""
    with writing(book) as con:
        (row,) = reserve_row_ids(con, 1)
        stored: dict[str, append.Columns] = {
            "claim": {
                "row_id": [row], "line": [2], "raw": [f"soup,1,{on},{amount},USD"], "dish_id": [1],
                "version": ["1"], "published_on": [on], "cost_per_portion": [Decimal(amount)],
                "currency": ["USD"], "published_where": ["Column"], "note": [None],
            }
        }  # fmt: skip
        if evidence is not None:
            stored["claim_evidence"] = {
                "line": [None], "raw": [None], "claim_row": [row],
                "recorded_at": [datetime(2020, 2, 1, 9, 30)],  # noqa: DTZ001
                "evidence": [evidence],
                "evidence_sha256": [hashlib.sha256(evidence.encode()).hexdigest()],
            }  # fmt: skip
        source = Source(kind="claims", file_name="old.csv", file_sha256="f00d", added=1, already=0)
        return append_batch(con, source, stored)


def test_a_book_of_the_former_structure_opens_with_its_claims_as_printed_figures(
    former: Book,
) -> None:
    with pytest.raises(BookUnreadable, match="check --upgrade"):
        list_printed(former)
    assert check(former, upgrade=True).problems == ()  # the sums of the loads still agree
    assert [
        (each.published_on, each.costed_on, each.cost_per_portion, each.as_printed)
        for each in list_printed(former)
    ] == [
        (date(2020, 2, 1), date(2020, 2, 1), 1.20, None),
        (date(2021, 2, 1), date(2021, 2, 1), 1.25, None),
    ]
    (kept,) = frozen_figures(former)
    assert (kept.published_on, kept.recorded_at) == (date(2020, 2, 1), datetime(2020, 2, 1, 9, 30))  # noqa: DTZ001
    assert kept.evidence == {"costing": {"cost_per_portion": 1.2}, "prices": []}
    with reading(former) as con:
        raw = con.execute("SELECT line, raw FROM printed_figure ORDER BY row_id").fetchall()
    assert raw[0] == (2, "soup,1,2020-02-01,1.20,USD")
    assert len(raw) == 3  # what was taken back is kept, as everything is
    loads = info(former)["loads"]
    assert [(each["kind"], each["undone"]) for each in loads[3:]] == [
        ("printed", False), ("printed", False), ("printed", True),
    ]  # fmt: skip
    # half a kilo at 2.40, twelve days old
    first = next(each for each in pricing.check_printed(former, on=date(2020, 2, 1)).figures)
    assert (first.known_then, first.then, first.frozen) == (pytest.approx(1.2), "agrees", True)
    assert undo(former, loads[4]["load"]) == 1
    assert len(list_printed(former)) == 1


def test_the_rows_of_an_upgraded_book_are_guarded(former: Book) -> None:
    check(former, upgrade=True)
    for table in ("printed_figure", "printed_evidence", "printed_detail", "load_batch"):
        with pytest.raises(Exception, match="never deleted"), writing(former) as con:
            con.execute(f"DELETE FROM {table}")
