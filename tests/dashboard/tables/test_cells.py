"""The cells of a table: what is a link, a figure, nothing, and what it is sorted by."""

from __future__ import annotations

from datetime import date

import pandas as pd
import pytest

from dashboard.tables.cells import are_figures, cell
from dashboard.views.rows_table import table_data
from dashboard.words.markdown import dish_link, ingredient_link, plain


@pytest.mark.parametrize("shown", ["+$0.00", "$0.00", "+0.0", "−0.0 %", "+0 %", "0 g", "0", "—"])
def test_nothing_is_a_dash_and_stands_last(shown: str) -> None:
    assert (cell(plain(shown)).words, cell(plain(shown)).by) == ("—", None)


def test_a_small_figure_is_not_nothing() -> None:
    assert cell("+$0.004").words == "+$0.004"
    assert cell("10 %").by == 10.0


def test_a_link_keeps_its_words_and_its_address() -> None:
    name = "beans [dried] (old*)"
    made = cell(f"{ingredient_link(name)}{plain(', new_')}")
    assert made.words == f"{name}, new_"
    address = "ingredients?ingredient=beans%20%5Bdried%5D%20%28old%2A%29"
    assert made.pieces[0] == (name, address)
    assert cell(dish_link("pie", "why")).pieces == (("pie", "dishes?dish=pie#why"),)


def test_figures_sort_by_size_whatever_their_unit_and_days_by_time() -> None:
    # 1.5 kg = 1500 g
    assert [cell(each).by for each in ("900 g", "1.5 kg", "−$1,200.50")] == [900, 1500, -1200.5]
    assert cell(date(2026, 3, 9)).by == "2026-03-09"
    assert cell("Oct 2013").by == "2013-10-01"


def test_a_column_with_words_in_it_is_not_one_of_figures() -> None:
    assert are_figures([cell("2 cups"), cell("—")])
    assert not are_figures([cell("2 cups"), cell("some")])
    assert not are_figures([cell("—")])


def test_figures_stand_right_and_one_of_them_beside_the_name() -> None:
    frame = pd.DataFrame({"Dish": ["pie"], "Note": ["new"], "Then": ["$1.00"], "Now": ["$2.00"]})
    data = table_data(frame, "Dishes", None, {})
    assert [each["figures"] for each in data["columns"]] == [False, False, True, True]
    assert data["beside"] == 2
    assert table_data(frame, "Dishes", "Now", {})["beside"] == 3


def test_a_column_of_long_words_keeps_some_width() -> None:
    words = "seen 14 days ago at one shop and 18 days ago at another"
    frame = pd.DataFrame({"Line": ["leeks"], "Cost": ["$1.00"], "Evidence": [words]})
    data = table_data(frame, "Lines", None, {})
    assert [each["long"] for each in data["columns"]] == [False, False, True]
