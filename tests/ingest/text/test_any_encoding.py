"""A text is read in the encodings that editors and tills of the known countries save."""

from __future__ import annotations

import pytest

from ingest.text.any_encoding import read_any_text
from pricing.errors import Problem

FRENCH = "Crème brûlée : ½ l de crème, 3 œufs, 2,50 €"
POLISH = "Żurek: mąka żytnia, łyżka śmietany, biała kiełbasa"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-32", "cp1252"])
def test_french_is_read(encoding: str) -> None:
    assert read_any_text(FRENCH.encode(encoding), "a text") == FRENCH


@pytest.mark.parametrize("encoding", ["utf-8", "cp1250", "iso8859_2"])
def test_polish_is_read(encoding: str) -> None:
    assert read_any_text(POLISH.encode(encoding), "a text") == POLISH


def test_a_page_says_its_encoding() -> None:
    page = '<html><meta charset="cp1251"><p>Мука</p>'
    assert read_any_text(page.encode("cp1251"), "a text") == page


def test_cyrillic_without_a_word_of_it_is_told_by_its_letters() -> None:
    text = "Мука пшеничная, масло сливочное, смешать и варить, потом подавать горячим"
    assert read_any_text(text.encode("cp1251"), "a text") == text


def test_line_ends_are_one() -> None:
    assert read_any_text(b"a\r\nb\rc\n", "a text") == "a\nb\nc\n"


@pytest.mark.parametrize("data", [b"%PDF-1", b"\x1f\x8b", b"a\x00b", b"\0\0\0\x18ftypheic"])
def test_what_is_no_text_is_refused(data: bytes) -> None:
    assert isinstance(read_any_text(data, "a text"), Problem)
