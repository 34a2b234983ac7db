"""A price logged in the shop on a phone: its taps are counted; and a console without errors."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from dashboard.views.pages import FIRST, FORMER, TITLES
from pricing.book.connect import Book
from pricing.prices.history import price_history
from tests.browser.conftest import SETTLED, Served
from tests.browser.serving import window
from tests.dashboard.phone.test_answers import serving
from tests.dashboard.small_kitchen import small_kitchen
from tests.kitchen import TODAY

ROOMS = [name for name in TITLES if name != FIRST]  # the first is at the bare address

pytestmark = pytest.mark.browser


@pytest.fixture
def phone(chromium: Browser) -> Iterator[Page]:
    with window(chromium, 390, 844) as opened:
        yield opened


def test_a_price_in_the_shop_takes_three_taps_and_its_figures(phone: Page, tmp_path: Path) -> None:
    """Then seven and a keyboard of letters in the form of the desk, where every field was empty;
    now ingredient, price, store: pack and shop are those of the last time."""
    book, codes = small_kitchen(tmp_path), list[str]()
    with serving(book, codes) as room:
        phone.goto(room.address)
        phone.get_by_label("The code that the terminal shows").fill(codes[0])
        phone.get_by_role("button", name="Enter").click()
        expect(phone.get_by_role("heading", name="Log a price of")).to_be_visible()
        assert codes[0].replace(" ", "") not in phone.url
        taps = 0
        for name in ("leek", "butter"):
            phone.get_by_role("link", name=name).click()
            field = phone.get_by_label("Price of the pack, USD")
            assert field.get_attribute("inputmode") == "decimal"
            field.click()
            phone.keyboard.type("2.95")
            phone.get_by_role("button", name="Store this price").click()
            expect(phone.get_by_role("status")).to_contain_text(f"Stored: {name}, 2.95 USD for")
            taps += 3
        assert taps == 6  # two prices
        wide = phone.evaluate("document.documentElement.scrollWidth")
        assert wide <= 390
        for each in phone.get_by_role("link").all():
            box = each.bounding_box()
            assert box is not None
            assert box["height"] >= 44  # WCAG 2.2, 2.5.5: 44 by 44 CSS pixels
    seen = price_history(Book(path=book.path), "leek", on=TODAY).observations[0]
    assert [str(seen.supplier), seen.pack, seen.observed_on] == ["Salt Lane", "1 kg", TODAY]


@pytest.mark.parametrize("room", ["", *ROOMS, *FORMER, "dishes?dish=barley+bowl"])
def test_no_room_has_an_error_in_the_console_or_asks_another_place(
    page: Page, served: Served, room: str
) -> None:
    """Before, each room but the first asked twice for what was not there, below its own address."""
    errors: list[str] = []
    elsewhere: list[str] = []
    page.on("console", lambda said: errors.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("response", lambda r: errors.append(f"{r.status} {r.url}") if r.status >= 400 else None)
    own = (served.address, served.address.replace("http", "ws", 1), "data:", "blob:")
    page.on("request", lambda r: None if r.url.startswith(own) else elsewhere.append(r.url))
    page.on("websocket", lambda w: None if w.url.startswith(own) else elsewhere.append(w.url))
    page.goto(f"{served.address}/{room}")
    page.wait_for_selector(SETTLED)
    expect(page.get_by_role("heading").first).to_be_visible()
    assert errors == []
    assert elsewhere == []
