"""Cuts a drift line into spans: where its prices were seen, where an index moved them."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

SEEN = "mostly from prices seen"
MOVED = "mostly moved by an official index"
AT_LEAST = "at least: a price is missing"
STATES = (SEEN, MOVED, AT_LEAST)  # from the strongest to the weakest


def state_of(complete: bool, share_bridged: float | None) -> str:
    """Return which of the three states a month's figure is in.

    >>> state_of(True, 0.2), state_of(True, 0.7), state_of(False, 0.0)
    ('mostly from prices seen', 'mostly moved by an official index', 'at least: a price is missing')
    """
    if not complete or share_bridged is None:
        return AT_LEAST
    return MOVED if share_bridged > 0.5 else SEEN


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
    span, before = -1, None
    for point in points.to_dict("records"):
        apart = before is None or AT_LEAST in (before["state"], point["state"])
        if not apart and before["version"] == point["version"]:
            state = max(before["state"], point["state"], key=states.index)
            if not rows or rows[-1]["state"] != state or rows[-1]["month"] != before["month"]:
                span += 1
                rows.append({**before, "state": state, "span": span})
            rows.append({**point, "state": state, "span": span})
        before = point
    return pd.DataFrame(rows, columns=[*points.columns, "span"])
