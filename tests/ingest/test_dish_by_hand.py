"""A version by hand: the checks of a file beside each line, and its cost before it is stored."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from ingest.dish_by_hand import CostAsked, DishPreview, add_dish, preview_dish
from ingest.kinds.checked import Options
from pricing.book.connect import Book
from pricing.contents.choices import list_dishes
from pricing.dishes.cost import cost_dish
from pricing.dishes.cost_lines import PricesKept
from tests.kitchen import TODAY, make_book
from tests.loading import ask

JUNE = date(2026, 6, 15)
HEAD = {
    "dish": "cream soup", "version": "2", "effective_from": "2026-10-01", "portions": "4",
    "group": "soups", "minutes": "30", "target": "0.80",
}  # fmt: skip
LINES = [
    {"ingredient": "leek", "quantity": "800", "unit": "g", "state": "edible"},
    {"ingredient": "cream", "quantity": "1/2", "unit": "cup"},
    {"ingredient": "dish:stock", "quantity": "1", "unit": "batch"},
    {"ingredient": "salt", "quantity": "1", "unit": "pinch", "pantry": "yes", "note": "to taste"},
    {"ingredient": "leek", "quantity": "100", "unit": "g", "yield_pct": "50", "state": "edible"},
]
FILES = {
    "ingredients": """
        ingredient,base,density_g_per_ml,grams_each,yield_pct,allergens,aliases
        leek,g,,,80,none,leeks
        cream,ml,1.01,,,milk,
        salt,g,,,,none,
        water,g,,,,,
        eggs,each,,,,,
    """,
    "measures": """
        ingredient,measure,grams
        salt,pinch,0.4
    """,
    "prices": """
        ingredient,date,price,currency,pack
        leek,2026-05-20,2.00,USD,1 kg
        leek,2026-11-20,3.00,USD,1 kg
        cream,2026-11-20,4.00,USD,1 l
        salt,2026-11-20,1.00,USD,500 g
    """,
    "dishes": """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit
        stock,1,2026-01-01,8,2000,leek,500,g
        stock,2,2026-11-01,8,2000,leek,400,g
        cream soup,1,2026-06-01,4,,leek,1000,g
        cream soup,1,2026-06-01,4,,dish:stock,500,g
    """,
}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES)


def look(
    book: Book, head: Mapping[str, str], lines: list[dict[str, str]], **more: bool
) -> DishPreview:
    options = Options(today=TODAY, **more)
    return preview_dish(book, head, lines, options=options, asked=CostAsked(days=[TODAY, JUNE]))


def said(found: DishPreview) -> list[tuple[int | None, str | None, str]]:
    return [(each.line, each.column, each.found) for each in found.problems]


def test_a_version_costs_before_it_is_stored_what_a_pencil_says(book: Book) -> None:
    """Leek 3.00 a kg: 800 g at 80 % are 1,000 g = 3.00, and 100 g at 50 % are 200 g = 0.60. Half a
    US cup, 118.29411825 ml (236.5882365 ÷ 2), of cream at 4.00 a l = 0.473176. Stock of today is
    version 2: 400 g = 1.20. Salt 0.4 g at 0.002 = 0.0008. 5.273976 for 4 portions, 1.318494."""
    found = look(book, HEAD, LINES)
    assert found.problems == ()
    cost = found.costs[0]
    assert cost is not None
    assert cost.cost_per_portion == pytest.approx(1.3184943, abs=1e-6)
    assert cost.pantry_per_portion == pytest.approx(0.0002)
    each = {line: one.cost for line, one in found.lines[0].items()}
    assert each == pytest.approx({1: 3.0, 2: 0.47317647, 3: 1.2, 4: 0.0008, 5: 0.6})
    assert ask(book, "SELECT count(*) FROM dish_version") == [(3,)]  # nothing was stored


@pytest.mark.parametrize("begins", ["2026-10-01", "2026-06-01", "2026-03-01", "2027-02-01"])
@pytest.mark.parametrize("label", ["1", "2"])
def test_a_version_costs_the_same_once_it_is_stored(book: Book, begins: str, label: str) -> None:
    """On both days: also as a draft, and where it takes the place of the book's version 1."""
    head = {**HEAD, "effective_from": begins, "version": label}
    before = look(book, head, LINES, replace=True)
    assert add_dish(book, head, LINES, today=TODAY, replace=True).problems == ()
    for on, cost in zip((TODAY, JUNE), before.costs, strict=True):
        stored = cost_dish(book, "cream soup", on=on, version=label)
        assert cost is not None
        assert replace(cost, lines=()) == replace(
            stored, lines=(), cost_per_portion=pytest.approx(stored.cost_per_portion, rel=1e-12),
            cost_per_batch=pytest.approx(stored.cost_per_batch, rel=1e-12),
            pantry_per_portion=pytest.approx(stored.pantry_per_portion, rel=1e-12),
            band=cost.band,
        )  # fmt: skip
        assert (cost.band is None) == (stored.band is None)


def test_what_is_wrong_stands_beside_its_line_and_the_rest_is_costed(book: Book) -> None:
    lines = [
        LINES[0],
        {"ingredient": "", "quantity": "", "unit": ""},  # blank: left out, and still counted
        {"ingredient": "lek", "quantity": "1", "unit": "kg"},
        {"ingredient": "water", "quantity": "1", "unit": "l"},  # needs a density
        {"ingredient": "eggs", "quantity": "2-3", "unit": "each"},
    ]
    found = look(book, {**HEAD, "portions": "4"}, lines)
    assert said(found) == [
        (3, "ingredient", "'lek'"),
        (4, "unit", "1 l of water, which is priced by g"),
        (5, "quantity", "the number '2-3'"),
    ]
    assert "Nearest: leek" in found.problems[0].remedy
    cost = found.costs[0]
    assert cost is not None
    assert (cost.cost_per_batch, cost.complete) == (pytest.approx(3.0), False)
    assert cost.display["cost_per_portion"] == "at least $0.75"
    assert add_dish(book, HEAD, lines, today=TODAY).problems == found.problems


def test_a_dish_that_would_take_itself_is_said_with_the_way_round(book: Book) -> None:
    head = {**HEAD, "dish": "stock", "version": "3", "batch_weight_g": "2000"}
    found = look(book, head, [{"ingredient": "dish:cream soup", "quantity": "1", "unit": "batch"}])
    assert said(found) == [
        (1, "ingredient", "a dish that takes itself: stock → cream soup → stock")
    ]
    assert found.costs == (None, None)


def test_a_version_that_exists_is_refused_until_it_may_be_replaced(book: Book) -> None:
    head = {**HEAD, "version": "1"}
    found = look(book, head, LINES)
    assert {each.line for each in found.problems} == {None}
    assert "recipe-differs" in {each.code for each in found.problems}
    assert add_dish(book, head, LINES, today=TODAY).load is None
    assert look(book, head, LINES, replace=True).problems == ()


def test_what_is_wrong_with_the_dish_is_said_once(book: Book) -> None:
    head = {**HEAD, "portions": "four", "effective_from": ""}
    found = look(book, head, LINES)
    assert [(line, column) for line, column, _ in said(found)] == [
        (None, "effective_from"),
        (None, "portions"),
    ]
    assert found.costs == (None, None)


def test_a_dish_needs_a_line(book: Book) -> None:
    found = look(book, HEAD, [])
    assert said(found) == [(None, "ingredient", "a dish without lines")]
    assert add_dish(book, HEAD, [], today=TODAY).problems == found.problems


def test_a_version_by_hand_is_a_load_of_its_own_and_can_be_a_draft(book: Book) -> None:
    tomorrow = (TODAY + timedelta(days=1)).isoformat()
    report = add_dish(book, {**HEAD, "effective_from": tomorrow}, LINES, today=TODAY)
    assert (report.added, report.problems) == (5, ())
    assert ask(book, "SELECT file_name, kind FROM load_batch ORDER BY batch DESC LIMIT 1") == [
        ("by hand", "dishes")
    ]
    soup = next(each for each in list_dishes(book) if each.dish == "cream soup")
    assert [each.version for each in soup.versions] == ["1", "2"]
    assert cost_dish(book, "cream soup", on=TODAY).version == "1"  # the draft does not count yet


def test_prices_that_were_kept_give_the_same_cost_for_other_amounts(book: Book) -> None:
    """And an ingredient that comes new is priced, too."""
    kept, options = PricesKept(), Options(today=TODAY)
    asked = CostAsked(days=[TODAY, JUNE], kept=kept)
    preview_dish(book, HEAD, LINES[:1], options=options, asked=asked)
    assert len(kept.prices) == 2  # leek on both days
    more = [{**LINES[0], "quantity": "400"}, *LINES[1:]]
    found = preview_dish(book, HEAD, more, options=options, asked=asked)
    assert found == look(book, HEAD, more)
    assert len(kept.prices) == 6
