"""A target, a lock, the chosen swaps, their allergens, and on to a price, in a headless browser."""

from __future__ import annotations

from contextlib import suppress

import pytest
from playwright.sync_api import Page, TimeoutError, expect

from tests.browser.conftest import Served
from tests.browser.test_reading import chart, settle, visit
from tests.dashboard.swaps_kitchen import add_swaps

pytestmark = pytest.mark.browser


def test_from_a_target_to_the_swaps_that_reach_it_and_their_prices(
    page: Page, served: Served
) -> None:
    add_swaps(served.book)
    visit(page, served, "dishes?dish=barley+bowl")
    page.get_by_role("link", name="Bring it down").click()
    page.get_by_text("Look for swaps, amounts and packs").click()

    target = page.get_by_label("Target per portion, USD")
    target.fill("0.30")
    target.press("Enter")
    expect(page.get_by_text("✓ within $0.30 per portion")).to_be_visible()
    # 0.50 − 0.20 with celeriac for leek; figures as in swaps_kitchen.py
    expect(page.get_by_text("1 change reaches $0.30: celeriac for leek")).to_be_visible()
    expect(page.get_by_text("Allergens, all of them together: adds celery")).to_be_visible()
    points = chart(page, "Lowest cost per portion of barley bowl").locator(
        ".mark-symbol.role-mark path[aria-label^='With']"
    )
    expect(points).to_have_count(3)
    said = [point.get_attribute("aria-label") for point in points.all()]
    assert said == [
        "With 0 changes a portion costs $0.50 at the lowest: no change",
        "With 1 change a portion costs $0.30 at the lowest: celeriac for leek",
        "With 2 changes a portion costs $0.25 at the lowest: celeriac for leek, oats for "
        "pearl barley",
    ]

    page.get_by_label("Keep as it is").click()
    page.get_by_role("option", name="leek", exact=True).click()
    page.keyboard.press("Escape")
    expect(page.get_by_text("✗ not within $0.30 per portion")).to_be_visible()
    expect(page.get_by_text("The lowest is $0.45")).to_be_visible()
    together = page.get_by_text("Allergens, all of them together")
    expect(together).to_contain_text("adds oats; removes barley")

    settle(page)
    swap = page.get_by_role("combobox", name="Swap", exact=True)
    swap.scroll_into_view_if_needed()
    offered = page.get_by_role("option", name="celeriac for leek", exact=True)

    def choose() -> None:  # a list that opens while the page still scrolls closes again
        settle(page)
        page.keyboard.press("Escape")
        swap.click(timeout=3000)
        swap.fill("celeriac")
        expect(offered).to_be_visible(timeout=3000)
        offered.click(timeout=3000)

    for _ in range(8):
        with suppress(AssertionError, TimeoutError):
            choose()
            break
    expect(chart(page, "What celeriac for leek would have saved")).to_be_visible()
    prices = page.get_by_role("table", name="Both prices of the swap and what they rest on")
    expect(prices.get_by_text("$0.45 per lb")).to_be_visible()  # 1.00 a kg × 0.45359237
    prices.get_by_role("link", name="celeriac").click()
    expect(page.get_by_role("heading", name="2 prices in the book")).to_be_visible()
