"""A price of today is an observation; one of tomorrow is none."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from tests.kitchen import TODAY, load, make_book


def test_today_is_taken_and_tomorrow_refused(tmp_path: Path) -> None:
    book = make_book(tmp_path, {"ingredients": "ingredient,base\nleek,g"}, series=())
    head = "ingredient,date,price,currency,pack\n"
    today = load(book, "prices", f"{head}leek,{TODAY},2.00,USD,1 kg")
    assert (today.added, today.problems) == (1, ())
    later = load(book, "prices", f"{head}leek,{TODAY + timedelta(days=1)},2.00,USD,1 kg")
    assert (later.added, [each.column for each in later.problems]) == (0, ["date"])
