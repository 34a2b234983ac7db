"""Every room is looked at by axe-core: no serious finding, on light and on dark."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.browser.conftest import Served
from tests.browser.test_reading import visit

pytestmark = pytest.mark.browser

ROOMS = (
    "",
    "dishes",
    "dishes?part=drivers",
    "dishes?part=inflation",
    "dishes?part=swaps",
    "dishes?dish=barley+bowl&down=yes&cheap=yes",
    "ingredients",
    "ingredients?ingredient=leek",
    "print",
    "book",
    "book?part=series",
)


@pytest.mark.parametrize("look", ["light", "dark"])
def test_no_room_has_a_serious_finding(page: Page, served: Served, look: str) -> None:
    page.emulate_media(color_scheme="dark" if look == "dark" else "light")
    serious = {}
    for room in ROOMS:
        visit(page, served, room)
        page.wait_for_timeout(500)  # what moves has come to rest
        found = Axe().run(page).response["violations"]
        told = [
            (each["id"], each["nodes"][0]["html"])
            for each in found
            if each["impact"] in ("serious", "critical")
        ]
        if told:
            serious[room] = told
    assert serious == {}
