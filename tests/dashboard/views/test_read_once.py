"""What a page asks again is not read again: counted in readings, not in seconds."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from dashboard.views import loaders
from dashboard.views.book import book_state, one_look
from dashboard.views.loaders import dishes_of, printed_of
from dashboard.views.swap_loaders import SwapsAsked, swaps_of
from pricing.book import connect
from pricing.book.connect import Book
from pricing.contents import choices
from pricing.prices.swings import price_swings
from pricing.swaps import of_dish
from tests.kitchen import TODAY


def counted(monkeypatch: pytest.MonkeyPatch, where: Any, name: str) -> list[str]:
    """Return a list that grows with each call of a function."""
    calls: list[str] = []
    really: Callable[..., Any] = getattr(where, name)

    def call(*given: Any, **more: Any) -> Any:
        calls.append(name)
        return really(*given, **more)

    monkeypatch.setattr(where, name, call)
    return calls


def test_the_printed_figures_are_read_once_for_all_dishes(
    kitchen: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    state = book_state(str(kitchen.path))
    readings = counted(monkeypatch, loaders, "list_printed")
    figures = [printed_of(state, dish.dish) for dish in dishes_of(state)]
    assert len(figures) >= 3
    assert any(figures)
    assert len(readings) == 1


def test_the_ingredients_are_read_once_for_the_swings_of_many(
    kitchen: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    readings = counted(monkeypatch, choices, "ingredients_in")
    found = price_swings(
        kitchen, ["leek", "Butter", "pearl barley"], start="2026-06", end="2026-11"
    )
    assert sorted(each.ingredient for each in found) == ["butter", "leek", "pearl barley"]
    assert len(readings) == 1


def test_since_when_a_swap_is_cheaper_is_not_asked_again_for_each_target(
    kitchen: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    state = book_state(str(kitchen.path))
    asked = counted(monkeypatch, of_dish, "cheaper_since")
    for target in (None, 0.30, 0.20, 0.10):
        found = swaps_of(state, "barley bowl", TODAY, None, SwapsAsked(target=target))
        assert (found.target and found.target.amount) == target
    assert len(asked) == 1


def test_a_run_of_a_page_opens_the_book_once(
    kitchen: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    state = book_state(str(kitchen.path))
    opened = counted(monkeypatch, connect, "_connect_patiently")
    with one_look():
        dishes_of(state)
        printed_of(state, "barley bowl")
        swaps_of(state, "barley bowl", TODAY, None, SwapsAsked())
    assert len(opened) == 1
