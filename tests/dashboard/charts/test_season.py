"""The pattern of the year: a flat one is drawn flat, and no figure meets the next."""

from __future__ import annotations

import pandas as pd
import pytest

from dashboard.charts.season import season_chart
from tests.dashboard.charts.drawn import layers, rows


def months(swing: float) -> pd.DataFrame:
    change = [swing if at % 2 else -swing for at in range(12)]
    return pd.DataFrame(
        {
            "month": [f"{at}" for at in range(12)],
            "change": change,
            "cheap": [each < 0 for each in change],
            "shown": [f"{each:+.1f} %" for each in change],
            "said": "",
        }
    )


@pytest.mark.parametrize("swing", [0.0, 0.4, 3.0])
def test_the_axis_is_no_narrower_than_five_per_cent_either_way(swing: float) -> None:
    spec = season_chart(months(swing)).to_dict()
    low, high = layers(spec, "bar")[0]["encoding"]["y"]["scale"]["domain"]
    assert low <= -5
    assert high >= 5


def test_figures_are_short_and_small_where_the_chart_is_narrow() -> None:
    spec = season_chart(months(12.0)).to_dict()
    for layer in layers(spec, "text"):
        field = layer["encoding"]["text"]["field"]
        assert not any(row[field].endswith("%") for row in rows(spec, layer))  # the axis says it
        assert layer["mark"]["fontSize"]["expr"].startswith("width < ")
