"""The pages that say why costs changed, as a reader uses them in a headless browser."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import Served
from tests.browser.test_reading import chart, open_part, settle, visit

pytestmark = pytest.mark.browser


def pick_day(page: Page, label: str, day: str) -> None:
    """Type a date (YYYY-MM-DD) into the picker with that label."""
    picker = page.get_by_test_id("stDateInput").filter(has_text=label)
    for part, typed in zip(("year", "month", "day"), day.split("-"), strict=True):
        picker.get_by_role("spinbutton", name=re.compile(part, re.I)).fill(typed)
    page.keyboard.press("Enter")
    page.keyboard.press("Escape")
    settle(page)


def test_two_dates_and_versions_the_waterfall_and_on_to_the_ingredient(
    page: Page, served: Served
) -> None:
    visit(page, served, "dishes?dish=barley+bowl&version=1&then=2026-06-20&then_version=2#why")
    expect(page.get_by_text("From then to now", exact=True)).to_be_visible()
    bars = chart(page, "Waterfall of barley bowl").locator(".mark-rect.role-mark path[aria-label]")
    # version 2 in June 0.10 + 0.20 = $0.30, in November 0.20 + 0.30 = $0.50; version 1 in November
    # 0.20 + 0.45 = $0.65: 50 g more leek at 0.003
    expect(bars.nth(4)).to_be_attached()
    # a striped bar is drawn in parts, each of which says the same
    said = list(dict.fromkeys(bar.get_attribute("aria-label") for bar in bars.all()))
    assert said == [
        "Then, 20 June 2026: a portion cost $0.30",
        "leek dearer: +$0.10 by prices",
        "pearl barley dearer: +$0.10 by prices",
        "more leek: +$0.15 by the recipe",
        "Version 1 as printed, today: a portion costs $0.65",
    ]
    expect(page.get_by_text("Version 2 as printed, today, costs $0.50")).to_be_visible()
    page.get_by_role("link", name="leek").first.click()
    expect(page.get_by_role("heading", name="3 prices in the book")).to_be_visible()


def metric(page: Page, label: str) -> Locator:
    """The figure with that label, among those that are shown."""
    shown = page.get_by_test_id("stMetric").filter(has_text=label, visible=True)
    return shown.get_by_test_id("stMetricValue")


def test_a_recorded_figure_and_a_changed_price_show_what_we_said_and_what_we_know(
    page: Page, served: Served
) -> None:
    visit(page, served, "print?dish=barley+bowl")
    open_part(page, "Record a figure")
    expect(page.get_by_text("barley bowl, version 2: $0.50 a portion")).to_be_visible()
    where = page.get_by_label("Where it is printed")
    where.fill("Slate 12")
    where.press("Enter")
    settle(page)
    page.get_by_role("button", name="Record this figure").click()
    expect(page.get_by_text("Recorded $0.50 a portion of barley bowl")).to_be_visible()
    settle(page)
    open_part(page, "What we said, what we know now")
    expect(page.get_by_text("Nothing behind it has changed")).to_be_visible()
    done = served.run(
        "price", "leek", "5.00", "--pack", "1 kg", "--supplier", "Salt Lane", "--on", "2026-11-24"
    )
    assert done.returncode == 0, done.stderr
    # leek 100 g at 0.005 = 0.50 and barley 0.20 a portion; the page follows the book by itself
    expect(metric(page, "What we know now")).to_have_text("$0.70")
    expect(metric(page, "What we said")).to_have_text("$0.50")
    changed = page.get_by_role("table", name="What changed behind the figure of barley bowl")
    expect(changed.get_by_role("link", name="leek")).to_be_visible()
    open_part(page, "Every figure, checked")
    # 0.70 is 40 % more than the 0.50 just recorded, which replaced that of June
    force = page.get_by_role("table", name="Figures in force")
    expect(force.get_by_text("✗ differs")).to_have_count(1)
    superseded = page.get_by_role("table", name="Superseded figures")
    expect(superseded.get_by_text("✓ agrees")).to_have_count(1)


def test_a_figure_of_an_issue_that_is_not_out_yet_is_recorded(page: Page, served: Served) -> None:
    visit(page, served, "print?dish=barley+bowl")
    open_part(page, "Record a figure")
    expect(page.get_by_text("Published prices fall under local law").first).to_be_visible()
    pick_day(page, "Published on", "2027-02-11")
    amount = page.get_by_role("textbox", name="Amount as printed")
    amount.fill("about 0.50")
    amount.press("Enter")
    settle(page)
    page.get_by_role("button", name="Record this figure").click()
    said = "Recorded $0.50 (“about 0.50”) a portion of barley bowl, version 2, published on 11"
    expect(page.get_by_text(said)).to_be_visible()
    settle(page)
    open_part(page, "Every figure, checked")
    force = page.get_by_role("table", name="Figures in force")
    expect(force.get_by_text("not out yet")).to_have_count(1)
    expect(force.get_by_text("↕ stale")).to_have_count(1)  # that of June still stands


def test_from_a_dish_to_its_season_and_on_to_an_ingredient(page: Page, served: Served) -> None:
    visit(page, served, "dishes?dish=barley+bowl")
    page.get_by_text("Show in which months it is cheap").click()
    # neither barley nor leek names a series, nor was seen for three years
    expect(page.get_by_text("Found no ingredient of 'barley bowl' with a price")).to_be_visible()
    visit(page, served, "ingredients?ingredient=butter")
    expect(page.get_by_role("heading", name="butter")).to_be_visible()
    bars = chart(page, "Season of butter").locator(".mark-rect.role-mark path[aria-label]")
    expect(bars).to_have_count(12)
    said = [bar.get_attribute("aria-label") or "" for bar in bars.all()]
    # the cheapest months are drawn apart, and say so
    cheap = [each for each in said if each.endswith("one of the cheapest months")]
    assert 1 <= len(cheap) <= 3
    assert all(": −" in each for each in cheap)
    expect(
        page.get_by_text("Read from the official series Butter, US city average")
    ).to_be_visible()
    expect(page.get_by_role("heading", name="1 price in the book")).to_be_visible()
