"""Where recipes are written: a new version of a dish, a new dish, and a pasted recipe."""

from __future__ import annotations

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.edit_recipe import edit_recipe
from dashboard.views.outcome import keep, show_outcome
from dashboard.views.pages import ARROW, PART, page
from dashboard.views.recipe_fields import (
    NEW,
    Recipe,
    being_written,
    open_recipe,
    put_away,
    unfinished,
)
from dashboard.views.recipe_loaders import written_of
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from dashboard.words.recipe import head_of, line_of, next_version
from ingest.tray.pasted import read_pasted
from pricing.contents.choices import ListedDish
from pricing.errors import PortionDriftError

EDIT = "edit"  # in an address: the version that a new one is copied from
_PASTED = "pasted recipe"


def show_new_version(book: TheBook, dish: ListedDish, asked: str) -> None:
    """Draw the editor of a new version, copied from the one asked for unless one is open."""
    st.header(plain(f"New version of {dish.dish}"), anchor=False)
    show_outcome()
    labels = [each.version for each in dish.versions]
    recipe = being_written(dish.dish)
    copied = asked if asked in labels else None
    if recipe is None or (copied not in (None, recipe.copied_from) and not recipe.changed()):
        recipe = copy_version(book, dish, copied)
    st.page_link(
        page("dishes"), label=plain(f"Back to {dish.dish}"), query_params={"dish": dish.dish},
        icon=ARROW,
    )  # fmt: skip
    unknown = "" if copied else f"{dish.dish} has no version {asked}. "
    st.caption(plain(f"{unknown}Copied from version {recipe.copied_from}."))
    edit_recipe(book, recipe)


def copy_version(book: TheBook, dish: ListedDish, version: str | None) -> Recipe:
    """Open a new version with the texts of one that is there."""
    written = written_of(book.state, dish.dish, version)
    label = next_version([each.version for each in dish.versions], book.today)
    return open_recipe(
        dish.dish,
        head_of(written, label, book.today),
        [line_of(line) for line in written.lines],
        copied_from=written.version,
    )


def show_new_dish(book: TheBook) -> None:
    """Draw the editor of a new dish, above it a place for a recipe's text."""
    recipe = being_written(NEW) or _blank(book)
    with st.expander("Paste a recipe", expanded=not recipe.changed()):
        st.text_area(
            "The recipe as text: its name, how many it serves, one ingredient a line",
            key=_PASTED, height=180, persist_state="session",
            placeholder="Leek pie\nServes 4\n\n800 g leeks\n100 g butter",
        )  # fmt: skip
        st.button("Read it into the lines below", on_click=_read, args=(book,))
    edit_recipe(book, recipe)


def _blank(book: TheBook) -> Recipe:
    return open_recipe(NEW, {"version": "1", "effective_from": book.today.isoformat()}, [])


def _read(book: TheBook) -> None:
    """Read the pasted text into the editor; what is wrong with it is said above."""
    text = st.session_state.get(_PASTED) or ""
    try:
        found = read_pasted(book.book, text, today=book.today)
    except PortionDriftError as refused:
        keep(str(refused), stored=False)
        return
    first, *others = found
    said = list(first.said)
    if others:
        said.append(
            f"The text holds {counted(len(found), 'recipe')}; the first is here. Paste the others "
            "by themselves."
        )
    open_recipe(NEW, first.head, first.lines, likely=first.likely, said=said)


def link_to_new_version(dish: str, version: str) -> None:
    """Draw the way to the editor of a dish: it goes on with what is open, else copies a version."""
    recipe = being_written(dish)
    going_on = recipe is not None and recipe.changed()
    st.page_link(
        page("dishes"), label="Go on with the new version" if going_on else "New version",
        query_params={"dish": dish, EDIT: version}, icon=":material/edit:",
    )  # fmt: skip


def show_unfinished() -> None:
    """Draw the ways back to recipes that are written and not stored."""
    for recipe in unfinished():
        what = f"new version of {recipe.dish}" if recipe.dish else "new dish"
        query = {"dish": recipe.dish, EDIT: recipe.copied_from or ""}
        with st.container(horizontal=True, vertical_alignment="center", gap="small"):
            st.page_link(
                page("dishes"), label=plain(f"Go on with the unfinished {what}"),
                query_params=query if recipe.dish else {PART: "new"}, icon=ARROW,
            )  # fmt: skip
            st.button(
                "Put it away", key=f"put away {recipe.number}", on_click=put_away,
                args=(recipe.dish,), type="tertiary",
            )  # fmt: skip
