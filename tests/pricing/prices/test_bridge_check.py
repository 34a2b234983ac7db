"""`index check` as a user sees it: the table of the book's own prices, and the national one.

The figures themselves are held elsewhere: by pencil in test_bridge_error.py, and the national table
by other code in outside/test_bridge_errors.py.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from dashboard.cli import app
from pricing.book.connect import Book
from pricing.prices.bridge_error import ENOUGH
from tests.kitchen import make_book

NATIONAL = Path("pricing/reference/bridge_errors.csv")


def asked(
    book: Path, capsys: pytest.CaptureFixture[str], *arguments: str
) -> tuple[int | str | None, str]:
    """Run `portiondrift index check`; return its status and what it printed."""
    with pytest.raises(SystemExit) as ended:
        app(["--book", str(book), "index", "check", *arguments])
    return ended.value.code, capsys.readouterr().out


def test_the_demo_book_prints_its_own_table_and_the_national_one(
    demo: Book, capsys: pytest.CaptureFixture[str]
) -> None:
    status, said = asked(demo.path, capsys)
    assert status == 0
    own, national = said.split("The same on US food indices since 2006")
    for part in (own, national):
        assert "Between two prices, by the time between them" in part
        assert "From an earlier price alone, by the time since it" in part
        for heading in ("Moved by an official series", "Price held", "Straight line"):
            assert heading in part
    # the table as it is kept in pricing/reference, held by outside/test_bridge_errors.py
    lines = (Path(__file__).parents[3] / NATIONAL).read_text(encoding="utf-8").splitlines()
    header, *rows = (line.split(",") for line in lines if not line.startswith("#"))
    for row in (dict(zip(header, cells, strict=True)) for cells in rows):
        printed = next(line for line in national.splitlines() if f"{int(row['cases']):,}" in line)
        assert f"{float(row['bridge_pct']):.1f} %" in printed
        assert f"{float(row['hold_pct']):.1f} %" in printed


def test_the_demo_book_s_own_prices_are_nearer_to_a_bridge_than_to_a_held_price(
    demo: Book, capsys: pytest.CaptureFixture[str]
) -> None:
    status, said = asked(demo.path, capsys, "--json")
    assert status == 0
    found = json.loads(said)
    assert {row["ends"] for row in found["own"]} == {"fresh", "one", "two"}
    moved = [row for row in found["own"] if row["ends"] != "fresh"]
    long = [row for row in moved if (row["up_to_months"] or 999) > 12]
    assert len(long) == 8  # two, four and eight years and longer, from one end and from two
    assert all(row["bridge_pct"] < row["hold_pct"] for row in long)
    assert found["enough"] == ENOUGH
    assert found["kept"] is True
    assert found["days_held_out"] > 500


def test_a_book_without_prices_prints_the_national_table_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = make_book(tmp_path, name="empty.duckdb").path
    status, said = asked(book, capsys)
    assert status == 1  # no price of the book could be held out
    assert "No price of this book could be held out yet." in said
    assert "Straight line" in said.split("The same on US food indices since 2006")[1]


def test_half_of_the_demo_book_s_prices_lie_inside_the_band_of_the_others(
    demo: Book, capsys: pytest.CaptureFixture[str]
) -> None:
    _, said = asked(demo.path, capsys, "--json")
    found = json.loads(said)
    assert found["judged"] > 2000
    assert 0.45 <= found["inside"] / found["judged"] <= 0.55  # half of them, to five points
    _, text = asked(demo.path, capsys)
    share = f"{100 * found['inside'] / found['judged']:.0f} %"
    assert f"Of {found['judged']:,} prices held out, {share} fell inside the band" in text
