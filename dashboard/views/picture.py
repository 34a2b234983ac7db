"""A chart on a page: said in a sentence, with its figures as a table and itself as a file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

import altair as alt
import pandas as pd
import streamlit as st

from dashboard.charts.picture_file import Kind, picture_file
from dashboard.views.rows_table import show_rows
from dashboard.views.theme import dark
from dashboard.words.caption import Caption, source_words
from dashboard.words.markdown import plain
from pricing.clock import today

_TYPES = {"png": "image/png", "svg": "image/svg+xml", "pdf": "application/pdf"}


def show_picture(
    draw: Callable[[bool], alt.LayerChart],
    *,
    name: str,
    finds: str,
    data: pd.DataFrame,
    columns: Mapping[str, str],
    key: str,
) -> None:
    """Draw a chart and, folded, what it is made of.

    `draw` makes it, for a dark page or a light one. `name` says what it shows and `finds`, in a
    sentence, what it finds: both are read aloud. `columns` of `data` are shown, each with its head.
    """
    st.altair_chart(draw(dark()), alt=f"{name}. {finds}", key=key)
    shown = data[list(columns)].rename(columns=dict(columns))
    with st.expander("Show data", key=f"data of {key}"):
        show_rows(
            shown.map(lambda each: plain(each) if isinstance(each, str) else each),
            alt=f"Data: {name}",
        )
        with st.container(horizontal=True):
            _file(draw, "png", name, finds, key)
            _file(draw, "svg", name, finds, key)
            _file(draw, "pdf", name, finds, key)


def _file(
    draw: Callable[[bool], alt.LayerChart], kind: Kind, name: str, finds: str, key: str
) -> None:
    st.download_button(
        f"The picture ({kind.upper()})",
        partial(_made, draw, kind, name, finds),  # made when it is asked for
        f"{name}.{kind}",
        _TYPES[kind],
        key=f"{kind} of {key}",
        on_click="ignore",
    )


def _made(draw: Callable[[bool], alt.LayerChart], kind: Kind, name: str, finds: str) -> bytes:
    return picture_file(
        draw(False), kind, Caption(title=name, finds=finds, source=source_words(today()))
    )
