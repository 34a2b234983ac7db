"""The field of a shop: the beginning of a known shop's name takes that shop."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from dashboard.words.markdown import plain

SHOP = "supplier"  # key of the field
_WRITTEN = "shop as written"


def shop_input(known: Sequence[str]) -> None:
    """Draw the field, and the way to a new shop whose name another one begins with."""
    st.selectbox(
        "Supplier", known, index=None, accept_new_options=True, key=SHOP,
        placeholder="Choose, or write a new one", on_change=_take_the_offered, args=(known,),
    )  # fmt: skip
    written = st.session_state.get(_WRITTEN)
    if written and st.session_state.get(SHOP) in known:
        st.button(f"No, a new shop: {plain(written)}", on_click=_as_written, type="tertiary")


def the_one_meant(written: str, known: Sequence[str]) -> str | None:
    """Return the only known shop whose name begins so; None if there is none, or several."""
    begun = [each for each in known if each.casefold().startswith(written.strip().casefold())]
    return begun[0] if len(begun) == 1 else None


def _take_the_offered(known: Sequence[str]) -> None:
    state = st.session_state
    written = state[SHOP]
    state.pop(_WRITTEN, None)
    if written and written not in known and (meant := the_one_meant(written, known)):
        state[SHOP], state[_WRITTEN] = meant, written


def _as_written() -> None:
    st.session_state[SHOP] = st.session_state.pop(_WRITTEN)
