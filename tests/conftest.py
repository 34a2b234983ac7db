"""Every test runs on the same day, and on no book of the person who runs it."""

from __future__ import annotations

import pytest

from tests.kitchen import TODAY


@pytest.fixture(autouse=True)
def _same_day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PORTIONDRIFT_TODAY", TODAY.isoformat())
    monkeypatch.delenv("PORTIONDRIFT_BOOK", raising=False)
