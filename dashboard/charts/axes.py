"""What all charts share: money axes, a time axis, and how a chart is finished."""

from __future__ import annotations

from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.colours import ink
from dashboard.charts.drawing import Drawing
from pricing.money import currency_sign, minor_units


def money_axis(field: str, title: str, currency: str, top: float) -> alt.Y:
    """Return a y axis of money from 0 to `top`; every tick carries the currency."""
    prefix, digits = currency_sign(currency), _decimals(currency, top)
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
    number = f"format(abs(datum.value), ',.{_decimals(currency, high - low)}f')"
    label = f"(datum.value < 0 ? '−' : '') + '{currency_sign(currency)}' + {number}"
    return {
        "scale": alt.Scale(domain=[low, high], nice=False),
        "axis": alt.Axis(labelExpr=label, tickCount=6, grid=True),
    }


def _decimals(currency: str, span: float) -> int:
    """Return the decimals of ticks over `span`: two more where whole units would repeat."""
    digits = minor_units().get(currency, 2)
    return digits + 2 if digits and span < 10 * 10**-digits else digits


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


def finished(
    *layers: alt.Chart, height: int, dark: bool = False, title: alt.TitleParams | None = None
) -> alt.LayerChart:
    """Return the layers as one chart at its height, drawn as SVG."""
    words = {"labelColor": ink(dark=dark), "titleColor": ink(dark=dark)}
    look: dict[str, Any] = {
        "height": height,
        "padding": {"left": 5, "top": 5, "bottom": 5, "right": 12},
        # drawn as SVG so that every mark can be found by a screen reader, and a test
        "usermeta": {"embedOptions": {"renderer": "svg"}},
        "config": {
            # else the page's theme draws words too faint to read (WCAG 2.2, 1.4.3: 4.5 to 1)
            "axis": words,
            "legend": words,
            "header": words,
            "title": {"color": ink(dark=dark), "subtitleColor": ink(dark=dark)},
            # else the page's theme lifts the lowest label off its line
            "axisY": {"labelFlush": False},
        },
    }
    return Drawing(layers=layers, look=look if title is None else look | {"title": title})
