"""What the pages keep is kept for one state of the book's file, and for one day."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from dashboard.views.book import book_state


def test_a_changed_file_is_another_state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "kitchen.duckdb"
    path.write_bytes(b"a book")
    os.utime(path, ns=(10**18, 10**18))
    first = book_state(str(path))
    assert book_state(str(path)) == first
    os.utime(path, ns=(10**18, 10**18 + 1000))  # written again, no longer than before
    later = book_state(str(path))
    path.write_bytes(b"a longer book")  # of the same instant
    os.utime(path, ns=(10**18, 10**18))
    longer = book_state(str(path))
    monkeypatch.setenv("PORTIONDRIFT_TODAY", "2026-11-25")
    tomorrow = book_state(str(path))
    assert len({first, later, longer, tomorrow}) == 4
