"""Says what the codes of one series of a table mean: index or not, of what, of where."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from ingest.offices.facts.ladders import Rung, area_names, rung
from ingest.offices.facts.offices import Flow
from ingest.offices.reading.collect import (
    OTHERS,
    RATES,
    UNNAMED,
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


@dataclass(frozen=True, kw_only=True)
class Coded:
    """One series of a table, as its codes say."""

    flow: Flow
    codes: Mapping[str, str]  # by dimension, without time
    labels: Mapping[str, str]  # by dimension; words for codes
    line: int  # where the file first speaks of it
    office: str | None = None  # before the id, where the flow does not say
    prefix: str = ""  # before the codes in the id
    title: str | None = None
    released_on: date | None = None

    @property
    def dims(self) -> tuple[str, ...]:
        """The dimensions that make the id."""
        named = self.flow.id or tuple(self.codes)
        return tuple(dim for dim in named if dim in self.codes)

    @property
    def item(self) -> str | None:
        """The code of what it is the price of."""
        return self.codes.get(self.flow.item or "")

    @property
    def area(self) -> str | None:
        """The code of where."""
        return self.codes.get(self.flow.area or "")


def series_of(collector: Collector, coded: Coded) -> Gathered | None:
    """Return where the values of these codes go; None for a series that is not to be taken.

    A series that would share its id with another is a problem.
    """
    flow, codes, labels = coded.flow, coded.codes, coded.labels
    if not _is_index(flow, codes, labels):
        collector.left_out[RATES] += 1
        return None
    key = coded.prefix + ".".join(codes[dim] for dim in coded.dims)
    series = f"{coded.office or flow.office}:{key}"
    if not collector.chosen(series, key, coded.item or key, coded.area or key):
        collector.left_out[UNNAMED] += 1
        return None
    place = rung(flow.office, _rung_key(flow, codes, labels))
    if collector.crowded and place is None:
        collector.left_out[OTHERS] += 1
        return None
    if series in collector.series:
        _refuse_shared(collector, collector.series[series], codes, coded.line)
        return collector.series[series]
    made = collector.gather(series, coded.line)
    made.title = coded.title or _title(coded, place)
    made.classification = flow.classification
    made.seasonally_adjusted = _adjusted(flow, codes, labels)
    made.base_label = _base(flow, codes, labels)
    made.released_on = coded.released_on
    made.rung = place.key if place else None
    made.context = ".".join(codes[dim] for dim in coded.dims if dim != flow.item)
    return made


def _title(coded: Coded, place: Rung | None) -> str | None:
    """Return the words for item and area, or else all the words there are."""
    labels = coded.labels
    item = labels.get(coded.flow.item or "") or (place.title if place else None) or coded.item
    area = labels.get(coded.flow.area or "") or area_names().get(coded.area or "") or coded.area
    words = [without_base(each) for each in (item, area) if each]
    return ", ".join(words) or " ".join(labels.values()) or None


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
    collector: Collector, first: Gathered, codes: Mapping[str, str], line: int
) -> None:
    collector.problem(
        line,
        None,
        f"a second series for {first.series}: {other_codes(codes)}",
        f"one series of that name, as from line {first.line}",
        "Download one unit and one region at a time: two reference periods are not mixed.",
    )
