"""The colours of the charts, told apart by people who see colours differently.

Source: M. Okabe and K. Ito, "Color Universal Design" (2002, revised 2008), the set of eight; sky,
orange and purple are darker here, so that lines and bars stand out from a light page and from a
dark one (WCAG 2.2, 1.4.11: 3 to 1).
Colour is never the only mark: lines also differ by dash, points by shape, and all are labelled.
"""

from __future__ import annotations

BLUE = "#0072B2"
SKY = "#3F96CC"
VERMILION = "#D55E00"
GREEN = "#009E73"
ORANGE = "#BE8300"
PURPLE = "#BE6695"
GREY = "#8C8C8C"  # not of the set: between black and white, so that it shows on both

EACH = (BLUE, VERMILION, GREEN, PURPLE, ORANGE, SKY)  # yellow is too faint on white

# Small letters need more contrast than a line (WCAG 2.2, 1.4.3: 4.5 to 1), so labels in the colour
# of a line take a darker shade of it on a light page and a lighter one on a dark page.
_LETTERS = {
    BLUE: ("#005A8C", "#7CC4F0"),
    GREEN: ("#00694D", "#4FD0A5"),
    PURPLE: ("#8A3F68", "#E6A8CB"),
    VERMILION: ("#A34700", "#FF9B57"),
}


def letters(colour: str, *, dark: bool) -> str:
    """Return the shade in which words beside a mark of `colour` are written."""
    return _LETTERS[colour][dark]


def paper(*, dark: bool) -> str:
    """Return the colour of the page behind a chart."""
    return "#171614" if dark else "#FFFFFF"


def ink(*, dark: bool) -> str:
    """Return the colour of plain words on the page."""
    return "#EDEBE8" if dark else "#2F2D2B"
