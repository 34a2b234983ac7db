"""The food items among the bundled series, and the index values of each month."""

from __future__ import annotations

from collections.abc import Iterator

from ingest.official.bundled import bundled_series, bundled_values

STILL_PUBLISHED = 2026 * 12  # month number: a series that ended before is no item

Index = dict[int, float]  # month number, counted from year 0 → value


def indices() -> dict[str, Index]:
    """Return series id → month number → index value, of the bundled series."""
    by_series: dict[str, Index] = {}
    for series, month, value in zip(*bundled_values(), strict=True):
        by_series.setdefault(series, {})[month.year * 12 + month.month - 1] = value
    return by_series


def wider_series() -> dict[str, tuple[str, ...]]:
    """Return series id → the wider ones above it, the narrowest first."""
    parent = {each.series: each.parent for each in bundled_series()}

    def above(series: str) -> Iterator[str]:
        up = parent[series]
        while up is not None:
            yield up
            up = parent[up]

    return {series: tuple(above(series)) for series in parent}


def food_items(by_series: dict[str, Index]) -> dict[str, str]:
    """Return the food items (no groups, no alcoholic drinks) and the series that bridges each."""
    return {
        series: above[0]
        for series, above in wider_series().items()
        if not series.startswith("us-bls:SA")
        and "us-bls:SAF1" in above
        and max(by_series[series]) >= STILL_PUBLISHED
    }
