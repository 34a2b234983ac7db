"""Reads what the U.S. Bureau of Labor Statistics sends: JSON of its API, and its flat files.

Layouts: bls.gov/developers (API version 2) and the tab-separated files of pub/time.series. Rows of
years (M13) and half-years (S01 to S03) are means and never enter a monthly series.
"""

from __future__ import annotations

import re
from typing import Any

from ingest.offices.facts.ladders import rung
from ingest.offices.reading.collect import OTHERS, UNNAMED, Collector, Gathered
from ingest.offices.reading.periods import read_bls
from ingest.offices.reading.source import Source
from ingest.problem_codes import Code
from ingest.text.sentences import counted, quoted
from pricing.errors import Problem

NAME = "BLS"
_ID = re.compile(r"(CU|CW|SU)([SU])([RS])(\w{4})(\w+)")  # consumer prices
_PRICES = re.compile(r"(CU|CW|SU|AP|WP|PC|EI|ND|WD)\w+")  # surveys of prices
_CLASSIFICATION = "BLS CPI item structure (1998 revision)"


def recognises(head: str) -> bool:
    """Tell whether a text is a BLS answer or flat file."""
    if head.lstrip().startswith("{"):
        return '"Results"' in head and '"status"' in head and "REQUEST_" in head
    first = [cell.strip() for cell in head.split("\n", 1)[0].split("\t")]
    return first[:4] == ["series_id", "year", "period", "value"]


def read(source: Source, collector: Collector) -> None:
    """Read the index series of the file into the collector."""
    if source.is_json:
        _read_json(source, collector)
    else:
        _read_flat(source, collector)


def own_id(series_id: str) -> str:
    """Return the book's id of a BLS series: the item alone for the bundled kind.

    >>> own_id("CUUR0000SEFH"), own_id("CUSR0000SAF11")
    ('us-bls:SEFH', 'us-bls:CUSR0000SAF11')
    """
    found = _ID.fullmatch(series_id)
    plain = found and found[1] + found[2] + found[3] + found[4] == "CUUR0000"
    return f"us-bls:{found[5] if found and plain else series_id}"


def _begin(series_id: str, line: int, collector: Collector, title: str | None) -> Gathered | None:
    series = own_id(series_id)
    if not collector.chosen(series, series_id, series.partition(":")[2]):
        collector.left_out[UNNAMED] += 1
        return None
    if not _PRICES.fullmatch(series_id):
        collector.problem(
            line, "series_id", quoted(series_id), "a series of prices, such as CUUR0000SAF1",
            "This is a series of another survey of the office; name the price index.",
        )  # fmt: skip
        return None
    found = _ID.fullmatch(series_id)
    place = rung("us-bls", found[5]) if found else None
    bundled = place is not None and series == f"us-bls:{place.key}"
    if collector.crowded and not bundled:
        collector.left_out[OTHERS] += 1
        return None
    made = collector.gather(series, line)
    area = f"area {found[4]}".replace("area 0000", "US city average") if found else ""
    made.title = title or ", ".join(filter(None, (place.title if place else series_id, area)))
    made.classification = _CLASSIFICATION if found else None
    made.seasonally_adjusted = found[2] == "S" if found else None
    if found and found[3] == "S":
        collector.left_out["of half-years"] += 1
    made.rung = place.key if bundled and place else None
    return made


def _read_json(source: Source, collector: Collector) -> None:
    found = source.json()
    said = "; ".join(map(str, found.get("message") or ()))
    if found.get("status") != "REQUEST_SUCCEEDED":
        collector.problem(None, None, f"a refusal by the office ({said or found.get('status')})",
                          "an answer with values", "Ask again later, or with a key.")  # fmt: skip
        return
    results: Any = found.get("Results") or {}
    if isinstance(results, list):
        results = results[0] if results else {}
    for each in results.get("series", ()):
        series_id = str(each.get("seriesID", "")).strip()
        catalogue = each.get("catalog") or {}
        into = _begin(series_id, 1, collector, catalogue.get("series_title"))
        if into is None:
            continue
        if not each.get("data"):
            collector.problems.append(_no_value(series_id, into.series, said))
        for point in each.get("data", ()):
            _take(into, str(point.get("year")), str(point.get("period")),
                  str(point.get("value", "")), 1, collector)  # fmt: skip


def _no_value(series_id: str, series: str, said: str) -> Problem:
    return Problem(
        line=None,
        column=None,
        found=f"no value of {series_id} ({said or 'no reason given'})",
        expected="a series with values in these years",
        remedy="Check the identifier and the years.",
        code=Code.NO_VALUE,
        series=series,
    )


def _read_flat(source: Source, collector: Collector) -> None:
    known: dict[str, Gathered | None] = {}
    with source.lines() as lines:
        next(lines)
        for number, text in enumerate(lines, start=2):
            cells = [cell.strip() for cell in text.split("\t")]
            if len(cells) < 4:
                if any(cells):
                    collector.problem(
                        number, None, counted(len(cells), "cell"), "series, year, period and value",
                        "The file may be cut off: download it again.",
                    )  # fmt: skip
                continue
            series_id, year, period, value = cells[:4]
            if series_id not in known:
                known[series_id] = _begin(series_id, number, collector, None)
            into = known[series_id]
            if into is not None:
                _take(into, year, period, value, number, collector)
            if collector.hopeless:
                return


def _take(
    into: Gathered, year: str, period: str, value: str, line: int, collector: Collector
) -> None:
    found = read_bls(year, period)
    if found is None:
        collector.problem(line, "period", quoted(f"{year} {period}"),
                          "a year and a period such as 2026 M08",
                          "Download the file again, and do not edit it.")  # fmt: skip
    else:
        collector.take(into, found, value.strip(), line, "value")
