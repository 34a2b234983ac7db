"""A name in an address that the book does not have: the nearest are offered, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import streamlit as st

from dashboard.views.pages import ARROW, page
from dashboard.words.markdown import plain
from pricing.names import name_key, nearest


def with_this_name(asked: str, names: Iterable[str]) -> str | None:
    """Return the name of the book that `asked` means, in any case; None if there is none."""
    wanted = name_key(asked)
    return next((each for each in names if name_key(each) == wanted), None)


def say_unknown(kind: str, asked: str, names: Sequence[str]) -> None:
    """Say that the book has no such dish or ingredient, and lead to the nearest."""
    st.header(plain(f"No {kind} is called “{asked}”"), anchor=False)
    near = nearest(asked, names)
    if near:
        st.markdown("Did you mean:")
    for each in near:
        room = page("dishes" if kind == "dish" else "ingredients")
        st.page_link(room, label=plain(each), query_params={kind: each}, icon=ARROW)
