"""Where a reader is stands in the address: back, forward, a copied link and a former address."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Served
from tests.browser.serving import window
from tests.browser.test_reading import chart, figure, settle, visit
from tests.dashboard.small_kitchen import JUNE, NOW, NOW_OLD_RECIPE
from tests.dashboard.swaps_kitchen import add_swaps

pytestmark = pytest.mark.browser

CHOSEN = (
    "dishes?dish=barley+bowl&on=2026-11-20&version=1&target=0.4&keep=leek&then=2026-06-20&unfold=no"
)


def test_back_and_forward_return_and_a_copied_link_shows_the_same(
    page: Page, served: Served, chromium: Browser
) -> None:
    add_swaps(served.book)
    visit(page, served, "dishes?dish=barley+bowl")
    expect(figure(page).first).to_have_text(NOW)
    page.get_by_text("Look for swaps, amounts and packs").click()
    page.get_by_label("Target per portion").fill("0.4")
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile(r"dish=barley\+bowl.*target=0\.4"))
    settle(page)
    picker = page.get_by_test_id("stDateInput").first
    for part, typed in (("year", "2026"), ("month", "06"), ("day", "15")):
        picker.get_by_role("spinbutton", name=re.compile(part, re.I)).fill(typed)
    page.keyboard.press("Enter")
    page.keyboard.press("Escape")
    expect(page).to_have_url(re.compile(r"on=2026-06-15"))
    expect(figure(page).first).to_have_text(JUNE)
    page.go_back()
    expect(figure(page).first).to_have_text(NOW)
    expect(page.get_by_label("Target per portion")).to_have_value("0.40")
    page.go_back()
    expect(page.get_by_label("Target per portion")).to_have_value("")
    page.go_forward()
    expect(page.get_by_label("Target per portion")).to_have_value("0.40")
    page.go_forward()
    expect(figure(page).first).to_have_text(JUNE)
    with window(chromium, 1280, 1000) as other:
        other.goto(page.url)
        expect(figure(other).first).to_have_text(JUNE)
        expect(other.get_by_label("Target per portion")).to_have_value("0.40")


def test_a_choice_of_a_part_that_was_left_is_there_when_it_returns(
    page: Page, served: Served
) -> None:
    visit(page, served, "dishes?dish=barley+bowl&target=0.4&of=leek")
    ways = page.get_by_role("radiogroup", name="Ways")
    target = page.get_by_label("Target per portion")
    for way, last_drawn in (
        ("At the till", "Look at the shelf before you count on them"),
        # 4 × 0.40 = 1.60 less the barley's 0.80 = 0.80 buys 267 g at 3.00 a kg
        ("How much of an ingredient", "may take 267 g of leek as purchased"),
        ("At the till", "Look at the shelf before you count on them"),
        ("Swaps", "Allergen names in brackets"),
    ):
        ways.get_by_role("radio", name=way).click()
        expect(page.get_by_text(last_drawn)).to_be_visible()
        expect(target).to_have_count(0 if way == "At the till" else 1)
        settle(page)
        expect(page).to_have_url(re.compile(r"target=0\.4"))
    expect(target).to_have_value("0.40")


def test_an_address_with_every_choice_is_kept_and_shown(page: Page, served: Served) -> None:
    add_swaps(served.book)
    visit(page, served, CHOSEN)
    # version 1 at November's prices
    expect(figure(page).first).to_have_text(NOW_OLD_RECIPE)
    expect(page.get_by_label("Target per portion")).to_have_value("0.40")
    for said in ("on=2026-11-20", "version=1", "target=0.4", "keep=leek", "then=2026-06-20"):
        assert said in page.url
    visit(page, served, "ingredients?part=what-if&moved=leek&by+leek=50")
    expect(page.get_by_text("If leek rose by 50 %")).to_be_visible()


def test_a_link_clicked_at_once_leads_to_its_own_dish(page: Page, served: Served) -> None:
    page.goto(f"{served.address}/ingredients?ingredient=leek")
    page.get_by_role("link", name="barley bowl").first.click()
    expect(page.get_by_role("heading", name="barley bowl")).to_be_visible()
    expect(page).to_have_url(re.compile(r"/dishes\?dish=barley(\+|%20)bowl$"))


def test_a_name_that_is_not_there_and_one_in_another_case(page: Page, served: Served) -> None:
    visit(page, served, "dishes?dish=BARLEY+Bowl")
    expect(page.get_by_role("heading", name="barley bowl")).to_be_visible()
    visit(page, served, "dishes?dish=barly+bowl")
    expect(page.get_by_role("heading", name="No dish is called “barly bowl”")).to_be_visible()
    expect(figure(page)).to_have_count(0)
    expect(chart(page, "")).to_have_count(0)
    page.get_by_test_id("stPageLink").get_by_role("link", name="barley bowl").click()
    expect(figure(page).first).to_have_text(NOW)


def test_former_addresses_lead_on(page: Page, served: Served) -> None:
    for former, room in (
        ("catalogue", "/dishes"), ("dish?dish=barley+bowl", r"/dishes\?dish=barley\+bowl"),
        ("tray", r"/book\?part=tray"), ("prices?ingredient=leek", r"/ingredients\?ingredient=leek"),
    ):  # fmt: skip
        visit(page, served, former)
        expect(page).to_have_url(re.compile(room))
        marked = page.locator("a[aria-current=page]")
        expect(marked).to_have_count(1)
