"""A chart as a file: it says what it shows and where that is from, and needs no network."""

from __future__ import annotations

import io
import re
import struct

import pypdf
import pytest

from dashboard.charts.picture_file import Kind, picture_file
from dashboard.charts.season import season_chart
from dashboard.words.caption import Caption
from tests.dashboard.charts.test_season import months

CAPTION = Caption(
    title="Season of leek", finds="Cheapest in May.", reads="The cheapest are filled.",
    source="From the price book, 28 November 2026",
)  # fmt: skip
WORDS = (
    "Season of leek",
    "Cheapest in May.",
    "The cheapest are filled.",
    "From the price book, 28 November 2026",
    "Against the mean of the year, %",  # the unit
)


def drawn(kind: Kind) -> bytes:
    return picture_file(season_chart(months(3.0)), kind, CAPTION)


@pytest.mark.parametrize("kind", ["svg", "html"])
def test_a_picture_says_title_finding_unit_and_source(kind: Kind) -> None:
    text = drawn(kind).decode()
    for words in WORDS:
        assert words in text
    assert len(re.findall("Season of leek</(?:text|h1)>", text)) == 1


def test_a_picture_is_a_png_of_the_stated_width_and_resolution() -> None:
    png = drawn("png")
    assert png.startswith(b"\x89PNG\r\n\x1a\n")  # PNG specification, 5.2
    (width,) = struct.unpack(">I", png[16:20])  # IHDR, 11.2.1
    assert width == 2000
    at = png.index(b"pHYs") + 4  # 11.3.4.3: pixels per metre, both ways, and the unit
    # by pencil: 300 an inch of 0.0254 m are 11,811 a metre
    assert struct.unpack(">IIB", png[at : at + 9]) == (11811, 11811, 1)


def test_a_picture_is_a_pdf_of_one_page_whose_words_can_be_read() -> None:
    (page,) = pypdf.PdfReader(io.BytesIO(drawn("pdf"))).pages
    text = page.extract_text()
    for words in WORDS:
        assert words in text
    # by pencil: 2000 pixels at 300 an inch are 6.67 inches, of 72 points each
    assert float(page.mediabox.width) == pytest.approx(480, abs=0.1)


@pytest.mark.parametrize("kind", ["svg", "png", "html"])  # the library orders a PDF by chance
def test_the_same_picture_has_the_same_bytes(kind: Kind) -> None:
    assert drawn(kind) == drawn(kind)


def test_a_long_finding_is_broken_into_lines_that_fit() -> None:
    long = Caption(title="Season", finds="cheap in May and dear in June " * 12, source="The book")
    svg = picture_file(season_chart(months(3.0)), "svg", long).decode()
    lines = re.findall(r">(cheap in[^<]*|[^<]*dear in[^<]*)</text>", svg)
    assert len(lines) > 2
    assert " ".join(lines) == long.finds.strip()
    assert max(map(len, lines)) < 130  # of 12 units high letters in 760, half as wide as high
