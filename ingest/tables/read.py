"""Reads the bytes of any table into its sheets."""

from __future__ import annotations

from ingest.tables.csv_grid import csv_grid
from ingest.tables.grid import Grid
from ingest.tables.recognise import no_table, workbook_or_text
from ingest.tables.workbook import workbook_grids
from ingest.text.limits import LARGEST_FILE, LARGEST_TABLE, MOST_LINES, too_large, too_many_lines
from pricing.errors import Problem


def read_grids(data: bytes) -> tuple[Grid, ...] | tuple[Problem, ...]:
    """Return the sheets of a table that have a filled cell, or why it cannot be read.

    Text pasted from a clipboard is given in UTF-8.
    """
    if len(data) > LARGEST_FILE:
        return (too_large(len(data)),)
    form = workbook_or_text(data)
    if isinstance(form, Problem):
        return (form,)
    if form == "workbook":
        grids = workbook_grids(data)
        return (grids,) if isinstance(grids, Problem) else grids
    if len(data) > LARGEST_TABLE:
        return (too_large(len(data), LARGEST_TABLE),)
    many = too_many_lines(data, MOST_LINES)
    if many is not None:
        return (many,)
    grid = csv_grid(data)
    if isinstance(grid, Problem):
        return (grid,)
    if not grid.rows:
        return (no_table("an empty file", "Check which file was saved."),)
    return (grid,)
