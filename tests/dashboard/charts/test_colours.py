"""Contrast of words on light and on dark."""

from __future__ import annotations

import pytest

from dashboard.charts.colours import BLUE, GREEN, VERMILION, letters, paper


def test_words_have_enough_contrast_on_light_and_on_dark() -> None:
    # WCAG 2.2, 1.4.3 and its definitions of relative luminance and contrast ratio: 4.5 to 1
    for colour in (BLUE, GREEN, VERMILION, "#CC79A7"):
        for dark in (False, True):
            assert contrast(letters(colour, dark=dark), paper(dark=dark)) >= 4.5


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
