"""Where nothing has a price no figure is made: neither a cost of nothing nor an index of 100."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pricing
from dashboard.terminal.compare import compare_text
from dashboard.terminal.inflation import inflation_text
from dashboard.words.change import NOTHING_COMPARED
from dashboard.words.inflation import NO_INDEX
from tests.kitchen import make_book
from tests.terminal import run

FILES = {
    "ingredients": "ingredient,base\nleek,g",
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        soup,1,2019-06-01,1,leek,500,g
    """,
}


def test_a_comparison_of_nothing_has_no_figure(tmp_path: Path) -> None:
    book = make_book(tmp_path, FILES, series=())
    said = compare_text(
        pricing.compare(book, "soup", then=date(2020, 1, 1), now=date(2026, 11, 24))
    )
    assert NOTHING_COMPARED in " ".join(said.split())
    assert "leek" in said  # and why
    assert "0.00" not in said


def test_an_index_of_nothing_has_no_figure(tmp_path: Path) -> None:
    for number, files in enumerate(({}, FILES)):
        folder = tmp_path / str(number)
        folder.mkdir()
        book = make_book(folder, files, series=())
        said = inflation_text(pricing.measure_inflation(book, start="2019-06", end="2026-11"))
        assert " ".join(said.split()).startswith(NO_INDEX)
        assert "100.0" not in said


def test_info_tells_whose_prices_count_and_how_they_fade(tmp_path: Path) -> None:
    said = run("info", book=make_book(tmp_path, {}, series=()).path).stdout
    assert "180 days" in said
    assert "Whose prices count" in said
    assert "shop" in said
