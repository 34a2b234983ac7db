"""The test bench: two to four versions or dishes side by side, with what a difference buys."""

from __future__ import annotations

import streamlit as st

from dashboard.views.address import Kept, one_word, some_of, words
from dashboard.views.bench_loaders import Beside, side_by_side_of
from dashboard.views.book import TheBook
from dashboard.views.loaders import cost_of, dishes_of
from dashboard.words.bench import (
    allergens_words,
    bench_rows,
    buys_words,
    column_name,
    missing_words,
    note_words,
    unstated_words,
)
from dashboard.words.markdown import dish_link, plain
from pricing.bench.records import BenchColumn, SideBySide
from pricing.bench.side_by_side import FEWEST, MOST
from pricing.dishes.cost import DishCost

BESIDE, OUT, INSTEAD, WITH, MUCH = "beside", "in_place_of", "instead", "with", "how_much"
_DISH = "dish:"
_AMOUNT = "1 portion"  # of an addition, for each portion
_NOTHING: Beside = ()


def fields(book: TheBook) -> dict[str, Kept]:
    """Return the recipes, an exchange and an addition."""
    return {
        BESIDE: some_of(list(_recipes(book))),
        OUT: one_word(),
        INSTEAD: one_word(),
        WITH: one_word(),
        MUCH: words(_AMOUNT),
    }


def _recipes(book: TheBook) -> dict[str, tuple[str, str]]:
    """Return DISH@VERSION → dish and version, of every version."""
    return {
        f"{dish.dish}@{each.version}": (dish.dish, each.version)
        for dish in dishes_of(book.state)
        for each in dish.versions
    }


def show(book: TheBook) -> None:
    """Draw what is chosen side by side, at prices of the day in the bar."""
    recipes = _recipes(book)
    chosen = st.multiselect(
        "Recipes side by side, the first is what the others are told against", list(recipes),
        format_func=lambda each: "{}, version {}".format(*recipes[each]), key=BESIDE,
        max_selections=MOST, placeholder="choose up to four",
    )  # fmt: skip
    asked = tuple(recipes[each] for each in chosen)
    exchange, add = _NOTHING, _NOTHING
    if asked and len(asked) < MOST:
        exchange, add = _changes(book, cost_of(book.state, asked[0][0], book.on, asked[0][1]))
    many = len(asked) + len(exchange) + len(add)
    if not FEWEST <= many <= MOST:
        st.info(
            "Choose two to four: versions of a dish, several dishes, or one dish with an exchange "
            "or an addition.",
            icon=":material/info:",
        )
        return
    _laid(side_by_side_of(book.state, asked, book.on, exchange, add))


def _changes(book: TheBook, first: DishCost) -> tuple[Beside, Beside]:
    """Draw an exchange and an addition to the first; return those that are chosen."""
    names = [each.dish for each in dishes_of(book.state)]
    inside = sorted(set(_inside(first)))
    out, instead, beside, much = st.columns(4, vertical_alignment="bottom")
    gone = out.selectbox(
        "In the first, in place of", inside, index=None, key=OUT, placeholder="nothing",
        disabled=not inside, help="A dish inside it; exchange ingredients by a swap.",
    )  # fmt: skip
    put = instead.selectbox(
        "take as much of", names, index=None, key=INSTEAD, placeholder="nothing", disabled=not gone
    )
    added = beside.selectbox(
        "With every portion of the first", names, index=None, key=WITH, placeholder="nothing"
    )
    amount = much.text_input(
        "of that", key=MUCH, disabled=not added, help="Portions or g: 1/2 portion, 80 g."
    )
    exchange = ((gone, put),) if gone and put else ()
    return exchange, ((added, amount or _AMOUNT),) if added else ()


def _inside(costed: DishCost) -> list[str]:
    """Return the dishes that a dish takes, and those that they take."""
    found, lines = [], list(costed.lines)
    while lines:
        line = lines.pop()
        if line.ingredient.startswith(_DISH):
            found.append(line.ingredient.removeprefix(_DISH))
        lines += line.lines
    return found


def _laid(found: SideBySide) -> None:
    for sentence in buys_words(found):
        st.markdown(plain(sentence))
    headings = [_heading(place, each) for place, each in enumerate(found.columns)]
    rows = [
        {"": plain(row[0])}
        | {name: plain(cell) for name, cell in zip(headings, row[1:], strict=True)}
        for row in bench_rows(found)
    ]
    st.table(rows, hide_index=True, border="horizontal", alt="Recipes side by side")
    for place, column in enumerate(found.columns):
        name = dish_link(column.dish, version=column.version)
        st.markdown(f"**{_letter(place)}** {name}{plain(column_name(column)[len(column.dish) :])}")
        said = [allergens_words(column), note_words(column)]
        st.caption("  \n".join(plain(each) for each in said if each))
    for sentence in (*missing_words(found), *unstated_words(found), found.caution):
        st.caption(plain(sentence))


def _letter(place: int) -> str:
    return "ABCD"[place]


def _heading(place: int, column: BenchColumn) -> str:
    return f"{_letter(place)}: {plain(column_name(column))}"
