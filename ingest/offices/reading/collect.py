"""Gathers the values of each series of a file, by month, and lists what is wrong with any."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass, field
from datetime import date

from ingest.offices.reading.periods import Period, month_date, month_number
from ingest.problem_codes import Code
from ingest.report import Remark
from ingest.text.sentences import quoted
from pricing.errors import Problem

MISSING = frozenset({"", "-", "–", "—", ":", ".", "..", "...", "x", "X", "NaN", "nan", "NA", "N/A",
                     "n/a", "#N/A", "null", "m", "c"})  # fmt: skip
MOST_PROBLEMS = 200
RATES = "of rates, changes or weights"
OTHERS = "besides the food ladder; name those you want with --series"
UNNAMED = "besides those you named"
MANY_SERIES = 300  # of a file with more, only those of the food ladder are taken unasked
MOST_SERIES = 3000


@dataclass(kw_only=True)
class Gathered:
    """One series as the file has it. Months are counted from year 0."""

    series: str  # id with the office before the colon
    line: int  # where the file first speaks of it
    title: str | None = None
    classification: str | None = None
    seasonally_adjusted: bool | None = False
    base_label: str | None = None
    note: str | None = None
    released_on: date | None = None
    rung: str | None = None  # its place on the office's ladder
    context: str = ""  # the ladder it stands on: country, region, season
    below_rung: bool = False  # it has no place of its own: the rung is the next wider one
    monthly: dict[int, float] = field(default_factory=dict)
    quarterly: dict[int, float] = field(default_factory=dict)  # by first month
    lines: dict[int, int] = field(default_factory=dict)  # month or first month → physical line
    texts: dict[int, str] = field(default_factory=dict)  # the same → the value as published
    years: int = 0  # values of years or half-years, which are left out
    missing: int = 0
    repeats: int = 0

    @property
    def frequency(self) -> str:
        return "monthly" if self.monthly or not self.quarterly else "quarterly"

    def values(self) -> list[tuple[date, float, int, str]]:
        """Return (month, value, line, as published) by month; a quarter gives its three months."""
        if self.frequency == "monthly":
            return [
                (month_date(month), value, self.lines[month], self.texts[month])
                for month, value in sorted(self.monthly.items())
            ]
        return [
            (month_date(first + step), value, self.lines[first], self.texts[first])
            for first, value in sorted(self.quarterly.items())
            for step in range(3)
        ]


@dataclass(frozen=True, kw_only=True)
class Found:
    """What a reader made of one file."""

    series: tuple[Gathered, ...]
    problems: tuple[Problem, ...]
    remarks: tuple[str, ...]


class Collector:
    """Takes values in one by one, in any order."""

    def __init__(self, today: date, wanted: Collection[str] = ()) -> None:
        self.wanted = frozenset(each.casefold() for each in wanted)  # codes or ids asked for
        self.named = next(iter(wanted), "")  # the first of them as written
        self.series: dict[str, Gathered] = {}
        self.problems: list[Problem] = []
        self.remarks: list[str] = []
        self.left_out: Counter[str] = Counter()  # why → how many series
        self._this_month = month_number(today)

    def chosen(self, *names: str) -> bool:
        """Tell whether a series of these names is to be taken: all are, unless some were named."""
        return not self.wanted or any(name.casefold() in self.wanted for name in names)

    def gather(self, series: str, line: int) -> Gathered:
        """Return what is gathered of a series, from now on."""
        if series not in self.series:
            self.series[series] = Gathered(series=series, line=line)
        return self.series[series]

    def problem(
        self, line: int | None, column: str | None, found: str, expected: str, remedy: str
    ) -> None:
        self.problems.append(
            Problem(line=line, column=column, found=found, expected=expected, remedy=remedy)
        )

    @property
    def crowded(self) -> bool:
        """Whether so many series came unasked that only those of the food ladder are taken."""
        return not self.wanted and len(self.series) >= MANY_SERIES

    @property
    def hopeless(self) -> bool:
        """Whether so much is wrong that reading on says nothing new."""
        return len(self.problems) >= MOST_PROBLEMS

    def take(
        self, into: Gathered, period: Period, text: str, line: int, column: str | None,
        comma: bool = False,
    ) -> None:  # fmt: skip
        """Take the value of a period; `comma` reads a decimal comma."""
        frequency, first = period
        if frequency == "M":
            values = into.monthly
        elif frequency == "Q":
            values = into.quarterly
        else:
            into.years += 1
            return
        if text in MISSING:
            into.missing += 1
            return
        value = _number(text.replace(",", ".") if comma else text)
        if value is None or value <= 0 or first > self._this_month:
            self._refuse(into, first, text, value, line, column)
        elif first not in values:
            values[first] = value
            into.lines[first] = line
            into.texts[first] = text
        elif values[first] == value:
            into.repeats += 1
        else:
            self.problem(
                line,
                column,
                f"{text} for {month_date(first):%Y-%m} of {into.series} again",
                f"{into.texts[first]} as on line {into.lines[first]}: one value a month",
                "The file may hold two series in one, such as two regions or two reference "
                "periods: download one at a time.",
            )

    def _refuse(
        self, into: Gathered, first: int, text: str, value: float | None, line: int,
        column: str | None,
    ) -> None:  # fmt: skip
        month = f"{month_date(first):%Y-%m} of {into.series}"
        if value is None:
            comma = "," in text and _number(text.replace(",", ".")) is not None
            self.problem(
                line,
                column,
                f"{quoted(text)} for {month}",
                "an index value such as 128.4",
                "This is a decimal comma: download the file in English, or with decimal points."
                if comma
                else "Download the file again, and do not edit it.",
            )
        elif value <= 0:
            self.problem(
                line,
                column,
                f"{quoted(text)} for {month}",
                "an index value over 0",
                "A price index is never 0 or less. Some offices write 0 for a month they have not "
                "published; and a series of changes is a rate: download the index itself.",
            )
        else:
            self.problem(
                line,
                column,
                f"the month {month}, which is still to come",
                f"months up to {month_date(self._this_month):%Y-%m}",
                "Check the file: a forecast is no published index.",
            )

    def finish(self) -> Found:
        """Return what was gathered; series without a usable value are left out, with a remark."""
        self._keep_the_ladder()
        kept = []
        for each in self.series.values():
            if each.monthly or each.quarterly:
                kept.append(each)
            elif each.years:
                self.left_out["with values of years or half-years only"] += 1
            elif each.missing:
                self.left_out["without a single value"] += 1
        for why, many in self.left_out.items():
            code = Code.SERIES_LEFT_OUT if why == OTHERS else None
            self.remarks.append(Remark(f"{many:,} series {why}: left out.", code, many))
        return Found(series=tuple(kept), problems=tuple(self.problems), remarks=tuple(self.remarks))

    def _keep_the_ladder(self) -> None:
        """Of a file with many series, drop those that are not on the food ladder."""
        if not self.crowded:
            return
        others = [series for series, each in self.series.items() if each.rung is None]
        if len(others) == len(self.series) or len(self.series) - len(others) > MOST_SERIES:
            self.problems.append(
                Problem(
                    line=None,
                    column=None,
                    found=f"more than {MANY_SERIES} series",
                    expected="a file of those you want, or their names",
                    remedy="Name series, items or a country with --series, once for each.",
                    code=Code.MANY_SERIES,
                )
            )
        for series in others:
            del self.series[series]
            self.left_out[OTHERS] += 1


def _number(text: str) -> float | None:
    """Return a plain decimal as a float; None for anything else, `1_000` and `inf` among it."""
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) and "_" not in text else None
