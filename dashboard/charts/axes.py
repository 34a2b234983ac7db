"""What all charts share: money axes, a time axis, and how a chart is finished."""

from __future__ import annotations

from typing import Any

import altair as alt
import pandas as pd

from pricing.money import currency_sign, minor_units


def money_axis(field: str, title: str, currency: str, top: float) -> alt.Y:
    """Return a y axis of money from 0 to `top`; every tick carries the currency."""
    digits = minor_units().get(currency, 2)
    if digits and top < 10**-digits * 10:
        digits += 2  # a spice by the gram: whole cents would repeat themselves
    prefix = currency_sign(currency)
    return alt.Y(
        f"{field}:Q",
        title=title,
        scale=alt.Scale(domain=[0, top], nice=False),
        axis=alt.Axis(
            labelExpr=f"'{prefix}' + format(datum.value, ',.{digits}f')", tickCount=6, grid=True
        ),
    )


def money_across(field: str, title: str, currency: str, low: float, high: float) -> alt.X:
    """Return an x axis of money from `low` to `high`; every tick carries sign and currency."""
    return alt.X(f"{field}:Q", title=title, **_signed(currency, low, high))


def money_up_and_down(field: str, title: str, currency: str, low: float, high: float) -> alt.Y:
    """Return a y axis of money from `low` to `high`; every tick carries sign and currency."""
    return alt.Y(f"{field}:Q", title=title, **_signed(currency, low, high))


def _signed(currency: str, low: float, high: float) -> dict[str, Any]:
    digits = minor_units().get(currency, 2)
    if digits and high - low < 10**-digits * 10:
        digits += 2  # tenths and hundredths of a cent: whole cents would repeat themselves
    number = f"format(abs(datum.value), ',.{digits}f')"
    label = f"(datum.value < 0 ? '−' : '') + '{currency_sign(currency)}' + {number}"
    return {
        "scale": alt.Scale(domain=[low, high], nice=False),
        "axis": alt.Axis(labelExpr=label, tickCount=6, grid=True),
    }


def time_axis(field: str, first: pd.Timestamp, last: pd.Timestamp) -> alt.X:
    """Return an x axis of time over `first` to `last`: years, or months when it is short."""
    short = (last - first).days < 3 * 366
    return alt.X(
        f"{field}:T",
        title=None,
        scale=alt.Scale(domain=[_moment(first), _moment(last)], nice=False),
        axis=alt.Axis(
            format="%b %Y" if short else "%Y",
            tickCount=8 if short else alt.TimeIntervalStep(interval="year", step=1),
            labelOverlap=True,
            grid=False,
        ),
    )


def _moment(day: pd.Timestamp) -> alt.DateTime:
    return alt.DateTime(year=day.year, month=day.month, date=day.day)


def top_of(values: pd.Series) -> float:
    """Return a top for an axis that leaves room for labels above the highest value."""
    highest = values.max()
    return float(highest) * 1.12 if pd.notna(highest) and highest > 0 else 1.0


def spread(places: list[float], *, top: float, height: int, least: int) -> list[float]:
    """Return where labels go beside `places`, in order, at least `least` pixels apart.

    Places are in the units of an axis from 0 to `top` that is `height` pixels high. Labels keep
    their order and stay on the axis.

    >>> spread([1.0, 1.0], top=4.0, height=100, least=25)
    [0.5, 1.5]
    """
    step = top * least / height
    order = sorted(range(len(places)), key=lambda each: places[each])
    groups: list[tuple[float, list[int]]] = []  # (middle, labels from the lowest)
    for each in order:
        groups.append((places[each], [each]))
        while len(groups) > 1 and _crowded(groups[-2], groups[-1], step):
            (low, lower), (high, upper) = groups[-2:]
            both = lower + upper
            middle = (low * len(lower) + high * len(upper)) / len(both)
            groups[-2:] = [(middle, both)]
    put = [0.0] * len(places)
    for middle, labels in groups:
        half = (len(labels) - 1) * step / 2
        middle = min(max(middle, half), top - half)
        for position, each in enumerate(labels):
            put[each] = middle - half + position * step
    return put


def _crowded(lower: tuple[float, list[int]], upper: tuple[float, list[int]], step: float) -> bool:
    return upper[0] - lower[0] < step * (len(lower[1]) + len(upper[1])) / 2


def finished(chart: alt.LayerChart, *, height: int) -> alt.LayerChart:
    """Return the chart at its height, drawn as SVG."""
    return chart.properties(
        height=height,
        padding={"left": 5, "top": 5, "bottom": 5, "right": 12},
        # drawn as SVG so that every mark can be found by a screen reader, and a test
        usermeta={"embedOptions": {"renderer": "svg"}},
    ).configure_axisY(labelFlush=False)  # else the page's theme lifts the lowest label off its line
