"""Frames to draw, and what was drawn of them, for the tests of charts."""

from __future__ import annotations

from typing import Any

import pandas as pd


def points(states: list[str], versions: list[str] | None = None) -> pd.DataFrame:
    """Months from January 2020 with these states; the cost rises by 0.10 from 1.00."""
    on = pd.date_range("2020-01-15", periods=len(states), freq=pd.DateOffset(months=1))
    cost = [1 + 0.1 * number for number in range(len(states))]
    return pd.DataFrame(
        {
            "dish": "soup",
            "month": on.strftime("%Y-%m"),
            "on": on,
            "version": versions or ["1"] * len(states),
            "cost": cost,
            "state": states,
            "evidence": "all from prices seen",
            "shown": [f"${each:.2f}" for each in cost],
            "day": on.strftime("%-d %B %Y"),
        }
    )


def layers(spec: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    return [layer for layer in spec["layer"] if layer["mark"]["type"] == kind]


def rows(spec: dict[str, Any], layer: dict[str, Any]) -> list[dict[str, Any]]:
    return spec["datasets"][layer["data"]["name"]]
