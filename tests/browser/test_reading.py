"""The pages as a reader uses them, in a headless browser."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from pricing.dishes.cost import cost_dish
from tests.browser.conftest import SETTLED, Served
from tests.dashboard.small_kitchen import JUNE, NOW
from tests.kitchen import TODAY
from tests.pricing.book.other_process import holding

pytestmark = pytest.mark.browser


def visit(page: Page, served: Served, where: str) -> None:
    """Open a page and wait until it has been drawn."""
    page.goto(f"{served.address}/{where}")
    page.wait_for_selector(SETTLED)


def settle(page: Page) -> None:
    """Wait until the page has answered what was done last."""
    page.wait_for_selector(SETTLED)


def chart(page: Page, name: str) -> Locator:
    return page.locator(f"[data-testid=stVegaLiteChart][aria-label^='{name}']")


def figure(page: Page) -> Locator:
    """The figure at the top of a page."""
    return page.get_by_test_id("stMetricValue").first


def open_part(page: Page, name: str) -> None:
    """Open a part of the room."""
    page.get_by_test_id("stButtonGroup").first.get_by_text(name, exact=True).click()
    settle(page)


def months(page: Page) -> Locator:
    """The marks of the drift chart that can be pointed at: one a month."""
    drawn = chart(page, "Drift chart of barley bowl")
    return drawn.locator(".mark-symbol.role-mark path[aria-label*='Evidence:']")


def test_the_drift_chart_has_a_mark_for_every_month(page: Page, served: Served) -> None:
    visit(page, served, "dishes?dish=barley+bowl")
    drawn = chart(page, "Drift chart of barley bowl")
    expect(drawn.locator(".mark-line path").first).to_be_visible()
    # the 15ths of June to November 2026, and today
    expect(months(page)).to_have_count(7)
    expect(drawn.get_by_text("printed $0.40").last).to_be_visible()
    expect(drawn.get_by_text("version 2")).to_be_visible()


def test_the_date_picker_changes_the_figure(page: Page, served: Served) -> None:
    visit(page, served, "dishes?dish=barley+bowl")
    expect(figure(page)).to_have_text(NOW)
    picker = page.get_by_test_id("stDateInput").first
    for part, typed in (("year", "2026"), ("month", "06"), ("day", "15")):
        picker.get_by_role("spinbutton", name=re.compile(part, re.I)).fill(typed)
    page.keyboard.press("Enter")
    page.keyboard.press("Escape")
    expect(figure(page)).to_have_text(JUNE)


def test_a_click_on_a_dish_opens_its_page(page: Page, served: Served) -> None:
    visit(page, served, "dishes")
    table = page.get_by_role("table", name="Every dish then and now")
    table.get_by_role("link", name="saffron barley").click()
    expect(page.get_by_role("heading", name="saffron barley")).to_be_visible()
    expect(page).to_have_url(re.compile(r"/dishes\?dish=saffron"))


def test_a_link_on_a_line_leads_to_its_ingredient(page: Page, served: Served) -> None:
    visit(page, served, "dishes?dish=barley+bowl")
    page.get_by_role("link", name="leek").first.click()
    expect(page.get_by_role("heading", name="3 prices in the book")).to_be_visible()
    page.go_back()
    expect(figure(page)).to_have_text(NOW)


def test_a_price_typed_into_the_form_is_in_the_book_and_in_the_chart(
    page: Page, served: Served
) -> None:
    visit(page, served, "ingredients?ingredient=leek")
    drawn = chart(page, "Price history of leek")
    points = drawn.locator(".mark-symbol.role-mark path")
    expect(points).to_have_count(4)  # three prices, one of them with the hole of an offer
    page.get_by_role("button", name="Log a price").click()
    page.get_by_label("Price of the pack").fill("2.75")
    pack = page.get_by_label("Pack", exact=True)
    pack.fill("1 kg")
    pack.press("Enter")
    dialog = page.get_by_role("dialog")
    expect(dialog.get_by_text("Understood:")).to_be_visible()
    dialog.get_by_role("button", name="Store this price").click()
    expect(dialog.get_by_text("The price of leek is stored: 1 row added.")).to_be_visible()
    settle(page)
    lines = cost_dish(served.book, "barley bowl", on=TODAY).lines
    # at the shop of the last time, which the form offers: what it asks now, $2.75 a kg
    assert lines[1].unit_price == pytest.approx(0.00275, abs=1e-7)
    page.keyboard.press("Escape")
    expect(points).to_have_count(5)
    expect(page.get_by_role("heading", name="4 prices in the book")).to_be_visible()


BAD = b"""ingredient,date,price,currency,pack
leek,2026-11-20,2.75,USD,1 kg
leak,2026-11-20,2.75,USD,1 kg
leek,2026-02-30,2.75,USD,1 kg
"""


def test_a_file_with_two_bad_rows_lists_both_and_stores_nothing(page: Page, served: Served) -> None:
    visit(page, served, "book?part=files")
    page.get_by_test_id("stFileUploaderDropzoneInput").set_input_files(
        {"name": "shop.csv", "mimeType": "text/csv", "buffer": BAD}
    )
    expect(page.get_by_text("shop.csv: 2 problems; nothing was stored.")).to_be_visible()
    table = page.get_by_role("table", name="Problems of shop.csv")
    rows = table.locator("tbody tr")
    expect(rows).to_have_count(2)
    expect(rows.nth(0)).to_contain_text(re.compile("3.*ingredient.*leak.*leek"))
    expect(rows.nth(1)).to_contain_text(re.compile("4.*date.*2026-02-30"))
    expect(page.get_by_role("button", name=re.compile("^Load"))).to_have_count(0)
    settle(page)
    lines = cost_dish(served.book, "barley bowl", on=TODAY).lines
    assert lines[1].unit_price == pytest.approx(0.003)


def test_a_price_from_the_terminal_shows_up_and_is_not_blocked(page: Page, served: Served) -> None:
    visit(page, served, "dishes?dish=barley+bowl")
    expect(figure(page)).to_have_text(NOW)
    done = served.run(
        "price", "leek", "5.00", "--pack", "1 kg", "--supplier", "Salt Lane", "--on", "2026-11-24"
    )
    # the open page holds nothing: a lock would be waited for 8 seconds, and then refused
    assert done.returncode == 0, done.stderr
    # barley 0.80 and leek 0.4 × 5.00 = 2.00, for four
    expect(figure(page)).to_have_text("$0.70")


def test_an_empty_book_says_how_to_start(page: Page, served_empty: Served) -> None:
    for where in ("", "catalogue", "dishes?dish=soup", "dishes?part=drivers", "print"):
        visit(page, served_empty, where)
        expect(page.get_by_test_id("stException")).to_have_count(0)
    visit(page, served_empty, "ingredients")
    expect(page.get_by_text("The book holds no ingredients yet.")).to_be_visible()
    page.get_by_role("link", name="Start on the page Today").click()
    for way in ("Load a file", "Paste a recipe", "Say what things are"):
        expect(page.get_by_role("link", name=way)).to_be_visible()
    page.get_by_text("A table of your own, with our headings").click()
    expect(page.get_by_role("button", name="Headings for ingredients")).to_be_visible()


FIRST_FILES = {
    "ingredients": b"ingredient,base\nrolled oats,g\n",
    "dishes": b"dish,version,effective_from,portions,ingredient,quantity,unit\n"
    b"porridge,1,2026-11-01,2,rolled oats,100,g\n",
    "prices": b"ingredient,date,price,currency,pack\nrolled oats,2026-11-20,3.00,USD,1 kg\n",
}


def test_the_way_in_stays_until_the_first_dish_has_a_cost(page: Page, served_empty: Served) -> None:
    for kind, data in FIRST_FILES.items():
        visit(page, served_empty, "")
        expect(page.get_by_text(f"The book holds no {kind} yet.")).to_be_visible()
        page.get_by_role("link", name="Load a file").click()
        chosen = page.get_by_role("combobox", name="What is in the file")
        expect(chosen).to_have_value("prices")
        settle(page)
        if kind != "prices":
            chosen.click()
            page.get_by_role("option", name=kind, exact=True).click()
        page.get_by_test_id("stFileUploaderDropzoneInput").set_input_files(
            {"name": f"{kind}.csv", "mimeType": "text/csv", "buffer": data}
        )
        page.get_by_role("button", name="Load 1 row").click()
        expect(page.get_by_text(f"{kind}.csv is stored: 1 row added.")).to_be_visible()
        settle(page)
    visit(page, served_empty, "")
    expect(page.get_by_text("The book holds no")).to_have_count(0)
    visit(page, served_empty, "dishes?dish=porridge")
    # 100 g at 3.00 a kg for two
    expect(figure(page)).to_have_text("$0.15")


def test_a_locked_book_says_so_and_the_page_recovers(page: Page, served: Served) -> None:
    with holding(served.book.path, "writing"):
        visit(page, served, "dishes?dish=barley+bowl")
        expect(page.get_by_text("in use by another process")).to_be_visible()
    expect(figure(page)).to_have_text(NOW)


def test_no_page_is_wider_than_its_window(page: Page, served: Served) -> None:
    for where, drawings in (
        ("", 1),
        ("dishes", 0),
        ("dishes?dish=barley+bowl", 2),  # its drift, and then to now
        ("ingredients?ingredient=butter", 2),  # its prices, and its season
        ("dishes?part=drivers&then=2026-06-15", 1),
        ("dishes?part=inflation", 1),
        ("print", 0),
        ("book?part=series", 1),
    ):
        page.set_viewport_size({"width": 800, "height": 1000})
        visit(page, served, where)
        expect(page.get_by_test_id("stException")).to_have_count(0)
        charts = page.get_by_test_id("stVegaLiteChart")
        expect(charts).to_have_count(drawings)
        expect(charts.locator("svg")).to_have_count(drawings)
        page.wait_for_function(FITS)
        page.set_viewport_size({"width": 1280, "height": 1000})
        page.wait_for_function(FITS)


# no scrolling sideways, and no drawing wider than its place (a chart is drawn anew after the window
# has changed, so this is waited for)
FITS = """() => {
    const main = document.querySelector("[data-testid=stMain]");
    const charts = [...document.querySelectorAll("[data-testid=stVegaLiteChart]")];
    const width = each => each.getBoundingClientRect().width;
    return main.clientWidth === window.innerWidth && main.scrollWidth === main.clientWidth &&
        charts.every(each => width(each.querySelector("svg")) <= width(each) + 1);
}"""
