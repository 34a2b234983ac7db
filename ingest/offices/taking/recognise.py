"""Finds the readers that know a file, by its content alone."""

from __future__ import annotations

from types import ModuleType

from ingest.offices import bls, ons, statcan
from ingest.offices.forms import json_stat, sdmx_csv, two_column

READERS: tuple[ModuleType, ...] = (sdmx_csv, json_stat, ons, bls, statcan, two_column)


def readers_of(head: str) -> list[ModuleType]:
    """Return every reader that takes a text for its own; an orderly file has exactly one."""
    return [reader for reader in READERS if reader.recognises(head)]
