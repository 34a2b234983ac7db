"""The frontier of swaps: costs stand on the side of their points that is away from the target."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest

from dashboard.charts.fewest_swaps import fewest_swaps_chart
from tests.dashboard.charts.drawn import layers, rows

POINTS = pd.DataFrame(
    {
        "changes": [0, 1, 2],
        "cost": [1.30, 1.05, 0.90],
        "shown": ["$1.30", "$1.05", "$0.90"],
        "swaps": "none",
        "said": "",
    }
)


def drawn(target: float) -> dict[str, Any]:
    chart = fewest_swaps_chart(POINTS, currency="USD", target=target, target_words="target")
    spec: dict[str, Any] = chart.to_dict()
    return spec


@pytest.mark.parametrize(
    ("target", "over", "under"),
    [
        (1.00, {"$1.30", "$1.05"}, {"$0.90"}),
        (0.80, {"$1.30", "$1.05", "$0.90"}, set()),  # not reached: none stands on the line
        (1.05, {"$1.30"}, {"$1.05", "$0.90"}),
    ],
)
def test_costs_stand_away_from_the_target(target: float, over: set[str], under: set[str]) -> None:
    spec = fewest_swaps_chart(
        POINTS, currency="USD", target=target, target_words="target"
    ).to_dict()
    stand: dict[bool, set[str]] = {True: set(), False: set()}
    for layer in layers(spec, "text"):
        shown = {row["shown"] for row in rows(spec, layer) if "shown" in row}
        stand[layer["mark"]["dy"] < 0] |= shown  # up the page is less
    assert stand == {True: over, False: under}


@pytest.mark.parametrize(("target", "baseline"), [(1.00, "bottom"), (0.80, "top")])
def test_the_name_of_the_target_stands_where_no_point_is(target: float, baseline: str) -> None:
    spec = fewest_swaps_chart(
        POINTS, currency="USD", target=target, target_words="target"
    ).to_dict()
    (name,) = (each for each in layers(spec, "text") if "words" in rows(spec, each)[0])
    assert name["mark"]["baseline"] == baseline
