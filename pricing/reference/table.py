"""Reads a table kept as a CSV file: # begins a comment, the first other line is the header."""

from __future__ import annotations

import csv
from importlib.resources import files


def read_table(name: str, package: str = __package__) -> list[dict[str, str]]:
    """Return the rows of a table that lies in a package's folder, by the names of its header."""
    text = files(package).joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(data_lines(text)))


def data_lines(text: str) -> list[str]:
    """Return the lines of a table without its comments.

    >>> data_lines("# gram to a pound\\nunit,g\\nlb,453.59237\\n")
    ['unit,g', 'lb,453.59237']
    """
    return [line for line in text.splitlines() if not line.startswith("#")]
