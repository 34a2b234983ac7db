"""The page of official series as a reader uses it, in a headless browser."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Served
from tests.browser.test_reading import chart, settle, visit
from tests.ingest.offices.mm23 import write_mm23

pytestmark = pytest.mark.browser


def send(page: Page, path: Path) -> None:
    """Hand a file to the chooser of the page."""
    page.get_by_test_id("stFileUploader").locator("input[type=file]").set_input_files(path)
    settle(page)


def test_a_british_file_is_loaded_and_listed_with_its_ladder(
    page: Page, served_empty: Served, tmp_path: Path
) -> None:
    path = write_mm23(tmp_path / "mm23.csv", columns=60, months=200)
    visit(page, served_empty, "book?part=series")
    expect(page.get_by_text("No ingredient names a series yet.")).to_be_visible()
    send(page, path)
    expect(page.get_by_text("mm23.csv can be loaded")).to_be_visible()
    would = page.get_by_role("table", name="Series in mm23.csv")
    expect(would.get_by_text("uk-ons:D7D8")).to_be_visible()
    page.get_by_role("button", name="Load", exact=False).filter(has_text="rows").click()
    expect(page.get_by_text("mm23.csv is stored")).to_be_visible()
    settle(page)

    expect(page.get_by_text("series of the Office for National Statistics (UK)")).to_be_visible()
    page.get_by_label("Find a series").fill("milk, cheese")
    listed = page.get_by_test_id("stDataFrame").first
    cells = listed.locator(
        "[role=gridcell]"
    )  # inside the canvas: for screen readers, and this test
    expect(cells.filter(has_text="uk-ons:D7D8")).to_have_count(1)
    expect(page.get_by_text("1 series. Click one to look at it below.")).to_be_visible()
    settle(page)
    row = {"x": 60.0, "y": 36.0 + 18}  # the one row left, below the headings
    listed.hover(position=row)  # the grid looks where the pointer is before it takes a click
    listed.click(position=row)
    expect(page.get_by_role("heading", name="Milk, cheese and eggs, UK")).to_be_visible()
    rungs = page.locator("[data-testid=stExpander] ol li")
    expect(rungs).to_have_count(4)
    for rung, title in zip(
        rungs.all(),
        ("Milk, cheese and eggs", "Food", "Food and non-alcoholic beverages", "All items"),
        strict=True,
    ):
        expect(rung).to_contain_text(f"{title}, UK")
    drawn = chart(page, "Index of Milk, cheese and eggs, UK")
    expect(drawn.locator(".mark-line path").first).to_be_visible()
    expect(drawn.get_by_text("Index, 2015=100")).to_be_visible()
    about = page.get_by_role("table", name="What Milk, cheese and eggs, UK is")
    expect(about.get_by_text("Open Government Licence v3.0")).to_be_visible()


def test_a_bad_file_is_a_sentence_with_its_line(
    page: Page, served_empty: Served, tmp_path: Path
) -> None:
    path = tmp_path / "food.csv"
    path.write_text("series,month,value\nown:FOOD,2026-10,100\nown:FOOD,2026-12,101\n")
    visit(page, served_empty, "book?part=series")
    send(page, path)
    expect(page.get_by_text("food.csv: 1 problem; nothing was stored.")).to_be_visible()
    problems = page.get_by_role("table", name="Problems of food.csv")
    expect(problems.get_by_role("rowheader", name="3", exact=True)).to_be_visible()
    expect(problems.get_by_text("which is still to come")).to_be_visible()
    page_saved = tmp_path / "cpi.csv"
    page_saved.write_text("<!DOCTYPE html><html><title>Consumer prices</title></html>\n")
    page.get_by_test_id("stFileUploader").locator("input[type=file]").set_input_files(page_saved)
    settle(page)
    expect(page.get_by_text("Download the file itself, not its page")).to_be_visible()
