"""A recipe as it is written: the dish, its lines, and beside them what a portion would cost."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from dashboard.views.address import follow_on
from dashboard.views.book import TheBook
from dashboard.views.loaders import cost_of, dishes_of, ingredients_of, printed_of
from dashboard.views.outcome import attempt
from dashboard.views.pages import page
from dashboard.views.recipe_fields import NEW, Recipe, put_away
from dashboard.views.recipe_line import draw_line
from dashboard.views.recipe_loaders import preview_of
from dashboard.views.sentences import sentences
from dashboard.views.unknown import with_this_name
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from dashboard.words.recipe import (
    KEPT,
    beside_words,
    is_of_the_book,
    line_cost_words,
    target_words,
    wrong_words,
)
from dashboard.words.remedies import remark_on_the_page
from ingest.dish_by_hand import DishPreview
from ingest.load import add_dish
from pricing.days import day_words
from pricing.dishes.cost import DishCost
from pricing.errors import Problem

_DETAILS = {  # beside the recipe itself
    "batch_weight_g": "Batch weight, g",
    "group": "Group",
    "minutes": "Minutes of work",
    "made_per_month": "Batches a month",
    "target": "Target per portion",
    "minutes_waiting": "Minutes waiting",
    "energy_kwh": "Energy, kWh",
    "pots": "Pots to wash up",
    "marks": "Tasters' marks",
    "tasting_note": "Tasting note",
}


def edit_recipe(book: TheBook, recipe: Recipe) -> None:
    """Draw the editor; what is wrong is said before anything is stored."""

    @st.fragment(key=f"recipe {recipe.number}")
    def editor() -> None:
        follow_on()
        with sentences():
            _editor(book, recipe)

    editor()


def _editor(book: TheBook, recipe: Recipe) -> None:
    replace = bool(st.session_state.get(recipe.key("replace")))
    head, lines = recipe.head(), recipe.texts()
    seen = preview_of(
        book.state, tuple(head.items()), tuple(tuple(line.items()) for line in lines), replace
    )
    wrong = [each for each in seen.problems if not is_of_the_book(each)]
    there = len(wrong) < len(seen.problems)  # the book has this version with another recipe
    left, right = st.columns([5, 2], gap="medium")
    with left:
        for sentence in recipe.said:
            st.info(plain(sentence))
        blank = recipe.dish == NEW and not recipe.changed()  # nothing can be wrong with it yet
        _head(recipe, [] if blank else [each for each in wrong if each.line is None])
        _lines(book, recipe, seen, wrong)
    with right:
        for at, cost in enumerate(seen.costs):
            _cost(book, recipe, cost, at)
        if there or replace:
            _replacing(book, recipe, head)
        for sentence in seen.remarks:
            st.caption(plain(remark_on_the_page(sentence)))
        _draft(book, head)
        if st.button(
            "Store this version", type="primary",
            disabled=bool(wrong) or (there and not replace) or seen.already,
        ):  # fmt: skip
            _store(book, recipe, replace)
        if wrong:
            st.caption(f"{counted(len(wrong), 'thing')} to mend before it can be stored.")
        elif seen.already:
            st.caption("The book holds this very version.")
        st.caption(KEPT)
        if st.button("Put this away, unstored", type="tertiary"):
            put_away(recipe.dish)
            _leave(recipe.dish)


def _head(recipe: Recipe, wrong: list[Problem]) -> None:
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        if recipe.dish == NEW:
            st.text_input(
                "Dish", key=recipe.key("dish"), width=260, placeholder="its name",
                persist_state="session",
            )  # fmt: skip
        st.text_input("Version", key=recipe.key("version"), width=130, persist_state="session")
        st.date_input(
            "In force from", value=None, key=recipe.key("effective_from"), width=175,
            format="YYYY-MM-DD", persist_state="session",
        )  # fmt: skip
        st.text_input(
            "Portions", key=recipe.key("portions"), width=100, live=True, placeholder="4",
            persist_state="session",
        )  # fmt: skip
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        for name, label in _DETAILS.items():
            st.text_input(
                label, key=recipe.key(name), width=130, placeholder="unstated",
                persist_state="session",
            )  # fmt: skip
    for problem in wrong:
        st.warning(plain(f"{_label(problem)}: {wrong_words(problem)}"))


def _label(problem: Problem) -> str:
    own = {"effective_from": "In force from", "ingredient": "Lines", **_DETAILS}
    return own.get(problem.column or "", (problem.column or "Recipe").capitalize())


def _lines(book: TheBook, recipe: Recipe, seen: DishPreview, wrong: list[Problem]) -> None:
    st.markdown(f"**Lines**, each with its cost per portion at prices of {day_words(book.on)}")
    names = [
        *(each.ingredient for each in ingredients_of(book.state)),
        *(f"dish:{each.dish}" for each in dishes_of(book.state) if each.dish != recipe.dish),
    ]
    cost, costs = seen.costs[-1], seen.lines[-1]
    for place, line in enumerate(list(recipe.lines), start=1):
        said = ""
        if cost is not None and place in costs:
            said = line_cost_words(costs[place], cost.portions, cost.currency)
        draw_line(recipe, line, names, said, [each for each in wrong if each.line == place])
    st.button("Add a line", on_click=recipe.add, icon=":material/add:")


def _cost(book: TheBook, recipe: Recipe, cost: DishCost | None, at: int) -> None:
    """Draw what a portion costs today (the first), or on the day chosen."""
    on = book.today if at == 0 else book.on
    label = "today" if at == 0 else f"at prices of {day_words(on)}"
    if cost is None:
        st.metric(f"Cost per portion {label}", "—")
        return
    before = None
    if recipe.copied_from is not None:
        before = cost_of(book.state, recipe.dish, on, recipe.copied_from)
    st.metric(f"Cost per portion {label}", plain(cost.display["cost_per_portion"]))
    target = _number(recipe.head()["target"])
    for said in (beside_words(cost, before), target_words(cost, target) if at == 0 else ""):
        if said:
            st.markdown(plain(said))


def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def _replacing(book: TheBook, recipe: Recipe, head: Mapping[str, str]) -> None:
    """Say that the book has this version, who leans on it, and ask whether to replace it."""
    dish = with_this_name(head["dish"], [each.dish for each in dishes_of(book.state)])
    label = head["version"]
    said = f"The book has version {label} of {dish or head['dish']} with another recipe. Name "
    said += "another version, or replace that one from now on."
    leaning = [each for each in printed_of(book.state, dish or "") if each.version == label]
    if leaning:
        said += f" {counted(len(leaning), 'printed figure')} was told of it as it is now."
    st.warning(plain(said))
    st.checkbox(
        plain(f"Replace version {label}"), key=recipe.key("replace"), persist_state="session"
    )


def _draft(book: TheBook, head: Mapping[str, str]) -> None:
    if head["effective_from"] > book.today.isoformat():
        st.info(
            "It begins after today: a draft. It can be costed and compared by name, and counts "
            "in nothing else until then."
        )
    if head["dish"] and with_this_name(
        head["dish"], [each.dish for each in dishes_of(book.state)]
    ) not in (None, head["dish"]):
        st.caption("The book has this dish in another spelling; that one stays.")


def _store(book: TheBook, recipe: Recipe, replace: bool) -> None:
    head, lines = recipe.head(), recipe.texts()
    done = attempt(
        lambda: add_dish(book.book, head, lines, today=book.today, replace=replace),
        f"Version {head['version']} of {head['dish']}",
    )
    if done is None:
        st.rerun()
    put_away(recipe.dish)
    _leave(head["dish"])


def _leave(dish: str) -> None:
    st.switch_page(page("dishes"), query_params={"dish": dish} if dish else {})
