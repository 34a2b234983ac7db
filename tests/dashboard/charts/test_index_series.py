"""The chart of an official series."""

from __future__ import annotations

import pandas as pd
import pytest

from dashboard.charts.index_series import series_chart


@pytest.mark.parametrize(("runs", "layers"), [([1, 1], 1), ([1, 2], 2)])
def test_points_are_drawn_only_for_months_that_stand_alone(runs: list[int], layers: int) -> None:
    """A layer without data has no extent: the browser warns, and a reader aloud finds no name."""
    months = pd.DataFrame(
        {
            "month": pd.to_datetime(["2025-01-01", "2025-02-01"]),
            "value": [100.0, 101.0],
            "run": runs,
            "shown": ["Jan 2025", "Feb 2025"],
        }
    )
    assert len(series_chart(months, title="Food", base=None).to_dict()["layer"]) == layers
