"""One line of a recipe being written: its fields, what it costs, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from dashboard.views.recipe_fields import Recipe
from dashboard.words.markdown import plain
from dashboard.words.recipe import more_words, wrong_words
from pricing.errors import Problem
from pricing.names import WAITING, name_key, waiting_words


def draw_line(
    recipe: Recipe,
    line: int,
    names: Sequence[str],
    cost: str,
    problems: Sequence[Problem],
) -> None:
    """Draw a line; `names` are what it may take, `cost` is in words."""
    place = recipe.lines.index(line) + 1
    texts = recipe.texts()[place - 1]
    with st.container(horizontal=True, vertical_alignment="center", gap="small"):
        _fields(recipe, line, names, texts["ingredient"], place)
        with st.container(width=92):
            st.caption(plain(cost) or "—")
        _more(recipe, line, texts, place)
    for problem in problems:
        st.warning(plain(wrong_words(problem)))
    _to_decide(recipe, line, texts["ingredient"], problems)


def _fields(recipe: Recipe, line: int, names: Sequence[str], taken: str, place: int) -> None:
    options = names if not taken or taken in names else [taken, *names]
    st.selectbox(
        f"Ingredient of line {place}", options, index=None, key=recipe.key("ingredient", line),
        accept_new_options=True, placeholder="Ingredient", label_visibility="collapsed",
        width=240, persist_state="session", on_change=recipe.finish, args=(line, names),
    )  # fmt: skip
    st.text_input(
        f"Quantity of line {place}", key=recipe.key("quantity", line), placeholder="How much",
        label_visibility="collapsed", width=90, live=True, persist_state="session",
    )  # fmt: skip
    st.text_input(
        f"Unit of line {place}", key=recipe.key("unit", line), placeholder="g, cup, portion",
        label_visibility="collapsed", width=100, live=True, persist_state="session",
    )  # fmt: skip


def _more(recipe: Recipe, line: int, texts: dict[str, str], place: int) -> None:
    with st.popover(more_words(texts), key=recipe.key("more", line)):
        st.checkbox(
            "The amount is edible: trimmed, peeled", key=recipe.key("state", line),
            persist_state="session",
        )  # fmt: skip
        st.text_input(
            "% left after trimming, of this line", key=recipe.key("yield_pct", line),
            placeholder="as the ingredient's", persist_state="session",
        )  # fmt: skip
        st.checkbox(
            "Pantry: also told apart in the cost", key=recipe.key("pantry", line),
            persist_state="session",
        )  # fmt: skip
        st.text_input("Note", key=recipe.key("note", line), persist_state="session")
        with st.container(horizontal=True, gap="small"):
            st.button(
                "Up", key=recipe.key("up", line), on_click=recipe.move, args=(line, -1),
                disabled=place == 1,
            )  # fmt: skip
            st.button(
                "Down", key=recipe.key("down", line), on_click=recipe.move, args=(line, 1),
                disabled=place == len(recipe.lines),
            )  # fmt: skip
            st.button(
                "Remove", key=recipe.key("remove", line), on_click=recipe.remove, args=(line,)
            )


def _to_decide(recipe: Recipe, line: int, taken: str, problems: Sequence[Problem]) -> None:
    """Offer what a line may mean that the book does not know, or to let it wait."""
    words = waiting_words(taken)
    unknown = any(each.column == "ingredient" for each in problems)
    near = recipe.likely.get(words or "", ())
    if words is None and not (unknown and taken and not name_key(taken).startswith("dish:")):
        return
    with st.container(horizontal=True, vertical_alignment="center", gap="small"):
        if words is not None:
            st.caption(
                plain(f"{words}: choose what it is, or store it as it is; it waits in the Tray."),
                width="content",
            )
        for name in near:
            st.button(
                plain(name), key=recipe.key(f"near {name}", line), on_click=recipe.write,
                args=(line, "ingredient", name),
            )  # fmt: skip
        if words is None:
            st.button(
                plain(f"Let {taken} wait in the Tray"), key=recipe.key("wait", line),
                on_click=recipe.write, args=(line, "ingredient", f"{WAITING} {taken}"),
            )  # fmt: skip
