"""Puts plain words on a page that reads Markdown: a dollar or an underscore stays what it is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from urllib.parse import quote

import streamlit as st

from pricing.errors import InputRefused, PortionDriftError

_MEANT = re.compile(r"([\\*_$\[\]<>~#|])")


def plain(text: str) -> str:
    """Return text that Markdown shows as it is; what stands in backticks stays code.

    >>> print(plain("$1.20 for [a_b]; run `portiondrift init --currency USD`"))
    \\$1.20 for \\[a\\_b\\]; run `portiondrift init --currency USD`
    """
    parts = text.split("`")
    if len(parts) % 2 == 0:  # a stray backtick means nothing
        return _MEANT.sub(r"\\\1", text.replace("`", "'"))
    return "`".join(
        part if number % 2 else _MEANT.sub(r"\\\1", part) for number, part in enumerate(parts)
    )


def unbroken(text: str) -> str:
    """Return a short figure with its unit, which a narrow column does not break."""
    return plain(text.replace(" ", "\u00a0"))


def link(words: str, page: str, **query: str) -> str:
    """Return a Markdown link to a page of the dashboard."""
    asked = "&".join(f"{name}={quote(value, safe='')}" for name, value in query.items())
    return f"[{plain(words)}]({page}?{asked})"


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
