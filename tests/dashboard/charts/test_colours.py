"""Contrast of words on light and on dark."""

from __future__ import annotations

import pandas as pd
import pytest

from dashboard.charts import colours
from dashboard.charts.colours import BLUE, GREEN, PURPLE, VERMILION, letters, paper
from dashboard.charts.index_series import series_chart


def test_words_have_enough_contrast_on_light_and_on_dark() -> None:
    # WCAG 2.2, 1.4.3 and its definitions of relative luminance and contrast ratio: 4.5 to 1
    for colour in (BLUE, GREEN, VERMILION, PURPLE):
        for dark in (False, True):
            assert contrast(letters(colour, dark=dark), paper(dark=dark)) >= 4.5


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("name", ["BLUE", "SKY", "VERMILION", "GREEN", "ORANGE", "PURPLE", "GREY"])
def test_lines_and_bars_have_enough_contrast_on_light_and_on_dark(name: str, dark: bool) -> None:
    # WCAG 2.2, 1.4.11: 3 to 1
    assert contrast(getattr(colours, name), paper(dark=dark)) >= 3


@pytest.mark.parametrize("dark", [False, True])
def test_the_words_of_axes_and_legends_have_enough_contrast(dark: bool) -> None:
    months = pd.DataFrame(
        {"month": pd.to_datetime(["2026-01-01", "2026-02-01"]), "value": [1.0, 2.0], "run": 0,
         "shown": ["Jan 2026", "Feb 2026"]}
    )  # fmt: skip
    config = series_chart(months, title="", base=None, dark=dark).to_dict()["config"]
    for part in ("axis", "legend"):
        for words in ("labelColor", "titleColor"):
            assert contrast(config[part][words], paper(dark=dark)) >= 4.5


def contrast(one: str, other: str) -> float:
    def luminance(colour: str) -> float:
        shares = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        red, green, blue = (
            share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
            for share in shares
        )
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_of_black_on_white_is_21() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)  # WCAG 2.2
