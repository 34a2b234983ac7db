"""Cuts a drift line into spans: where its prices were seen, where an index moved them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import pandas as pd

from dashboard.words.states import AT_LEAST, STATES


def spans(points: pd.DataFrame, states: Sequence[str] = STATES) -> pd.DataFrame:
    """Return the points as spans to draw as lines of their own.

    Takes `month`, `state` and `version` in order of time (and whatever else the points carry);
    `states` are named from the strongest to the weakest. Returns the same columns and `span`, a
    number. A point between two spans stands in both, so that the line has no gap. A piece between
    two months has the weaker of their states. Between two versions there is no piece: the line
    breaks where the recipe changed. Nor is there one to or from a figure that is only at least:
    the step to a whole figure is a price that was missing, not one that rose.
    """
    rows: list[dict[str, object]] = []
    span = -1
    for before, point in pairwise(points.to_dict("records")):
        if AT_LEAST in (before["state"], point["state"]) or before["version"] != point["version"]:
            continue
        state = max(before["state"], point["state"], key=states.index)
        if not rows or rows[-1]["state"] != state or rows[-1]["month"] != before["month"]:
            span += 1
            rows.append({**before, "state": state, "span": span})
        rows.append({**point, "state": state, "span": span})
    return pd.DataFrame(rows, columns=[*points.columns, "span"])
