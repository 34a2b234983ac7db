"""`python -m tests.picture`: makes the README's picture anew, with what it shows written in it."""

from __future__ import annotations

import json
import os
import struct
import sys
import tempfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from unittest.mock import patch
from urllib.parse import quote_plus

from playwright.sync_api import Browser, expect

from dashboard.charts import drift_of_dish
from dashboard.demo import FOLDER, make_demo
from tests.browser.serving import chromium_path, opened, serving, window
from tests.dashboard.views.reading import page
from tests.kitchen import TODAY

PICTURE = FOLDER / "dish_page.png"
DISH = "smoky leek and potato soup"
WIDTH, MARGIN = 1100, 12  # pixels
_SAID = ("header", "subheader", "markdown", "metric", "caption", "selectbox", "date_input")
_KEY = "What it shows"  # the text's name inside the PNG


def main() -> int:
    """Make the picture from a demo kitchen built for it."""
    found = chromium_path()
    if found is None:
        print("Found no chromium; expected one to draw the page. Install it and try again.")
        return 1
    os.environ["PORTIONDRIFT_TODAY"] = TODAY.isoformat()
    with tempfile.TemporaryDirectory() as folder, opened(found) as browser:
        book = Path(folder) / "demo.duckdb"
        make_demo(book)
        take(browser, book, PICTURE)
    print(f"Wrote {PICTURE}.")
    return 0


def take(browser: Browser, book: Path, target: Path) -> None:
    """Write the picture of the dish's page, down to the line below its chart."""
    with (
        serving(book, target.with_suffix(".log")) as address,
        window(browser, WIDTH, 1600) as there,
    ):
        there.goto(f"{address}/dishes?dish={quote_plus(DISH)}")
        settled = "[data-testid=stApp][data-test-script-state=notRunning]"
        expect(there.locator(settled)).to_be_visible()
        expect(there.locator("svg.marks .mark-line path").first).to_be_visible()
        last = there.get_by_text("Each month is costed on its 15th").bounding_box()
        assert last is not None
        high = last["y"] + last["height"] + MARGIN
        drawn = there.screenshot(clip={"x": 0, "y": 0, "width": WIDTH, "height": high})
    target.with_suffix(".log").unlink()
    target.write_bytes(with_text(drawn, shown(book)))


def shown(book: Path) -> str:
    """Return what the picture shows: the page's words down to the chart, and all that is drawn."""
    charts: list[dict[str, Any]] = []
    draw = drift_of_dish.drift_chart

    def drawn(*given: Any, **more: Any) -> Any:
        chart = draw(*given, **more)
        charts.append(chart.to_dict())
        return chart

    with (
        patch("dashboard.views.dish.drift_chart", drawn),
        patch.dict(os.environ, {"PORTIONDRIFT_BOOK": str(book)}),
    ):
        app = page("dishes", dish=DISH)
    assert not app.exception
    (chart,) = charts
    words = []
    for element in app.main:
        if "vega" in element.type:
            break
        if element.type in _SAID:
            words.append(f"{element.type} {getattr(element, 'label', '')}: {element.value}")
    return json.dumps(
        {"words": words, "layers": _plain(chart["layer"]), "data": _plain(_data(chart))},
        ensure_ascii=False,
        sort_keys=True,
        indent=1,
    )


def _data(chart: dict[str, Any]) -> list[Any]:
    """Return the data of a chart in the order of its layers, without the names Altair makes up."""
    return [chart["datasets"][each["data"]["name"]] for each in chart["layer"] if "data" in each]


def _plain(value: Any) -> Any:
    """Return a value with floats to nine digits, and without the names of data."""
    if isinstance(value, dict):
        return {key: _plain(each) for key, each in value.items() if key not in ("data", "name")}
    if isinstance(value, list):
        return [_plain(each) for each in value]
    return float(f"{value:.9g}") if isinstance(value, float) else value


def with_text(png: bytes, text: str) -> bytes:
    """Return a PNG with a text in it, before its end (PNG specification, 11.3.3: iTXt)."""
    body = _KEY.encode() + b"\0\1\0\0\0" + zlib.compress(text.encode(), 9)
    return png[:-12] + _chunk(b"iTXt", body) + png[-12:]


def text_of(png: bytes) -> str | None:
    """Return the text that `with_text` wrote, or None."""
    start = _KEY.encode() + b"\0\1\0\0\0"
    for kind, body in _chunks(png):
        if kind == b"iTXt" and body.startswith(start):
            return zlib.decompress(body[len(start) :]).decode()
    return None


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def _chunks(png: bytes) -> Iterator[tuple[bytes, bytes]]:
    at = 8
    while at < len(png):
        (size,) = struct.unpack(">I", png[at : at + 4])
        yield png[at + 4 : at + 8], png[at + 8 : at + 8 + size]
        at += 12 + size


if __name__ == "__main__":
    sys.exit(main())
