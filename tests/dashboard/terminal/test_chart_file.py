"""Chart files: the three formats, and what is refused."""

from __future__ import annotations

import re
import struct
from pathlib import Path

import pytest

from dashboard.terminal.chart_file import refuse_format, save_drift_chart
from pricing.book.connect import Book
from pricing.dishes.drift import Drift, drift_points
from pricing.errors import InputRefused


@pytest.fixture
def bowl(kitchen: Book) -> Drift:
    return drift_points(kitchen, ["barley bowl"], start="2026-06", end="2026-11")


def test_svg_holds_the_words_of_the_chart(bowl: Drift, tmp_path: Path) -> None:
    save_drift_chart(bowl, tmp_path / "bowl.SVG")
    text = (tmp_path / "bowl.SVG").read_text("utf-8")
    assert text.startswith("<svg")
    for words in ("barley bowl", "Cost per portion, USD", "version 2", "mostly from prices seen"):
        assert words in text


def test_png_is_a_picture_of_a_useful_size(bowl: Drift, tmp_path: Path) -> None:
    save_drift_chart(bowl, tmp_path / "bowl.png")
    data = (tmp_path / "bowl.png").read_bytes()
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    width, height = struct.unpack(">II", data[16:24])  # the IHDR chunk of the PNG specification
    assert width > 1200
    assert height > 600


def test_html_asks_no_network_for_anything(bowl: Drift, tmp_path: Path) -> None:
    save_drift_chart(bowl, tmp_path / "bowl.html")
    text = (tmp_path / "bowl.html").read_text("utf-8")
    assert not re.search(r"<(script|link)[^>]+(src|href)=", text)
    assert len(text) > 300_000  # the drawing library is inside


def test_several_dishes_are_drawn(kitchen: Book, tmp_path: Path) -> None:
    save_drift_chart(drift_points(kitchen, start="2026-06", end="2026-11"), tmp_path / "all.svg")
    text = (tmp_path / "all.svg").read_text("utf-8")
    for dish in ("barley bowl", "barley supper", "saffron barley"):
        assert dish in text


@pytest.mark.parametrize("name", ["chart.pdf", "chart", "chart.svg.txt"])
def test_another_ending_is_refused_with_the_three(name: str, tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match=re.escape(".svg, .png or .html")):
        refuse_format(tmp_path / name)


def test_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match="no folder"):
        refuse_format(tmp_path / "none" / "chart.svg")


def test_a_file_that_cannot_be_written_is_refused(bowl: Drift, tmp_path: Path) -> None:
    (tmp_path / "taken.svg").mkdir()
    with pytest.raises(InputRefused, match="Cannot write the chart"):
        save_drift_chart(bowl, tmp_path / "taken.svg")
