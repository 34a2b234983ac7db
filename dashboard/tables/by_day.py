"""A tidy frame of rows that each have a day, as charts over time take them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pandas as pd


def by_day(rows: Iterable[dict[str, object]], columns: Sequence[str]) -> pd.DataFrame:
    """Return the rows as a frame with `columns`, one of them `on`, which becomes datetime64."""
    made = pd.DataFrame(list(rows), columns=list(columns))
    made["on"] = pd.to_datetime(made["on"])
    return made
