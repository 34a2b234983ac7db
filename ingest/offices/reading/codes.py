"""Says what the codes of one series of a table mean: index or not, of what, of where."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from ingest.offices.facts.ladders import area_names, rung
from ingest.offices.facts.offices import Flow
from ingest.offices.reading.collect import (
    MANY_SERIES,
    OTHERS,
    RATES,
    Collector,
    Gathered,
)
from ingest.offices.reading.wording import (
    RATE_CODES,
    base_label,
    is_adjusted,
    is_rate,
    without_base,
)


def series_of(
    collector: Collector,
    flow: Flow,
    codes: Mapping[str, str],
    labels: Mapping[str, str],
    *,
    line: int,
    office: str | None = None,
    prefix: str = "",
    title: str | None = None,
    released_on: date | None = None,
) -> Gathered | None:
    """Return where the values of these codes go; None for a series that is not to be taken.

    `codes` and `labels` are by dimension, without time. `office` and `prefix` stand before the id
    where the flow does not say. A series that would share its id with another is a problem.
    """
    if not _is_index(flow, codes, labels):
        collector.left_out[RATES] += 1
        return None
    named = flow.id or tuple(codes)
    key = prefix + ".".join(codes[dim] for dim in named if dim in codes)
    series = f"{office or flow.office}:{key}"
    item, area = codes.get(flow.item or ""), codes.get(flow.area or "")
    if not collector.chosen(series, key, item or key, area or key):
        collector.left_out["besides those you named"] += 1
        return None
    place = rung(flow.office, _rung_key(flow, codes, labels))
    if place is None and not collector.wanted and len(collector.series) >= MANY_SERIES:
        collector.left_out[OTHERS] += 1
        return None
    if series in collector.series:
        _refuse_shared(collector, collector.series[series], codes, line)
        return collector.series[series]
    made = collector.gather(series, line)
    item_words = labels.get(flow.item or "") or (place.title if place else None) or item
    area_words = labels.get(flow.area or "") or area_names().get(area or "") or area
    words = [without_base(each) for each in (item_words, area_words) if each]
    made.title = title or ", ".join(words) or (" ".join(labels.values()) or None)
    made.classification = flow.classification
    made.seasonally_adjusted = _adjusted(flow, codes, labels)
    made.base_label = _base(flow, codes, labels)
    made.released_on = released_on
    made.rung = place.key if place else None
    made.context = ".".join(codes[dim] for dim in named if dim in codes and dim != flow.item)
    return made


def other_codes(codes: Mapping[str, str]) -> str:
    """Return codes in words: unit I15, geo IE."""
    return ", ".join(f"{dim} {code}" for dim, code in codes.items())


def _rung_key(flow: Flow, codes: Mapping[str, str], labels: Mapping[str, str]) -> str | None:
    """Return the key to look for on the ladder: a code, or the label where keys are names."""
    if flow.item is None:
        return None
    label = labels.get(flow.item)
    return label if label and rung(flow.office, label) else codes.get(flow.item)


def _is_index(flow: Flow, codes: Mapping[str, str], labels: Mapping[str, str]) -> bool:
    for dim, allowed in flow.index.items():
        if dim in codes and codes[dim] not in allowed:
            return False
    if flow.index:
        return True
    return not RATE_CODES & set(codes.values()) and not any(map(is_rate, labels.values()))


def _adjusted(flow: Flow, codes: Mapping[str, str], labels: Mapping[str, str]) -> bool:
    if flow.adjusted:
        return any(codes.get(dim) in yes for dim, yes in flow.adjusted.items())
    return any(map(is_adjusted, labels.values()))


def _base(flow: Flow, codes: Mapping[str, str], labels: Mapping[str, str]) -> str | None:
    for dim, meaning in flow.base.items():
        if codes.get(dim) in meaning:
            return meaning[codes[dim]]
    return next(filter(None, map(base_label, labels.values())), None)


def _refuse_shared(
    collector: Collector, held: Gathered, codes: Mapping[str, str], line: int
) -> None:
    collector.problem(
        line,
        None,
        f"a second series for {held.series}: {other_codes(codes)}",
        f"one series of that name, as from line {held.line}",
        "Download one unit and one region at a time: two reference periods are not mixed.",
    )
