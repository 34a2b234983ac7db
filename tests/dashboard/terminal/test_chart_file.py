"""Chart files: the four formats, what stands in each chart, and what is refused."""

from __future__ import annotations

import re
import struct
from datetime import date
from pathlib import Path
from unittest.mock import patch

import pytest

from dashboard.charts.inflation import _LOOK
from dashboard.terminal import chart_file
from dashboard.terminal.chart_file import refuse_format, save_drift_chart
from pricing.book.connect import Book
from pricing.change.drivers import rank_drivers
from pricing.change.records import Comparison
from pricing.dishes.drift import Drift, drift_points
from pricing.errors import InputRefused
from pricing.inflation.measure import measure_inflation


@pytest.fixture
def half_year(kitchen: Book) -> Drift:
    return drift_points(kitchen, ["barley bowl"], start="2026-06", end="2026-11")


def text_of(path: Path) -> str:
    return path.read_text("utf-8")


def test_svg_holds_the_words_of_the_chart(kitchen: Book, half_year: Drift, tmp_path: Path) -> None:
    save_drift_chart(kitchen, half_year, tmp_path / "bowl.SVG")
    text = text_of(tmp_path / "bowl.SVG")
    assert text.startswith("<svg")
    for words in (
        "What barley bowl cost over the years",
        "Cost per portion, USD",
        "version 2",
        "mostly from prices seen",
        "Source: the price book of this kitchen",
        "Drawn on 24 November 2026.",
    ):
        assert words in text


def test_the_printed_figures_of_one_dish_are_marked(kitchen: Book, tmp_path: Path) -> None:
    # printed at 2.00 on 2026-06-15: tests/dashboard/small_kitchen.py
    for start, marked in (("2026-06", True), ("2026-07", False)):
        found = drift_points(kitchen, ["barley bowl"], start=start, end="2026-11")
        save_drift_chart(kitchen, found, tmp_path / "bowl.svg")
        assert ("printed $" in text_of(tmp_path / "bowl.svg")) is marked


def test_png_is_of_the_width_that_help_states(
    kitchen: Book, half_year: Drift, tmp_path: Path
) -> None:
    save_drift_chart(kitchen, half_year, tmp_path / "bowl.png")
    data = (tmp_path / "bowl.png").read_bytes()
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    width, height = struct.unpack(">II", data[16:24])  # the IHDR chunk of the PNG specification
    assert width == 2000
    assert height > 800


def test_html_asks_no_network_for_anything(kitchen: Book, half_year: Drift, tmp_path: Path) -> None:
    save_drift_chart(kitchen, half_year, tmp_path / "bowl.html")
    text = text_of(tmp_path / "bowl.html")
    assert not re.search(r"<(script|link)[^>]+(src|href)=", text)
    assert len(text) > 300_000  # the drawing library is inside
    assert "Drawn on 24 November 2026." in text


def test_several_dishes_are_drawn(kitchen: Book, tmp_path: Path) -> None:
    found = drift_points(kitchen, start="2026-06", end="2026-11")
    save_drift_chart(kitchen, found, tmp_path / "all.svg")
    for dish in ("barley bowl", "barley supper", "saffron barley"):
        assert dish in text_of(tmp_path / "all.svg")


def test_the_other_commands_draw_what_the_pages_draw(
    kitchen: Book, bowl: Comparison, tmp_path: Path
) -> None:
    ranked = rank_drivers(kitchen, then=date(2026, 6, 15), now=date(2026, 11, 24))
    index = measure_inflation(kitchen, start="2026-06", end="2026-11")
    for save, found, unit, title in (
        (chart_file.save_change_chart, bowl, "Cost per portion, USD",
         "What changed the cost of barley bowl"),
        (chart_file.save_drivers_chart, ranked, "Change of the mean cost per portion, USD",
         "What each ingredient added to the mean cost per portion"),
        (chart_file.save_inflation_chart, index, "Index, June 2026 = 100",
         "The kitchen&#x27;s own index beside official food prices and all items"),
    ):  # fmt: skip
        save(found, tmp_path / "one.svg")  # type: ignore[operator]
        text = text_of(tmp_path / "one.svg")
        for words in (unit, f">{title}</text>", "Drawn on 24 November 2026."):
            assert words in text


def test_the_lines_of_the_index_differ_without_colour() -> None:
    dashes = [tuple(dash) for _, dash, _ in _LOOK.values()]
    assert len(set(dashes)) == len(dashes) == 3
    assert (5, 3) not in dashes  # this kitchen's own, where it is mostly estimated


@pytest.mark.parametrize("name", ["chart.gif", "chart", "chart.svg.txt"])
def test_another_ending_is_refused_with_the_four(name: str, tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match=re.escape(".svg, .png, .pdf or .html")):
        refuse_format(tmp_path / name)


def test_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match="no folder"):
        refuse_format(tmp_path / "none" / "chart.svg")


def test_a_folder_of_that_name_is_refused(tmp_path: Path) -> None:
    (tmp_path / "taken.svg").mkdir()
    with pytest.raises(InputRefused, match="a folder"):
        refuse_format(tmp_path / "taken.svg")


def test_a_full_disk_leaves_the_former_picture(
    kitchen: Book, half_year: Drift, tmp_path: Path
) -> None:
    path = tmp_path / "bowl.svg"
    path.write_text("former")
    full = OSError(28, "No space left on device")
    with (
        patch("dashboard.report.file.os.fsync", side_effect=full),
        pytest.raises(InputRefused, match="Nothing was written"),
    ):
        save_drift_chart(kitchen, half_year, path)
    assert [each.name for each in tmp_path.iterdir() if "bowl" in each.name] == ["bowl.svg"]
    assert path.read_text() == "former"
