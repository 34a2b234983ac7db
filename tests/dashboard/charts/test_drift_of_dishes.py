"""Several dishes on one chart, and many on a chart each."""

from __future__ import annotations

import pandas as pd
import pytest

from dashboard.charts.drift_of_dishes import ONE_CHART, dishes_chart
from dashboard.words.states import AT_LEAST, MOSTLY_SEEN
from tests.dashboard.charts.drawn import points


def several(count: int) -> pd.DataFrame:
    return pd.concat(
        [points([MOSTLY_SEEN] * 3).assign(dish=f"dish {each}") for each in range(count)]
    )


def test_a_few_dishes_share_a_chart_and_differ_by_colour_dash_and_shape() -> None:
    spec = dishes_chart(several(ONE_CHART), currency="USD").to_dict()
    encoding = spec["layer"][0]["encoding"]
    for channel in ("color", "strokeDash"):
        made = encoding[channel]["scale"]["range"]
        assert len({str(each) for each in made}) == ONE_CHART


def test_many_dishes_get_a_small_chart_each() -> None:
    spec = dishes_chart(several(ONE_CHART + 1), currency="USD").to_dict()
    assert spec["facet"]["field"] == "dish"


@pytest.mark.parametrize("dishes", [2, ONE_CHART + 1])
def test_lines_of_several_dishes_break_where_a_price_is_missing(dishes: int) -> None:
    frame = several(dishes).reset_index(drop=True)
    frame["state"] = MOSTLY_SEEN
    frame.loc[frame.index[0], "state"] = AT_LEAST
    spec = dishes_chart(frame, currency="USD").to_dict()
    assert "at least" in spec["title"]["text"]
    line, *_, hollow = spec["layer"] if dishes == 2 else spec["spec"]["layer"]
    data = spec["datasets"][(line if dishes == 2 else spec)["data"]["name"]]
    assert [row["cost"] for row in data].count(None) == 1
    assert hollow["mark"]["type"] == "point"
    frame["state"] = MOSTLY_SEEN
    assert "title" not in dishes_chart(frame, currency="USD").to_dict()
