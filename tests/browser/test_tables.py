"""Tables in a browser: sorted, as a file, on a phone, and links that stay in their tab."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import Served
from tests.browser.test_reading import chart, figure, settle, visit
from tests.dashboard.small_kitchen import NOW

pytestmark = pytest.mark.browser


def dishes(page: Page) -> Locator:
    return page.get_by_role("table", name="Every dish then and now")


def names(page: Page) -> list[str]:
    rows = dishes(page).get_by_role("rowheader")
    expect(rows).to_have_count(3)
    return [name.strip() for name in rows.locator("a").all_inner_texts()]


def test_a_head_sorts_by_size_and_says_so(page: Page, served: Served) -> None:
    visit(page, served, "dishes")
    assert names(page) == ["barley bowl", "barley supper", "saffron barley"]
    now = dishes(page).get_by_role("columnheader", name="Now")
    now.get_by_role("button").click()
    expect(now).to_have_attribute("aria-sort", "descending")
    assert names(page)[-1] == "saffron barley"  # $0.20, the cheapest: small_kitchen
    page.keyboard.press("Enter")  # the head keeps the focus
    expect(now).to_have_attribute("aria-sort", "ascending")
    assert names(page)[0] == "saffron barley"


def test_a_table_goes_into_a_file_in_the_order_shown(
    page: Page, served: Served, tmp_path: Path
) -> None:
    visit(page, served, "dishes")
    with page.expect_download() as got:
        page.get_by_role("button", name="As a file (CSV)").click()
    assert got.value.suggested_filename == "Every dish then and now.csv"
    got.value.save_as(kept := tmp_path / "dishes.csv")
    rows = list(csv.DictReader(io.StringIO(kept.read_text("utf-8-sig"))))
    assert rows[0]["Dish"] == "barley bowl"
    assert rows[0]["Change"] == "+$0.10"  # a figure is no formula


def test_a_link_in_a_table_stays_in_its_tab_and_back_returns(page: Page, served: Served) -> None:
    visit(page, served, "dishes")
    dishes(page).get_by_role("link", name="barley bowl").click()
    expect(figure(page).first).to_have_text(NOW)
    assert len(page.context.pages) == 1
    page.go_back()
    expect(dishes(page)).to_be_visible()


def test_on_a_phone_a_row_has_its_name_and_one_figure_and_unfolds(
    page: Page, served: Served
) -> None:
    page.set_viewport_size({"width": 390, "height": 800})
    visit(page, served, "dishes")
    row = dishes(page).get_by_role("row").filter(has_text="barley bowl")
    shown = row.get_by_role("cell").filter(visible=True)
    expect(shown).to_have_count(1)
    expect(shown).to_contain_text("$0.50")  # now
    more = row.get_by_role("button", name="More of barley bowl")
    more.click()
    expect(more).to_have_attribute("aria-expanded", "true")
    expect(row.get_by_text("+$0.10")).to_be_visible()


def test_a_chart_shows_its_data_and_goes_into_a_picture(page: Page, served: Served) -> None:
    visit(page, served, "dishes?dish=barley+bowl")
    drawn = chart(page, "Drift chart of barley bowl. Cost per portion: ")
    expect(drawn).to_be_visible()
    page.get_by_text("Show data").first.click()
    settle(page)
    data = page.get_by_role("table", name="Data: Drift chart of barley bowl")
    expect(data.get_by_role("cell", name=NOW).last).to_be_visible()
    with page.expect_download() as got:
        page.get_by_role("button", name="The picture (SVG)").first.click()
    svg = Path(got.value.path()).read_text("utf-8")
    for words in ("Drift chart of barley bowl", "Cost per portion, USD", "24 November 2026"):
        assert words in svg


def test_words_of_a_wide_table_are_not_pressed_into_a_narrow_column(
    page: Page, served: Served
) -> None:
    page.set_viewport_size({"width": 800, "height": 1000})
    visit(page, served, "dishes?part=drivers")
    name = page.get_by_role("table", name="Ingredients by what").get_by_role("rowheader").first
    box = name.bounding_box()
    assert box is not None
    assert box["width"] >= 140  # 9rem


def test_what_can_only_be_clicked_is_not_printed(page: Page, served: Served) -> None:
    visit(page, served, "dishes")
    bar = page.locator(".st-key-bar")
    expect(bar).to_be_visible()
    page.emulate_media(media="print")
    expect(bar).to_be_hidden()
    expect(page.get_by_test_id("stButtonGroup").first).to_be_hidden()
    expect(dishes(page)).to_be_visible()
