"""Arithmetic of index series: a new reference period, and two series joined over an overlap."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

from pricing.days import month_words
from pricing.errors import SeriesRefused

LOUD_SPREAD = 0.5  # percent: a larger spread over the overlap says that the content changed

Values = Mapping[date, float]  # first day of month → index value


@dataclass(frozen=True, kw_only=True)
class LinkFactor:
    """How two series stand to each other over the months that both have."""

    factor: float  # mean of the newer ÷ mean of the older over the overlap
    spread_pct: float  # (highest ÷ lowest ratio of a month − 1) × 100; 0 for one month
    months: tuple[date, ...]  # of the overlap

    @property
    def loud(self) -> bool:
        """Whether the two moved apart so far that they hardly cover the same goods."""
        return self.spread_pct > LOUD_SPREAD


def link_factor(older: Values, newer: Values, months: Collection[date]) -> LinkFactor:
    """Return what the older series is multiplied by to join the newer one.

    `months` is the overlap: one month, or twelve. The factor is the ratio of the means over it.
    Raises SeriesRefused when a month is missing in one of them.
    Source: ILO/IMF/OECD/Eurostat/UNECE/World Bank, Consumer Price Index Manual (2004), glossary,
    "linking": when two series overlap, one is rescaled so that the values agree in the overlap.

    >>> jan = date(2026, 1, 1)
    >>> link_factor({jan: 150.0}, {jan: 105.0}, [jan]).factor
    0.7
    """
    wanted = sorted(set(months))
    for name, values in (("older", older), ("newer", newer)):
        missing = [month for month in wanted if month not in values]
        if missing or not wanted:
            raise SeriesRefused(
                f"Found no value of the {name} series for "
                f"{month_words(missing[0]) if missing else 'any month'}; expected both series to "
                "have every month of the overlap. Choose months that both have."
            )
    ratios = [newer[month] / older[month] for month in wanted]
    return LinkFactor(
        factor=sum(newer[month] for month in wanted) / sum(older[month] for month in wanted),
        spread_pct=(max(ratios) / min(ratios) - 1) * 100,
        months=tuple(wanted),
    )


def reference_factor(values: Values, months: Collection[date]) -> float:
    """Return 100 ÷ the mean of the series over the new reference period.

    Raises SeriesRefused when a month of it is missing.
    Source: ABS 6401.0, September 2012, Appendix 1: 100.0 ÷ 179.7 = 0.5565 for all groups.
    """
    missing = [month for month in sorted(set(months)) if month not in values]
    if missing or not months:
        raise SeriesRefused(
            "Found no value of the series for "
            f"{month_words(missing[0]) if missing else 'any month'}; expected one in every month "
            "of the new reference period. Choose another period."
        )
    wanted = set(months)
    return 100.0 * len(wanted) / sum(values[month] for month in wanted)
