"""A chart as a file: it says what it shows and where that is from, and needs no network."""

from __future__ import annotations

from dashboard.charts.picture_file import WIDTH, picture_file
from dashboard.charts.season import season_chart
from tests.dashboard.charts.test_season import months


def test_a_picture_is_an_svg_with_title_finding_unit_and_source() -> None:
    svg = picture_file(
        season_chart(months(3.0)), "svg", title="Season of leek", below="Cheapest in May.",
        source="From the price book, 28 November 2026",
    ).decode()  # fmt: skip
    assert svg.startswith("<svg")
    for words in (
        "Season of leek",
        "Cheapest in May.",
        "From the price book, 28 November 2026",
        "Against the mean of the year, %",
    ):
        assert words in svg


def test_a_picture_is_a_png_sharp_enough_to_print() -> None:
    png = picture_file(season_chart(months(3.0)), "png", title="Season of leek")
    assert png.startswith(b"\x89PNG\r\n\x1a\n")  # PNG specification, 5.2
    assert int.from_bytes(png[16:20], "big") >= 2 * WIDTH  # its width, at twice the size
