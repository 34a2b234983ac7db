"""What waits for a decision, as a cook settles it in a headless browser."""

from __future__ import annotations

import pytest
from playwright.sync_api import Locator, Page, expect

from pricing.dishes.cost import cost_dish
from tests.browser.conftest import Served
from tests.browser.test_reading import figure, settle, visit
from tests.dashboard.bill import bill
from tests.kitchen import TODAY, load

pytestmark = pytest.mark.browser

PACKS = [
    ("PRL BARLEY 1KG", "1", "C62", "2.00"),
    ("LEEKS LOOSE 1KG", "1", "C62", "3.00"),
    ("BUTTER UNSALTED 250G", "1", "C62", "2.50"),
    ("SAFFRON 1G", "1", "C62", "6.00"),
    ("GRN LENTILS 500G", "1", "C62", "1.50"),
    ("CELERY HEAD SMKD 100G", "1", "C62", "4.00"),
]


def ingredient_of(page: Page, words: str) -> Locator:
    return page.get_by_role("combobox", name=f"Ingredient of {words}")


def test_a_file_is_dropped_five_proposals_accepted_one_corrected_and_the_dish_costed(
    page: Page, served: Served
) -> None:
    load(served.book, "ingredients", "ingredient,base\ngreen lentils,g\nsmoked salt,g")
    load(served.book, "dishes", """
        dish,version,effective_from,portions,ingredient,quantity,unit
        lentil pot,1,2026-06-01,2,green lentils,200,g
        lentil pot,1,2026-06-01,2,saffron,1,g
        lentil pot,1,2026-06-01,2,smoked salt,10,g
    """)  # fmt: skip
    visit(page, served, "book?part=files")
    page.get_by_test_id("stFileUploaderDropzoneInput").set_input_files(
        {"name": "bill.xml", "mimeType": "text/xml", "buffer": bill(PACKS)}
    )
    expect(page.get_by_text("6 lines wait for a decision: their words")).to_be_visible()
    page.get_by_role("button", name="Let the lines wait in the Tray").click()
    page.get_by_role("link", name="6 lines wait for a decision: decide in the Tray").click()
    expect(page.get_by_text("under 6 descriptions")).to_be_visible()
    settle(page)

    for words, *_ in PACKS[:5]:  # by the keyboard alone
        box = page.get_by_role("checkbox", name=words)
        box.focus()
        page.keyboard.press("Space")
        expect(box).to_be_checked()
        settle(page)
    field = ingredient_of(page, PACKS[5][0])
    field.focus()
    field.fill("smokd sal")  # with a slip of the pen: the nearest name is offered
    page.keyboard.press("Enter")
    expect(page.get_by_text("The book has no smokd sal. Nearest:")).to_be_visible()
    page.get_by_role("button", name="smoked salt").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("The book has no smokd sal.")).to_have_count(0)
    settle(page)
    expect(page.get_by_role("checkbox", name=PACKS[5][0])).to_be_checked()
    store = page.get_by_role("button", name="Store 6 decisions").first
    store.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("6 decisions stored.")).to_be_visible()
    expect(page.get_by_text("Nothing waits for a decision.")).to_be_visible()

    # lentils 200 g at 1.50 ÷ 500 g = 0.60, saffron 6.00, salt 10 g at 4.00 ÷ 100 g = 0.40: $7.00
    # for two portions
    visit(page, served, "dishes?dish=lentil+pot")
    expect(figure(page)).to_have_text("$3.50")
    assert cost_dish(served.book, "lentil pot", on=TODAY).complete
