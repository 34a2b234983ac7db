"""Draws lines over time as an SVG: small, without ids, in the colours of the page around it.

(Pictures for print are drawn by dashboard/charts. In a document a hundred charts share one page, so
they may have no ids that clash, and take their colours from its style, light or dark.)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from html import escape
from math import ceil, floor, log10

from dashboard.words.document import Chart, Line
from pricing.money import currency_sign, minor_units

WIDTH, HEIGHT = 680, 240
_LEFT, _RIGHT, _TOP, _BOTTOM = 58, 120, 22, 26
_LEAST_APART = 13  # of two labels, in the units of the drawing
Point = tuple[float, float]


def draw_chart(chart: Chart) -> str:
    """Return the chart as one SVG element, with its title and what it shows in words."""
    return "".join(_drawn(chart))


class _Frame:
    """Where a day and a value stand."""

    def __init__(self, chart: Chart) -> None:
        days = [day for line in chart.lines for day, _ in line.points]
        days += [mark.on for mark in chart.marks]
        values = [v for line in chart.lines for _, v in line.points if v is not None]
        values += [mark.value for mark in chart.marks]
        self.first, self.last = min(days), max(days)
        top = max(values, default=1.0)
        bottom = 0.0 if chart.currency else min(values, default=0.0)
        self.step = _round_step((top - bottom) or top or 1.0)
        self.low = floor(bottom / self.step) * self.step
        self.high = max(ceil(top / self.step) * self.step, self.low + self.step)

    def x(self, day: date) -> float:
        span = max((self.last - self.first).days, 1)
        return _LEFT + (WIDTH - _LEFT - _RIGHT) * (day - self.first).days / span

    def y(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return HEIGHT - _BOTTOM - (HEIGHT - _TOP - _BOTTOM) * share


def _round_step(span: float) -> float:
    """Return 1, 2 or 5 times a power of ten, of which four to eight make the span.

    >>> _round_step(2.6), _round_step(80)
    (0.5, 20.0)
    """
    unit = 10.0 ** floor(log10(span / 4))
    return next(unit * step for step in (10, 5, 2, 1) if span / (unit * step) >= 4)


def _drawn(chart: Chart) -> Iterator[str]:
    frame = _Frame(chart)
    yield (
        f'<svg class="chart" viewBox="0 0 {WIDTH} {HEIGHT}" width="{WIDTH}" height="{HEIGHT}" '
        f'role="img" aria-label="{escape(f"{chart.title}. {chart.says}")}">'
        f"<title>{escape(chart.title)}</title><desc>{escape(chart.says)}</desc>"
    )
    yield from _grid(frame, chart.currency)
    yield from _years(frame)
    for number, line in enumerate(chart.lines):
        yield from _line(frame, line, number)
    yield from _names(frame, chart.lines)
    for mark in chart.marks:
        x, y = frame.x(mark.on), frame.y(mark.value)
        at = "end" if x > WIDTH - _RIGHT - 80 else "start" if x < _LEFT + 80 else "middle"
        yield (
            f'<path class="mark" d="M{x:.1f} {y - 6:.1f}l6 6-6 6-6-6z"/>'
            f'<text class="label" x="{x:.1f}" y="{max(y - 10, 11):.1f}" text-anchor="{at}">'
            f"{escape(mark.label)}</text>"
        )
    yield "</svg>"


def _grid(frame: _Frame, currency: str | None) -> Iterator[str]:
    steps = round((frame.high - frame.low) / frame.step)
    for number in range(steps + 1):
        value = frame.low + number * frame.step
        y = frame.y(value)
        yield (
            f'<path class="grid" d="M{_LEFT} {y:.1f}H{WIDTH - _RIGHT}"/>'
            f'<text x="{_LEFT - 6}" y="{y + 4:.1f}" text-anchor="end">'
            f"{escape(_tick(value, frame.step, currency))}</text>"
        )


def _tick(value: float, step: float, currency: str | None) -> str:
    needed = max(0, -floor(log10(step) + 1e-9))
    if currency is None:
        return f"{value:.{needed}f}"
    digits = minor_units().get(currency, 2)
    return f"{currency_sign(currency)}{value:,.{max(needed, digits)}f}"


def _years(frame: _Frame) -> Iterator[str]:
    """Yield the years along the foot, each second or fifth where there are many; or the months."""
    years = frame.last.year - frame.first.year
    every = 1 if years <= 9 else 2 if years <= 18 else 5
    marks = [
        (date(year, 1, 1), str(year))
        for year in range(frame.first.year, frame.last.year + 1)
        if year % every == 0 and date(year, 1, 1) >= frame.first
    ]
    if len(marks) < 2:
        marks = [(day, f"{day:%m}/{day:%Y}") for day in (frame.first, frame.last)]
    for day, words in marks:
        x = frame.x(day)
        yield (
            f'<path class="grid" d="M{x:.1f} {HEIGHT - _BOTTOM}v4"/>'
            f'<text x="{x:.1f}" y="{HEIGHT - 8}" text-anchor="middle">{words}</text>'
        )


def _line(frame: _Frame, line: Line, number: int) -> Iterator[str]:
    path, pen = "", "M"
    for day, value in line.points:
        if value is None:
            pen = "M"
            continue
        path += f"{pen}{frame.x(day):.1f} {frame.y(value):.1f}"
        pen = "L"
    if path:
        yield f'<path class="line line{number}" d="{path}"/>'


def _names(frame: _Frame, lines: Sequence[Line]) -> Iterator[str]:
    """Yield the name of each line beside its end, none over another."""
    ends = []
    for number, line in enumerate(lines):
        known = [value for _, value in line.points if value is not None]
        if known:
            ends.append((frame.y(known[-1]) + 4, number, line.name))
    below = -float("inf")
    for y, number, name in sorted(ends):
        below = max(y, below + _LEAST_APART)
        yield (
            f'<text class="name name{number}" x="{WIDTH - _RIGHT + 6}" y="{below:.1f}">'
            f"{escape(name)}</text>"
        )
