"""A table on a page: it sorts, shows a page at a time, goes into a file, and folds on a phone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import pandas as pd
import streamlit as st

from dashboard.tables.cells import INSIDE, Cell, are_figures, cell

PAGE = 50  # rows shown at once
LONG = 40  # letters, from which a column of words keeps some width
_HERE = Path(__file__)

_TABLE = st.components.v2.component(
    "rows_table",
    html='<div class="rows"></div>',
    css=_HERE.with_suffix(".css").read_text("utf-8"),
    js=_HERE.with_suffix(".js").read_text("utf-8"),
)


def show_rows(
    rows: pd.DataFrame | Sequence[Mapping[str, Any]],
    *,
    alt: str,
    figure: str | None = None,
    meant: Mapping[str, str] | None = None,
) -> None:
    """Draw rows, whose words are Markdown, as a table.

    `alt` is its name, as it is read aloud and as its file is called. `figure` is the column that
    stands beside the name on a phone, where the rest unfolds; else the first one of figures.
    `meant` says what a column means, shown at its head.
    """
    frame = rows if isinstance(rows, pd.DataFrame) else pd.DataFrame(list(rows))
    if frame.empty:
        return
    _TABLE(data=table_data(frame, alt, figure, meant or {}), key=f"rows of {alt}")


def table_data(
    frame: pd.DataFrame, alt: str, figure: str | None, meant: Mapping[str, str]
) -> dict[str, Any]:
    """Return a table as it goes to the browser."""
    names = [str(each) for each in frame.columns]
    columns = [[cell(value) for value in frame.iloc[:, at].tolist()] for at in range(len(names))]
    figures = [at > 0 and are_figures(each) for at, each in enumerate(columns)]
    if figure in names:
        beside = names.index(figure)
    else:
        beside = figures.index(True) if any(figures) else min(1, len(names) - 1)
    return {
        "name": alt,
        "page": PAGE,
        "beside": beside,
        "columns": [
            {
                "name": name,
                "figures": is_figures,
                "long": not is_figures and any(len(one.words) > LONG for one in cells),
                "meant": meant.get(name, ""),
            }
            for name, is_figures, cells in zip(names, figures, columns, strict=True)
        ],
        "rows": [
            {"cells": [_as_sent(each) for each in row], "inside": row[0].words.startswith(INSIDE)}
            for row in zip(*columns, strict=True)
        ],
    }


def _as_sent(each: Cell) -> dict[str, Any]:
    sent: dict[str, Any] = {"by": each.by, "pieces": [list(piece) for piece in each.pieces]}
    return sent | {"line": list(each.line)} if each.line else sent
