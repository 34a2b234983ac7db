"""Which of the two looks a reader chose, so that charts take its colours."""

from __future__ import annotations

import streamlit as st


def dark() -> bool:
    """Tell whether the page is dark."""
    return st.context.theme.type == "dark"
