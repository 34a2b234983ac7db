"""The bar above every room: find a dish or an ingredient, the day, whose prices, log a price."""

from __future__ import annotations

import streamlit as st

from dashboard.views.address import Kept, choice, day, some_of
from dashboard.views.book import MARKET, ON, WITHOUT, TheBook, the_book
from dashboard.views.choices import EARLIEST, day_input
from dashboard.views.enter_price import enter_price
from dashboard.views.loaders import dishes_of, ingredients_of, settings_of, suppliers_of
from dashboard.views.pages import page
from dashboard.words.markdown import plain
from dashboard.words.whose_prices import MARKETS, whose_words

_FIND, _GO, LOGGING = "find anything", "go to", "a price is being logged"
_DISH, _INGREDIENT = "dish", "ingredient"


def whose_fields(book: TheBook, *, dated: bool) -> dict[str, Kept]:
    """Return the choices of the bar that stand in the address of a room with prices of a day."""
    if not dated:
        return {}
    return {
        ON: day(book.today, EARLIEST, book.today),
        MARKET: choice([None, *MARKETS]),
        WITHOUT: some_of(suppliers_of(book.state)),
    }


def bar(book: TheBook, *, dated: bool) -> None:
    """Draw it; `dated` where the room shows prices of a day."""
    if going := st.session_state.pop(_GO, None):
        kind, name = going
        room = page("dishes" if kind == _DISH else "ingredients")
        st.switch_page(room, query_params={kind: name})
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small", key="bar"):
        _find(book)
        if dated:
            day_input("Prices of", ON, book.today)
            _whose(book)
        if ingredients_of(book.state):
            st.button("Log a price", shortcut="p", on_click=_open_the_form)
    if dated and (
        said := whose_words(st.session_state.get(MARKET), st.session_state.get(WITHOUT, ()))
    ):
        st.caption(plain(said))
    if st.session_state.get(LOGGING):  # also when the page is drawn anew for the stored price
        _log_a_price()


def _find(book: TheBook) -> None:
    found = [(_DISH, each.dish) for each in dishes_of(book.state)]
    found += [(_INGREDIENT, each.ingredient) for each in ingredients_of(book.state)]
    if not found:
        return

    def go() -> None:
        st.session_state[_GO] = st.session_state[_FIND]
        st.session_state[_FIND] = None

    st.selectbox(
        "Find a dish or an ingredient", found, index=None, key=_FIND, on_change=go, width=320,
        format_func=lambda each: each[1] if each[0] == _DISH else f"{each[1]} (ingredient)",
        placeholder="Type a name", filter_mode="fuzzy",
    )  # fmt: skip


def _whose(book: TheBook) -> None:
    suppliers = suppliers_of(book.state)
    if not suppliers:
        return
    own = settings_of(book.state).market
    with st.popover("Whose prices"):
        st.radio(
            "Prices of",
            [None, *MARKETS],
            format_func=lambda each: MARKETS[each] if each else f"as the book has it: {own}",
            key=MARKET,
        )
        st.multiselect("Leave out", suppliers, key=WITHOUT, placeholder="No supplier")


def _open_the_form() -> None:
    st.session_state[LOGGING] = True


def _close_the_form() -> None:
    st.session_state.pop(LOGGING, None)


@st.dialog("Log a price", width="large", on_dismiss=_close_the_form)
def _log_a_price() -> None:
    book = the_book()
    names = [each.ingredient for each in ingredients_of(book.state)]
    asked = st.query_params.get(_INGREDIENT)
    enter_price(book, names, asked if asked in names else names[0])
