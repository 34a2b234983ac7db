"""A chart as a file of its own, which says what it shows, in what unit, from where and when."""

from __future__ import annotations

from typing import Any, Literal

import altair as alt

WIDTH = 760
Kind = Literal["png", "svg"]


def picture_file(
    chart: alt.TopLevelMixin, kind: Kind, *, title: str, below: str = "", source: str = ""
) -> bytes:
    """Return a chart for a light page as PNG or SVG: `below` its title stands a sentence.

    `source` stands at its foot. The unit is the title of its axis.
    """
    import vl_convert

    spec: dict[str, Any] = chart.to_dict()
    spec["title"] = {
        "text": title, "subtitle": [each for each in (below, source) if each],
        "anchor": "start", "fontSize": 15, "subtitleFontSize": 11, "offset": 14,
    }  # fmt: skip
    spec["background"] = "white"
    spec["width"] = WIDTH
    if kind == "png":
        made: bytes = vl_convert.vegalite_to_png(spec, scale=2)
        return made
    return vl_convert.vegalite_to_svg(spec).encode()
