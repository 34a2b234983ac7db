"""A price in another currency than the book's is told when it is loaded, not only when missed."""

from __future__ import annotations

from pathlib import Path

from tests.kitchen import load, make_book
from tests.terminal import answer, run

PRICES = """
    ingredient,date,price,currency,pack
    leek,2026-10-10,2.00,USD,1 kg
    leek,2026-10-11,1.80,EUR,1 kg
    leek,2026-10-12,1.90,EUR,1 kg
    leek,2026-10-13,250,JPY,1 kg
"""


def test_prices_in_other_currencies_are_counted_in_a_remark(tmp_path: Path) -> None:
    book = make_book(tmp_path, {"ingredients": "ingredient,base\nleek,g"}, series=())
    report = load(book, "prices", PRICES)
    assert report.added == 4
    assert [each for each in report.remarks if "never converted" in each] == [
        "2 prices in EUR: kept, but no costing counts them, for the book's currency is USD and "
        "money is never converted.",
        "1 price in JPY: kept, but no costing counts it, for the book's currency is USD and "
        "money is never converted.",
    ]
    assert load(book, "prices", PRICES).remarks == ()  # they are in the book already


def test_a_price_by_hand_says_so_in_words_and_in_json(tmp_path: Path) -> None:
    book = make_book(tmp_path, {"ingredients": "ingredient,base\nleek,g"}, series=()).path
    asked = ("price", "leek", "2", "--pack", "1 kg", "--on", "2026-11-20", "--currency", "EUR")
    told = answer(*asked, "--dry-run", "--json", book=book)["files"][0]["remarks"]
    assert any("1 price in EUR: kept, but no costing counts it" in each for each in told)
    assert "1 price in EUR: kept" in run(*asked, book=book).stderr
