"""Reads what Statistics Canada publishes: the long CSV of a table, and the JSON of its vectors.

Layout (header and rows seen in published code, 2026): REF_DATE, GEO, DGUID, the table's own
dimensions, UOM (which names the reference period), …, VECTOR, COORDINATE, VALUE, STATUS, SYMBOL,
TERMINATED, DECIMALS; UTF-8 with a byte order mark.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ingest.offices.facts.ladders import ladder, rung
from ingest.offices.reading.collect import (
    MANY_SERIES,
    OTHERS,
    RATES,
    UNNAMED,
    Collector,
    Gathered,
)
from ingest.offices.reading.csv_rows import csv_rows, refuse_header, refuse_width
from ingest.offices.reading.periods import Period, day_in, read_period
from ingest.offices.reading.source import Source
from ingest.offices.reading.wording import base_label, is_adjusted, is_price, is_rate
from ingest.text.sentences import quoted

NAME = "Statistics Canada"
_ENGLISH = ("REF_DATE", "GEO", "UOM", "VECTOR", "VALUE")
_FRENCH = "PÉRIODE DE RÉFÉRENCE"
_ADJUSTED_TABLE = "18100006"


def recognises(head: str) -> bool:
    """Tell whether a text is a StatCan table (in English or French) or an answer about vectors."""
    if head.lstrip().startswith(("[", "{")):
        return '"vectorDataPoint"' in head
    first = head.split("\n", 1)[0]
    return all(name in first for name in _ENGLISH) or _FRENCH in first.upper()


def read(source: Source, collector: Collector) -> None:
    """Read the index series of the file into the collector."""
    if source.is_json:
        _read_json(source, collector)
    elif _FRENCH in source.head.split("\n", 1)[0].upper():
        collector.problem(
            1, None, "the French edition of the table, with decimal commas", "the English one",
            "Download the table again in English (its file name ends in -eng).",
        )  # fmt: skip
    else:
        _read_table(source, collector)


def _read_table(source: Source, collector: Collector) -> None:
    with source.lines() as lines:
        rows = csv_rows(lines, collector)
        _, header = next(rows, (0, []))
        at = {name.strip(): place for place, name in enumerate(header)}
        if not all(name in at for name in _ENGLISH):
            refuse_header(collector)
            return
        own = range(at.get("DGUID", at["GEO"]) + 1, at["UOM"])  # the table's own dimensions
        known: dict[str, Gathered | None] = {}
        periods: dict[str, Period | None] = {}
        vector_at, value_at, period_at = at["VECTOR"], at["VALUE"], at["REF_DATE"]
        for line, row in rows:
            if len(row) != len(header):
                if row:
                    refuse_width(row, len(header), line, collector)
                continue
            vector = row[vector_at]
            if vector not in known:
                known[vector] = _begin(row, at, own, collector, line, source.name)
            into = known[vector]
            if into is None:
                continue
            text = row[period_at]
            if text not in periods:
                periods[text] = read_period(text)
            period = periods[text]
            if period is None:
                collector.problem(line, "REF_DATE", quoted(text), "a month such as 2026-08",
                                  "Download the file again.")  # fmt: skip
            else:
                collector.take(into, period, row[value_at].strip(), line, "VALUE")
            if collector.hopeless:
                return
    if len(collector.series) >= MANY_SERIES:  # of a whole table, the ladder of Canada is meant
        for each in collector.series.values():
            each.rung = each.rung if each.context == "Canada" else None


def _begin(
    row: Sequence[str], at: dict[str, int], own: Sequence[int], collector: Collector, line: int,
    name: str,
) -> Gathered | None:  # fmt: skip
    vector, unit, area = row[at["VECTOR"]].strip(), row[at["UOM"]].strip(), row[at["GEO"]].strip()
    item = ", ".join(row[place].strip() for place in own)
    if is_rate(unit) or is_rate(item):
        collector.left_out[RATES] += 1
        return None
    if not collector.chosen(f"ca-statcan:{vector}", vector, vector.lstrip("v"), item):
        collector.left_out[UNNAMED] += 1
        return None
    place = rung("ca-statcan", item)
    food = place is not None and area == "Canada"
    if collector.crowded and not food:
        collector.left_out[OTHERS] += 1
        return None
    made = collector.gather(f"ca-statcan:{vector}", line)
    made.title = f"{item}, {area}"
    made.classification = "Canadian CPI product classification"
    made.seasonally_adjusted = is_adjusted(item) or _ADJUSTED_TABLE in name.replace("-", "")
    made.base_label = base_label(unit)
    if is_price(unit):
        made.note = f"average price in {unit.lower()}, not an index"
    made.rung = place.key if place else None
    made.context = area
    return made


def _read_json(source: Source, collector: Collector) -> None:
    found: Any = source.json()
    names = {each.code: each for each in ladder("ca-statcan").values() if each.code}
    for answer in found if isinstance(found, list) else [found]:
        about = answer.get("object") if isinstance(answer, dict) else None
        if not isinstance(about, dict) or answer.get("status") != "SUCCESS":
            collector.problem(None, None, f"a refusal by the office ({quoted(str(about))})",
                              "an answer with values", "Check the vector numbers.")  # fmt: skip
            continue
        number = str(about.get("vectorId"))
        if not collector.chosen(f"ca-statcan:v{number}", f"v{number}", number):
            continue
        made = collector.gather(f"ca-statcan:v{number}", 1)
        place = names.get(number)
        made.title = f"{place.key}, Canada" if place else None
        made.classification = "Canadian CPI product classification" if place else None
        made.rung, made.context = (place.key, "Canada") if place else (None, "")
        for point in about.get("vectorDataPoint") or ():
            period = read_period(str(point.get("refPer", "")))
            value = point.get("value")
            if period is not None and point.get("frequencyCode", 6) == 6:
                collector.take(made, period, "" if value is None else str(value), 1, "value")
            day = day_in(point.get("releaseTime"))
            if day and (made.released_on is None or day > made.released_on):
                made.released_on = day
