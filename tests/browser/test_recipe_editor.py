"""A new version of a dish, by clicks and amounts, in a headless browser."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from pricing.dishes.cost import cost_dish
from tests.browser.conftest import Served
from tests.browser.test_reading import settle, visit
from tests.kitchen import TODAY

pytestmark = pytest.mark.browser


def test_a_new_version_takes_few_clicks_and_the_amounts(page: Page, served: Served) -> None:
    """400 g barley at 0.002 and 600 g leek at 0.003 are 2.60, $0.65 a portion. Two clicks store it,
    two more go away and come back; the bound is 8."""
    visit(page, served, "dishes?dish=barley+bowl")
    clicks = 0

    page.get_by_role("link", name="New version").click()
    clicks += 1
    amount = page.get_by_role("textbox", name="Quantity of line 2")
    expect(amount).to_have_value("400")
    settle(page)
    amount.fill("600")
    cost = page.get_by_test_id("stMetricValue")
    expect(cost).to_have_text("$0.65")  # while it is typed
    expect(page.get_by_text("+$0.15 against version 2")).to_be_visible()

    page.get_by_role("link", name="Back to barley bowl").click()  # and away, and back
    clicks += 1
    page.get_by_role("link", name="Go on with the new version").click()
    clicks += 1
    expect(amount).to_have_value("600")
    expect(cost).to_have_text("$0.65")

    page.get_by_role("button", name="Store this version").click()
    clicks += 1
    expect(page.get_by_text("Version 3 of barley bowl is stored: 2 rows added.")).to_be_visible()
    assert clicks <= 8
    stored = cost_dish(served.book, "barley bowl", on=TODAY)
    assert (stored.version, stored.cost_per_portion) == ("3", pytest.approx(0.65))

    page.get_by_role("button", name="Take it back").click()
    expect(page.get_by_text("Taken back: 2 rows of load")).to_be_visible()
    assert cost_dish(served.book, "barley bowl", on=TODAY).version == "2"


def test_a_line_is_added_by_the_keyboard_and_its_fault_said_beside_it(
    page: Page, served: Served
) -> None:
    visit(page, served, "dishes?dish=barley+bowl&edit=2")
    page.get_by_role("button", name="Add a line").click()
    field = page.get_by_role("combobox", name="Ingredient of line 3")
    field.fill("saff")  # a prefix and Enter takes the name that is offered
    page.keyboard.press("Enter")
    settle(page)
    page.get_by_role("textbox", name="Quantity of line 3").fill("1")
    page.get_by_role("textbox", name="Unit of line 3").fill("ml")
    expect(page.get_by_text("Found 1 ml of saffron, which is priced by g")).to_be_visible()
    expect(page.get_by_role("button", name="Store this version")).to_be_disabled()
    page.get_by_role("textbox", name="Unit of line 3").fill("g")
    expect(page.get_by_text("Found 1 ml of saffron, which is priced by g")).to_have_count(0)
    expect(page.get_by_test_id("stMetricValue")).to_have_text("at least $0.50")
    expect(page.get_by_role("button", name="Store this version")).to_be_enabled()
