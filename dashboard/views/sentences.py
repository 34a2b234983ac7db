"""Shows an error that a user can mend as a sentence on the page."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import streamlit as st

from dashboard.words.markdown import plain
from pricing.errors import InputRefused, PortionDriftError


@contextmanager
def sentences() -> Iterator[None]:
    """Show an error that a user can mend as a sentence in the place where it came up."""
    try:
        yield
    except PortionDriftError as error:
        st.session_state["refused"] = True  # the page tries again by itself
        st.warning(plain(str(error)), icon=":material/info:")
        if isinstance(error, InputRefused):
            for problem in error.problems:
                st.markdown(f"- {plain(problem.sentence())}")
