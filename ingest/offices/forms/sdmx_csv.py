"""Reads SDMX-CSV 1.0, 2.0 and 2.1, with or without labels: Eurostat, ABS, OECD, IMF, ECB.

Format: github.com/sdmx-twg/sdmx-csv, field guides of 1.0 (2018) and 2.0/2.1 (2023, 2025).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from operator import itemgetter

from ingest.offices.facts.offices import UNKNOWN_FLOW, Flow, flow_named
from ingest.offices.reading.codes import Coded, series_of
from ingest.offices.reading.collect import Collector, Gathered
from ingest.offices.reading.csv_rows import csv_rows, refuse_header, refuse_width
from ingest.offices.reading.periods import Period, read_period
from ingest.offices.reading.source import Source
from ingest.text.sentences import counted, quoted

NAME = "SDMX-CSV"
_START = re.compile(r'"?(?:DATAFLOW|STRUCTURE(?:\[.?\])?|KEY)"?(?::[^,;]*)?([,;])')
_RESERVED = re.compile(
    r"DATAFLOW|STRUCTURE.*|ACTION|LAST UPDATE|TIME_PERIOD|OBS_.*|CONF_STATUS|UNIT_MULT|DECIMALS|"
    r"BASE_PER(?:IOD)?|SERIES_KEY|TITLE.*|COMMENT.*|COLLECTION|COMPILATION|DOM_SER_IDS|EMBARGO.*|"
    r"PRE_BREAK_VALUE|TIME_FORMAT|DISS_ORG|PUBL_.*|UNIT_INDEX_BASE|UNIT"
)
_FIXED = ("STRUCTURE", "STRUCTURE_ID", "STRUCTURE_NAME", "ACTION", "SERIES_KEY", "OBS_KEY")
_WORDS = ("UNIT_MEASURE", "TITLE", "TITLE_COMPL", "UNIT_INDEX_BASE")  # attributes with words


def recognises(head: str) -> bool:
    """Tell whether a text is an SDMX-CSV: its first cell and a TIME_PERIOD column say so."""
    first = head.split("\n", 1)[0]
    return _START.match(first) is not None and "TIME_PERIOD" in first and "OBS_VALUE" in first


@dataclass(frozen=True, kw_only=True)
class Layout:
    """Where things stand in a row."""

    width: int
    dims: tuple[tuple[str, int], ...]  # dimension → place of its code
    labels: tuple[tuple[str, int], ...]  # column → place of its label
    flow: int
    period: int
    value: int
    action: int | None
    updated: int | None
    base: int | None
    flag: int | None


def read(source: Source, collector: Collector) -> None:
    """Read every index series of the file into the collector, row by row."""
    mark = _START.match(source.head)
    delimiter = mark[1] if mark else ","
    with source.lines() as lines:
        rows = csv_rows(lines, collector, delimiter)
        _, header = next(rows, (0, []))
        layout = _layout(header)
        if layout is None:
            refuse_header(collector)
        else:
            _read_rows(rows, layout, collector, comma=delimiter == ";")


def _layout(header: Sequence[str]) -> Layout | None:
    """Return where things stand, or None when period or value stand nowhere."""
    ids = [re.sub(r"\[.*?\]", "", cell.split(": ", 1)[0]).strip() for cell in header]
    paired = "STRUCTURE_NAME" in ids
    places: dict[str, int] = {}
    labels: list[tuple[str, int]] = []
    place = 0
    while place < len(ids):
        name = ids[place]
        places.setdefault(name, place)
        place += 1
        if paired and name not in _FIXED and place < len(ids):  # the label stands behind its code
            labels.append((name, place))
            place += 1
    if not {"TIME_PERIOD", "OBS_VALUE"} <= places.keys():
        return None
    dims = tuple(
        (name, at) for name, at in places.items() if name and not _RESERVED.fullmatch(name)
    )
    words = tuple((name, at) for name, at in places.items() if name in _WORDS)
    return Layout(
        width=len(ids),
        dims=dims,
        labels=tuple(labels) or words,
        flow=places.get("STRUCTURE_ID", places.get("DATAFLOW", places.get("KEY", 0))),
        period=places["TIME_PERIOD"],
        value=places["OBS_VALUE"],
        action=places.get("ACTION"),
        updated=places.get("LAST UPDATE"),
        base=next((places[each] for each in ("BASE_PERIOD", "BASE_PER") if each in places), None),
        flag=next((places[each] for each in ("OBS_FLAG", "OBS_STATUS") if each in places), None),
    )


def _read_rows(
    rows: Iterator[tuple[int, list[str]]], layout: Layout, collector: Collector, *, comma: bool
) -> None:
    known: dict[tuple[str, ...], Gathered | None] = {}
    periods: dict[str, Period | None] = {}
    flags: Counter[str] = Counter()
    places = [layout.flow, *(at for _, at in layout.dims)]
    key_of = itemgetter(*places) if len(places) > 1 else lambda row: (row[places[0]],)
    for line, row in rows:
        if len(row) != layout.width:
            if row:
                refuse_width(row, layout.width, line, collector)
                if collector.hopeless:
                    return
            continue
        key = key_of(row)
        if key in known:
            into = known[key]
        else:
            into = known[key] = _begin(row, layout, collector, line)
        if into is None:
            continue
        text = row[layout.period].split(": ", 1)[0]
        if text not in periods:
            periods[text] = read_period(text)
        period = periods[text]
        if period is None:
            if text:
                _refuse_period(collector, line, text)
        elif layout.action is None or not row[layout.action].startswith("D"):
            if layout.flag is not None and row[layout.flag]:
                flags[row[layout.flag].split(": ", 1)[0]] += 1
            collector.take(into, period, row[layout.value].strip(), line, "OBS_VALUE", comma)
        if collector.hopeless:
            return
    if flags:
        said = ", ".join(f"{flag} {counted(many, 'time')}" for flag, many in sorted(flags.items()))
        collector.remarks.append(f"The office marked values: {said}.")


def _begin(row: Sequence[str], layout: Layout, collector: Collector, line: int) -> Gathered | None:
    """Return where the values of a new combination of codes go."""
    codes, labels = {}, {}
    for name, at in layout.dims:
        code, _, label = row[at].partition(": ")
        codes[name] = code.strip()
        if label:
            labels[name] = label.strip()
    labels |= {name: row[at].strip() for name, at in layout.labels if row[at].strip()}
    if not any(codes.values()):  # a row about the whole table
        return None
    flow, prefix = _flow(row[layout.flow], codes)
    if layout.base is not None and row[layout.base] and not _has_base(labels):
        base = row[layout.base].partition(": ")
        labels["BASE_PERIOD"] = base[2] or (f"{base[0]}=100" if len(base[0]) == 4 else base[0])
    coded = Coded(
        flow=flow,
        codes=codes,
        labels=labels,
        line=line,
        prefix=prefix,
        title=labels.get("TITLE_COMPL") or labels.get("TITLE"),
        released_on=_released(row[layout.updated]) if layout.updated is not None else None,
    )
    return series_of(collector, coded)


def _has_base(labels: dict[str, str]) -> bool:
    return bool(labels.get("BASE_PERIOD") or labels.get("BASE_PER"))


def _flow(name: str, codes: dict[str, str]) -> tuple[Flow, str]:
    """Return the described table, or an unknown one and what stands before its ids."""
    name = name.split(": ", 1)[0].strip()
    if "KEY" in codes:  # the ECB's own header: the key begins with the table
        name = f"ECB:{codes['KEY'].split('.', 1)[0]}"
    flow = flow_named(name)
    return flow, f"{re.sub(r'[(].*', '', name)}." if flow is UNKNOWN_FLOW else ""


def _released(text: str) -> date | None:
    """Return the day of Eurostat's LAST UPDATE, day first: 02/10/26 11:00:00."""
    found = re.match(r"(\d{2})/(\d{2})/(\d{2})\b", text)
    try:
        return date(2000 + int(found[3]), int(found[2]), int(found[1])) if found else None
    except ValueError:
        return None


def _refuse_period(collector: Collector, line: int, text: str) -> None:
    collector.problem(
        line, "TIME_PERIOD", quoted(text), "a month, quarter or year such as 2026-08 or 2026-Q2",
        "Download the file again, and do not edit it.",
    )  # fmt: skip
