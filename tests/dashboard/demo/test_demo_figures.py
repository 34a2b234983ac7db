"""A figure of the demo is the same to the cent in every sentence, table, page and command."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
import streamlit as st

import pricing
from dashboard.tables.catalogue import CHANGE, NOW, RECIPE, THEN, catalogue_rows
from dashboard.tables.drivers import driver_rows
from dashboard.tables.then_and_now import corner_rows, ingredient_rows, waterfall_steps
from dashboard.terminal.compare import compare_text
from dashboard.terminal.demo import demo_text
from dashboard.terminal.drivers import drivers_text
from dashboard.words.change import change_paragraph
from dashboard.words.dish import change_words
from pricing.book.connect import Book, reading
from pricing.change.overview import DishThenAndNow, then_and_now
from pricing.change.records import Comparison
from tests.dashboard.views.reading import cells, figures, page, words
from tests.kitchen import TODAY

MONEY = r"\$(\d+\.\d\d)"


def money(text: str) -> Decimal:
    """Return the amount of a text such as $1.24, −$0.05 or —."""
    found = re.search(rf"([−-]?){MONEY}", text.replace("\\", ""))
    if found is None:
        return Decimal(0)
    return Decimal(found[2]) * (-1 if found[1] else 1)


def amounts(text: str) -> list[Decimal]:
    return [money(each) for each in re.findall(rf"−?{MONEY.replace('(', '(?:')}", text)]


@pytest.fixture(scope="module")
def dishes(demo: Book) -> list[tuple[DishThenAndNow, Comparison]]:
    with reading(demo):  # opened once for all
        return [
            (
                each,
                pricing.compare(
                    demo,
                    each.dish,
                    then=(each.then_on, each.then_version),
                    now=(TODAY, each.now_version),
                ),
            )
            for each in then_and_now(demo, on=TODAY)
        ]


def test_catalogue_compare_and_demo_tell_one_figure(
    demo: Book, dishes: list[tuple[DishThenAndNow, Comparison]]
) -> None:
    listed = catalogue_rows([each for each, _ in dishes], {}, "USD").to_dict("records")
    assert len(listed) == 24
    printed = [  # the hand pies' figure is not out yet
        (each.printed, found)
        for each, found in dishes
        if each.printed and each.printed.published_on <= TODAY
    ]
    told = [
        re.split(r"  +", line.strip())
        for line in demo_text(printed, demo.path, TODAY).splitlines()
        if "$" in line
    ]
    of_demo = {line[0]: line for line in told}
    assert len(of_demo) == len(printed) == 20
    for row, (each, found) in zip(listed, dishes, strict=True):
        then, now, change, recipe = (
            Decimal(str(row[name])).quantize(Decimal("0.01"))
            for name in (THEN, NOW, CHANGE, RECIPE)
        )
        text = compare_text(found)
        head = amounts(text.splitlines()[1])
        assert head == [change, change - recipe, recipe], each.dish
        corners = [amounts(line) for line in text.splitlines() if line.startswith("recipe ")]
        assert (corners[0][0], corners[-1][-1]) == (then, now), each.dish
        assert corners[0][1] == now - recipe
        if each.dish in of_demo:
            line = of_demo[each.dish]
            assert [money(line[at]) for at in (3, 4, 6, 7)] == [
                then, now, change - recipe, recipe,
            ], each.dish  # fmt: skip


def test_the_paragraph_is_told_in_the_figures_of_the_tables_beside_it(
    dishes: list[tuple[DishThenAndNow, Comparison]],
) -> None:
    for each, found in dishes:
        if each.then_on == TODAY:
            continue  # a draft: one day only
        corners = corner_rows(found).drop(columns="Cost per portion").to_numpy().tolist()
        (then, moved), (_, now) = ([money(cell) for cell in row] for row in corners)
        words_ = change_paragraph(found)
        assert f"a portion cost ${then}." in words_, each.dish
        if moved != then:
            assert f"today, costs ${moved}: ${abs(moved - then)} " in words_, each.dish
        if "rework saves" in words_ or "rework adds" in words_:
            assert f"${abs(now - moved)} today:" in words_, each.dish
            assert f"That makes ${now} a portion" in words_, each.dish
        rows = ingredient_rows(found, "us")
        assert sum(map(money, rows["By price"])) == moved - then, each.dish
        assert sum(map(money, rows["By recipe"])) == now - moved, each.dish
        steps = waterfall_steps(found)["shown"].tolist()
        assert money(steps[0]) + sum(map(money, steps[1:-1])) == money(steps[-1]), each.dish
        assert (money(steps[0]), money(steps[-1])) == (then, now)
        on_its_page = amounts(change_words(found, None))
        assert on_its_page[:2] == [then, now], each.dish
        if now != then and (moved, now) not in {(now, now), (then, now)}:
            assert on_its_page[2:5] == [now - then, moved - then, now - moved], each.dish


def test_drivers_of_one_dish_are_its_comparison(
    demo: Book, dishes: list[tuple[DishThenAndNow, Comparison]]
) -> None:
    tried = 0
    for each, found in dishes[::4]:
        if not found.then.version_in_force or each.draft:
            continue
        ranked = pricing.rank_drivers(demo, [each.dish], then=each.then_on, now=TODAY)
        corners = corner_rows(found).drop(columns="Cost per portion").to_numpy().tolist()
        (then, moved), (_, now) = ([money(cell) for cell in row] for row in corners)
        head = "\n".join(drivers_text(ranked, {}).splitlines()[:2])
        assert amounts(head) == [then, now, now - then, moved - then, now - moved], each.dish
        assert len(driver_rows(ranked, {})) == len(ranked.ingredients)
        tried += 1
    assert tried >= 4


@pytest.mark.parametrize("dish", ["harbor fish pie", "cod and mussel stew"])
def test_the_pages_of_a_dish_tell_one_figure(
    demo: Book, dish: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(demo.path))
    st.cache_data.clear()
    app = page("dishes", dish=dish)
    shown = figures(app)
    assert shown.pop("Cost per portion") == shown["Now"]
    then, moved, now, change, by_prices, by_recipe = map(money, list(shown.values())[:6])
    assert (now - then, moved - then, now - moved) == (change, by_prices, by_recipe)
    corners = cells(app, "The four corners")
    assert [money(list(corners[0].values())[at]) for at in (1, 2)] == [then, moved]
    said = words(app)
    assert f"a portion cost ${then}." in said
    assert f"costs ${moved}:" in said


def test_an_old_version_of_today_is_told_as_printed(
    demo: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(demo.path))
    st.cache_data.clear()
    dish = "harbor fish pie"
    app = page("dishes", dish=dish, version="2012")
    shown = figures(app)
    assert "Now" not in shown
    # its white sauce is that of the last day before the rework of 8 May 2023, here and on the page
    # of the dish, where "as printed" of the figure of 2013 takes that of 2013
    assert "as printed, on 24 November 2026 (recipe day 7 May 2023)" in words(app)
    old = page("dishes", dish=dish)
    old.selectbox("version").select("2012").run()
    assert figures(old)["Cost per portion"] == shown["Version 2012 as printed, today"]
    assert "with the recipes inside it of 7 May 2023" in words(old)
    assert "version 2012 as printed (recipe day 7 May 2023), $" in words(old)
