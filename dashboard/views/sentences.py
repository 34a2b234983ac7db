"""Shows an error that a user can mend as a sentence on the page."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import streamlit as st

from dashboard.words.markdown import plain
from pricing.errors import BookUnreadable, InputRefused, PortionDriftError


@contextmanager
def sentences() -> Iterator[None]:
    """Show an error that a user can mend as a sentence in the place where it came up."""
    try:
        yield
    except PortionDriftError as error:
        # a book that another program holds is free again soon, and the page then tries by itself;
        # what is refused for what it says stays so, and is not drawn anew under a reader's hands
        if isinstance(error, BookUnreadable):
            st.session_state["refused"] = True
        st.warning(plain(str(error)), icon=":material/info:")
        if isinstance(error, InputRefused):
            for problem in error.problems:
                st.markdown(f"- {plain(problem.sentence())}")
