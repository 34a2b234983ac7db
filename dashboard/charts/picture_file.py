"""A chart as a file of its own, which says what it shows, in what unit, from where and when."""

from __future__ import annotations

import re
import textwrap
from html import escape
from typing import Any, Literal

import altair as alt

from dashboard.words.caption import Caption

Kind = Literal["svg", "png", "pdf", "html"]
WIDTH = 760  # of the drawing, in its own units
PIXELS, PPI = 2000, 300  # of a PNG: its width, and how many make an inch
_POINTS = 72 * PIXELS / PPI  # the same width in print, 72 to the inch
_MARGIN, _FAMILY, _INK = 8, "Liberation Sans, Arial, Helvetica, sans-serif", "#2F2D2B"
_TITLE, _WORDS, _LINE = 17, 12, 16  # sizes of letters, and from line to line
_WIDE = 0.52  # of a letter's height: the mean width of one


def picture_file(chart: alt.TopLevelMixin, kind: Kind, caption: Caption) -> bytes:
    """Return a chart for a light page, its caption around it. The same chart has the same bytes,
    but as PDF: the library puts its fonts and parts in any order.

    A PNG is PIXELS wide at PPI pixels an inch; an SVG and a PDF have the same width in print.
    """
    import vl_convert

    spec: dict[str, Any] = chart.to_dict()
    spec.pop("title", None)
    spec["background"] = "white"
    if "layer" in spec:  # small charts side by side have a width of their own
        spec["width"] = WIDTH
        spec["autosize"] = {"type": "fit-x", "contains": "padding"}
    if kind == "html":
        return _page(vl_convert.vegalite_to_html(spec, bundle=True), caption).encode()
    # what turns it into a PNG or a PDF takes a bare number for points, and points for more
    svg = _framed(vl_convert.vegalite_to_svg(spec), caption, "pt" if kind == "svg" else "")
    if kind == "svg":
        return svg.encode()
    if kind == "png":
        # a quarter of a pixel more: a part of one is cut off
        png: bytes = vl_convert.svg_to_png(svg, scale=1 + 0.25 / PIXELS, ppi=PPI)
        return png
    pdf: bytes = vl_convert.svg_to_pdf(svg)
    return pdf


def _framed(svg: str, caption: Caption, unit: str) -> str:
    """Return a drawing between its title and its source."""
    size = re.match(r'<svg [^>]*width="([\d.]+)" height="([\d.]+)"', svg)
    assert size is not None, svg[:200]
    width, high = max(float(size[1]), WIDTH), float(size[2])
    down, words = float(_MARGIN), []
    for size_of, weight, text in (
        (_TITLE, "bold", caption.title), (_WORDS, "normal", caption.finds),
    ):  # fmt: skip
        lines, down = _lines(text, size_of, weight, width, down)
        words += lines
    top = down + _MARGIN
    down = top + high + _MARGIN / 2
    for text in (caption.reads, caption.source):
        lines, down = _lines(text, _WORDS - 1, "normal", width, down)
        words += lines
    tall = down + _MARGIN
    inner = svg.replace("<svg ", f'<svg x="0" y="{top:g}" ', 1)
    said = escape(f"{caption.title}. {caption.finds}")
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'role="img" aria-label="{said}" width="{_POINTS:g}{unit}" '
        f'height="{_POINTS * tall / width:.4f}{unit}" '
        f'stroke-linejoin="round" viewBox="0 0 {width:g} {tall:g}">'
        f"<title>{escape(caption.title)}</title>"
        f'<rect width="{width:g}" height="{tall:g}" fill="white"/>{"".join(words)}{inner}</svg>'
    )


def _lines(
    text: str, size: int, weight: str, width: float, down: float
) -> tuple[list[str], float]:  # fmt: skip
    """Return the lines of a text below `down`, and where they end."""
    drawn = []
    step = _LINE * size / _WORDS
    for line in textwrap.wrap(text, int((width - 2 * _MARGIN) / (size * _WIDE))):
        drawn.append(
            f'<text x="{_MARGIN}" y="{down + size:g}" font-family="{_FAMILY}" font-size="{size}" '
            f'font-weight="{weight}" fill="{_INK}">{escape(line)}</text>'
        )
        down += step
    return drawn, down


def _page(html: str, caption: Caption) -> str:
    """Return a page with its caption around the drawing; it needs no network."""
    head = f"<h1>{escape(caption.title)}</h1><p>{escape(caption.finds)}</p>"
    foot = "".join(f"<p><small>{escape(each)}</small></p>" for each in
                   (caption.reads, caption.source) if each)  # fmt: skip
    style = f"<title>{escape(caption.title)}</title><style>body{{font-family:sans-serif}}</style>"
    html = html.replace("<html>", '<html lang="en">', 1).replace("<head>", f"<head>{style}", 1)
    html = html.replace("<body>", f"<body>{head}", 1)
    before, end, after = html.rpartition("</body>")
    return before + foot + end + after
