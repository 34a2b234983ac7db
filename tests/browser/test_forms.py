"""Forms that forgive: nothing typed is lost, nothing is stored but what stands in the fields."""

from __future__ import annotations

import pytest
from playwright.sync_api import Locator, Page, expect

from pricing.prices.history import Observation, price_history
from tests.browser.conftest import SETTLED, Served
from tests.kitchen import TODAY

pytestmark = pytest.mark.browser
STORED = "The price of leek is stored: 1 row added."


def form(page: Page, served: Served) -> Locator:
    """Open the form of a price on the page of leek."""
    page.goto(f"{served.address}/ingredients?ingredient=leek")
    page.wait_for_selector(SETTLED)
    page.get_by_role("button", name="Log a price").click()
    dialog = page.get_by_role("dialog")
    expect(dialog.get_by_label("Price of the pack")).to_be_visible()
    return dialog


def today(served: Served) -> list[Observation]:
    seen = price_history(served.book, "leek", on=TODAY).observations
    return [each for each in seen if each.observed_on == TODAY]


def test_pack_and_shop_are_offered_and_the_form_stays_for_the_next_price(
    page: Page, served: Served
) -> None:
    """Before, every field was empty, no outcome was seen behind the form, and three seconds after a
    price was stored, when the page is drawn anew for it, the form was gone."""
    dialog = form(page, served)
    expect(dialog.get_by_label("Pack", exact=True)).to_have_value("1 kg")
    expect(dialog.get_by_label("Supplier")).to_have_value("Salt Lane")
    price = dialog.get_by_label("Price of the pack")
    price.fill("3.10")
    dialog.get_by_role("button", name="Store this price").click()
    expect(dialog.get_by_text(STORED)).to_be_visible()
    expect(price).to_have_value("")
    page.wait_for_timeout(4_000)  # longer than the page takes to follow the book
    page.wait_for_selector(SETTLED)
    expect(dialog.get_by_text(STORED)).to_be_visible()
    expect(dialog.get_by_label("Pack", exact=True)).to_have_value("1 kg")
    expect(dialog.get_by_label("Supplier")).to_have_value("Salt Lane")
    price.fill("3.20")
    dialog.get_by_role("button", name="Store this price").click()
    expect(price).to_have_value("")
    assert sorted(float(each.price) for each in today(served)) == [3.10, 3.20]


def test_the_first_click_stores_what_stands_in_the_fields(page: Page, served: Served) -> None:
    """Before, a note that was just typed was lost with the click."""
    dialog = form(page, served)
    dialog.get_by_label("Price of the pack").fill("3.10")
    expect(dialog.get_by_text("Understood:")).to_be_visible()
    dialog.get_by_label("Note").fill("last crate")
    dialog.get_by_role("button", name="Store this price").click()
    expect(dialog.get_by_text(STORED)).to_be_visible()
    (seen,) = today(served)
    assert [float(seen.price), seen.note] == [3.10, "last crate"]


def test_the_beginning_of_a_shop_and_enter_take_the_shop(page: Page, served: Served) -> None:
    """Before, it made a new shop called "qu"."""
    dialog = form(page, served)
    shop = dialog.get_by_label("Supplier")
    shop.click()
    page.keyboard.type("qu")
    page.keyboard.press("Enter")
    expect(shop).to_have_value("Quay Market")
    dialog.get_by_role("button", name="No, a new shop: qu").click()
    expect(shop).to_have_value("qu")


def test_a_message_leaves_with_the_page(page: Page, served: Served) -> None:
    """Before, it stood on every page until something else was stored."""
    dialog = form(page, served)
    dialog.get_by_label("Price of the pack").fill("3.10")
    dialog.get_by_role("button", name="Store this price").click()
    expect(dialog.get_by_text(STORED)).to_be_visible()
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    page.wait_for_selector(SETTLED)
    page.get_by_role("navigation").get_by_role("link", name="Print", exact=True).click()
    expect(page.get_by_role("heading", name="Print").first).to_be_visible()
    page.wait_for_selector(SETTLED)
    expect(page.get_by_text(STORED)).to_have_count(0)
    page.get_by_role("navigation").get_by_role("link", name="Ingredients", exact=True).click()
    expect(page.get_by_role("heading", name="Ingredients").first).to_be_visible()
    expect(page.get_by_text(STORED)).to_have_count(0)
