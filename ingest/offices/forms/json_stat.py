"""Reads JSON-stat 2.0 as Eurostat and the PxWeb and PxStat offices send it.

Format: json-stat.org; values are in row-major order, the last dimension fastest, as an array or as
an object keyed by place, in which a missing cell is an absent key or null.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product
from typing import Any

from ingest.offices.facts.offices import UNKNOWN_FLOW, flow_with, json_stat_office
from ingest.offices.reading.codes import Coded, series_of
from ingest.offices.reading.collect import RATES, Collector, Gathered
from ingest.offices.reading.periods import Period, day_in, read_period
from ingest.offices.reading.source import Source
from ingest.offices.reading.wording import is_rate

NAME = "JSON-stat"
_TIME = re.compile(r"time|tid|tlist\(.*\)|year|month|quarter|time_period|period", re.IGNORECASE)


def recognises(head: str) -> bool:
    """Tell whether a text is a JSON-stat dataset."""
    return head.lstrip().startswith("{") and (
        re.search(r'"class"\s*:\s*"dataset"', head) is not None
        or ('"dimension"' in head and '"size"' in head)
    )


def read(source: Source, collector: Collector) -> None:
    """Read every index series of the file into the collector."""
    found = source.json()
    for problem in _shape(found):
        collector.problem(None, None, problem, "a JSON-stat 2.0 dataset with values",
                          "Ask for JSON-stat 2.0; the code or the dates asked for may be "
                          "wrong.")  # fmt: skip
        return
    _Table(found, collector).read()


def _shape(found: Any) -> Iterator[str]:
    """Yield what keeps the JSON from being a table with values."""
    if not isinstance(found, dict) or not isinstance(found.get("dimension"), dict):
        yield "JSON without dimensions"
    elif not isinstance(found.get("id"), list) or not isinstance(found.get("size"), list):
        yield "JSON-stat of an older version (no 'id' and 'size' at its top)"
    elif not isinstance(found.get("value"), (list, dict)) or not found["value"]:
        yield "a table without a single value"
    else:
        missing = [dim for dim in found["id"] if dim not in found["dimension"]]
        if missing or len(found["id"]) != len(found["size"]):
            yield f"dimensions that do not agree ({', '.join(map(str, missing)) or 'sizes'})"


class _Table:
    """One dataset, its dimensions taken apart."""

    def __init__(self, found: Mapping[str, Any], collector: Collector) -> None:
        self.found, self.collector = found, collector
        self.dims: list[str] = list(found["id"])
        self.size: list[int] = [int(each) for each in found["size"]]
        self.codes = {dim: _codes(found["dimension"][dim]) for dim in self.dims}
        self.labels: dict[str, Mapping[str, str]] = {
            dim: found["dimension"][dim].get("category", {}).get("label", {}) for dim in self.dims
        }
        roles = found.get("role") or {}
        named = [dim for dim in roles.get("time", []) if dim in self.dims]
        self.time = next(iter(named or [dim for dim in self.dims if _TIME.fullmatch(dim)]), None)
        self.metric = [dim for dim in roles.get("metric", []) if dim in self.dims]

    def read(self) -> None:
        wrong = [
            dim
            for dim, size in zip(self.dims, self.size, strict=True)
            if len(self.codes[dim]) != size
        ]
        if self.time is None or wrong:
            self.collector.problem(
                None, None,
                f"the dimension {wrong[0]} with another number of codes than its size"
                if wrong else "no dimension of time",
                "a JSON-stat 2.0 dataset by month", "Download it again, with its months.",
            )  # fmt: skip
            return
        periods = self._periods()
        strides = _strides(self.size)
        time_at = self.dims.index(self.time)
        others = [dim for dim in self.dims if dim != self.time]
        for combination in product(*(enumerate(self.codes[dim]) for dim in others)):
            codes = dict(zip(others, (code for _, code in combination), strict=True))
            start = sum(
                place * strides[self.dims.index(dim)]
                for dim, (place, _) in zip(others, combination, strict=True)
            )
            cells = [start + step * strides[time_at] for step in range(len(periods))]
            into = self._begin(codes)
            if into is not None:
                self._take(into, periods, cells)
            if self.collector.hopeless:
                return

    def _periods(self) -> list[Period | None]:
        assert self.time is not None
        labels, found = self.labels[self.time], []
        for code in self.codes[self.time]:
            # PxStat codes a month as 202608 and labels it 2026 August
            period = read_period(str(labels.get(code, code))) or read_period(code)
            if period is None and re.fullmatch(r"\d{6}", code):
                period = read_period(f"{code[:4]}-{code[4:]}")
            if period is None:
                self.collector.problem(
                    None, self.time, f"the period '{code}'", "a month, quarter or year",
                    "Download the table by month.",
                )  # fmt: skip
            found.append(period)
        return found

    def _begin(self, codes: dict[str, str]) -> Gathered | None:
        labels = {
            dim: str(self.labels[dim][code]) for dim, code in codes.items()
            if code in self.labels[dim]
        }  # fmt: skip
        flow = flow_with(tuple(codes))
        office, prefix = None, ""
        if flow is None:
            office = json_stat_office(self._says())
            prefix = self._table_name()
            flow = UNKNOWN_FLOW
            metric = [dim for dim in self.metric if dim in codes]
            if metric:  # only what is measured tells a rate; an item may be "Interest rates"
                words = " ".join(labels.get(dim, "") for dim in metric)
                if is_rate(words):
                    self.collector.left_out[RATES] += 1
                    return None
                flow = replace(flow, index={metric[0]: tuple(self.codes[metric[0]])})
            if "label" in self.found:
                labels.setdefault("table", str(self.found["label"]))
        coded = Coded(
            flow=flow,
            codes=codes,
            labels=labels,
            line=1,
            office=office,
            prefix=prefix,
            title=_title(labels, self.metric) if office else None,
            released_on=day_in(self.found.get("updated")),
        )
        return series_of(self.collector, coded)

    def _take(self, into: Gathered, periods: Sequence[Period | None], cells: Sequence[int]) -> None:
        values = self.found["value"]
        for period, cell in zip(periods, cells, strict=True):
            if isinstance(values, list):
                value = values[cell] if cell < len(values) else None
            else:
                value = values.get(str(cell))
            if period is not None:
                text = "" if value is None else str(value)
                self.collector.take(into, period, text, 1, self.time)

    def _says(self) -> str:
        extension = self.found.get("extension") or {}
        return f"{self.found.get('source', '')} {json.dumps(extension, ensure_ascii=False)[:4000]}"

    def _table_name(self) -> str:
        extension = self.found.get("extension") or {}
        px = extension.get("px") if isinstance(extension.get("px"), dict) else {}
        name = extension.get("matrix") or extension.get("id") or (px or {}).get("tableid")
        return f"{name}." if name else ""


def _codes(dimension: Mapping[str, Any]) -> list[str]:
    """Return a dimension's codes in order: from a list, an object, or its one label."""
    category = dimension.get("category", {})
    index = category.get("index")
    if isinstance(index, dict):
        return [str(code) for code, _ in sorted(index.items(), key=lambda each: each[1])]
    if isinstance(index, list):
        return [str(code) for code in index]
    return [str(code) for code in category.get("label", {})]


def _strides(size: Sequence[int]) -> list[int]:
    """Return how far apart two neighbours of each dimension stand.

    >>> _strides([2, 3, 4])
    [12, 4, 1]
    """
    strides = [1] * len(size)
    for place in range(len(size) - 2, -1, -1):
        strides[place] = strides[place + 1] * size[place + 1]
    return strides


def _title(labels: Mapping[str, str], metric: Sequence[str]) -> str:
    words = [label for dim, label in labels.items() if dim != "table" and dim not in metric]
    return ", ".join(words) or labels.get("table", "")
