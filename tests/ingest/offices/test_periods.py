"""Which dates of an office's file stand for a month."""

from __future__ import annotations

import pytest

from ingest.offices.reading.periods import read_period


@pytest.mark.parametrize("text", ["2026-02-01", "2026-02-28", "2024-02-29", "2026-02-01T00:00:00"])
def test_the_first_or_last_day_of_a_month_is_its_month(text: str) -> None:
    assert read_period(text) == read_period(text[:7])


@pytest.mark.parametrize("text", ["2026-02-14", "2024-02-28", "2026-01-30"])
def test_any_other_day_is_no_month(text: str) -> None:
    assert read_period(text) is None
