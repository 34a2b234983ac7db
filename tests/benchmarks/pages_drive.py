"""How each kind of field is used: what can be done before is, and the last act is handed back."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import Locator, Page

Act = Callable[[], None]


def _field(page: Page, kind: str, label: str) -> Locator:
    return page.get_by_test_id(kind).filter(has_text=re.compile(f"^{re.escape(label)}")).first


def _date(page: Page, label: str, day: str) -> Act:
    """A day of the month that is shown."""
    part = _field(page, "stDateInput", label).get_by_role(
        "spinbutton", name=re.compile("day", re.I)
    )

    def act() -> None:
        part.fill(day)
        page.keyboard.press("Enter")
        page.keyboard.press("Escape")  # what counts now, if Enter did not
        part.evaluate("() => document.activeElement.blur()")

    return act


def _choice(page: Page, label: str, value: str) -> Act:
    box = _field(page, "stSelectbox", label).get_by_role("combobox")
    box.click()
    box.fill(value)
    option = page.get_by_role("option", name=value, exact=True)
    option.wait_for()
    return option.click


def _slider(page: Page, label: str, key: str) -> Act:
    thumb = _field(page, "stSlider", label).get_by_role("slider").first
    thumb.focus()
    return lambda: page.keyboard.press(key)


def _number(page: Page, label: str, value: str) -> Act:
    box = _field(page, "stNumberInput", label).get_by_role("spinbutton")
    box.fill(value)
    return lambda: box.press("Enter")


def _text(page: Page, label: str, value: str) -> Act:
    box = (
        _field(page, "stTextInput", label)
        .get_by_role("textbox")
        .or_(_field(page, "stTextInput", label).get_by_role("searchbox"))
    )
    return lambda: box.fill(value)


DRIVERS: dict[str, Callable[[Page, str, str], Act]] = {
    "date": _date,
    "choice": _choice,
    "slider": _slider,
    "number": _number,
    "text": _text,
}
