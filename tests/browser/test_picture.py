"""The README's picture is of the page as it is: what it shows is written into it, and compared."""

from __future__ import annotations

import json
import struct
from pathlib import Path

from playwright.sync_api import Browser

from pricing.book.connect import Book
from tests.picture import DISH, PICTURE, WIDTH, shown, take, text_of, with_text


def test_the_picture_shows_what_the_demo_kitchen_says_today(demo: Book) -> None:
    kept = text_of(PICTURE.read_bytes())
    assert kept == shown(demo.path), "make it anew: python -m tests.picture"


def test_the_command_takes_the_picture_with_what_it_shows(
    chromium: Browser, demo: Book, tmp_path: Path
) -> None:
    target = tmp_path / "dish_page.png"
    take(chromium, demo.path, target)
    made = target.read_bytes()
    width, height = struct.unpack(">II", made[16:24])  # PNG specification, 11.2.1
    assert width == WIDTH
    assert 700 < height < 1600
    assert text_of(made) == shown(demo.path)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["dish_page.png"]


def test_what_it_shows_is_the_words_and_the_points(demo: Book) -> None:
    found = json.loads(shown(demo.path))
    assert any(DISH in words for words in found["words"])
    drawn = [row["shown"] for rows in found["data"] for row in rows if "shown" in row]
    assert len(drawn) > 100  # a point a month since 2012
    assert shown(demo.path) == shown(demo.path)  # the same page, the same text


def test_a_text_in_a_png_is_read_again() -> None:
    empty = b"\x89PNG\r\n\x1a\n" + b"\0\0\0\0IEND\xaeB`\x82"
    assert text_of(empty) is None
    assert text_of(with_text(empty, "1,50 € → 2")) == "1,50 € → 2"
