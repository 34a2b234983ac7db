"""Reads what `sources.toml` says of each statistics office and its tables."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any

from pricing.errors import UnknownName
from pricing.names import nearest


@dataclass(frozen=True, kw_only=True)
class Office:
    """One publisher of price indices."""

    key: str  # the first part of its series ids, e.g. uk-ons
    name: str
    licence: str | None
    currency: str | None = None  # in which people there pay; None: of several countries
    hosts: tuple[str, ...] = ()  # that may be asked; none: only files of a user's own
    url: str | None = None
    ids: str | None = None  # what a series is asked by, in words
    accept: str | None = None  # MIME type to ask for
    largest_bytes: int = 64 * 1024 * 1024  # of one answer
    pause_seconds: float = 1.0  # between two requests
    first_year: int | None = None  # its series begin then; None: it is asked for recent years only
    facts: Mapping[str, Any] = field(default_factory=dict)  # as in the file


@dataclass(frozen=True, kw_only=True)
class Flow:
    """What the codes of one table mean."""

    office: str
    classification: str | None
    id: tuple[str, ...]  # dimensions that make the series id; empty: all
    item: str | None
    area: str | None
    frequency: str | None
    index: Mapping[str, tuple[str, ...]]  # dimension → codes that mean an index
    base: Mapping[str, Mapping[str, str]]  # dimension → code → index reference period
    adjusted: Mapping[str, tuple[str, ...]]  # dimension → codes that mean seasonally adjusted
    match: str = ""
    dims: tuple[str, ...] = ()


@cache
def _facts() -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath("sources.toml").read_text("utf-8"))


@cache
def offices() -> dict[str, Office]:
    """Return every office by its key."""
    return {
        key: Office(
            key=key,
            name=facts["name"],
            licence=facts.get("licence"),
            currency=facts.get("currency"),
            hosts=tuple(facts.get("hosts", ())),
            url=facts.get("url"),
            ids=facts.get("ids"),
            accept=facts.get("accept"),
            largest_bytes=int(facts.get("largest_mb", 64)) * 1024 * 1024,
            pause_seconds=float(facts.get("pause_seconds", 1.0)),
            first_year=facts.get("first_year"),
            facts=facts,
        )
        for key, facts in _facts()["office"].items()
    }


def office_of(series: str) -> Office | None:
    """Return the office that a series id names, or None for a series of a user's own."""
    return offices().get(series.partition(":")[0])


def fetchable(key: str) -> Office:
    """Return an office that can be asked over the net. Raises UnknownName."""
    known = {name: office for name, office in offices().items() if office.hosts}
    office = known.get(key.strip().casefold())
    if office is None:
        raise UnknownName(
            "office to fetch from",
            key,
            nearest(key, known),
            f"Ask one of {', '.join(sorted(known))}; or download the file and `index load` it.",
        )
    return office


@cache
def flows() -> tuple[Flow, ...]:
    """Return the described tables in the order in which they are tried."""
    return tuple(
        Flow(
            office=facts["office"],
            classification=facts.get("classification"),
            id=tuple(facts["id"]),
            item=facts.get("item"),
            area=facts.get("area"),
            frequency=facts.get("frequency"),
            index={dim: tuple(codes) for dim, codes in facts.get("index", {}).items()},
            base=facts.get("base", {}),
            adjusted={dim: tuple(codes) for dim, codes in facts.get("adjusted", {}).items()},
            match=facts["match"],
            dims=tuple(facts.get("dims", ())),
        )
        for facts in _facts()["flow"]
    )


UNKNOWN_FLOW = Flow(
    office="sdmx", classification=None, id=(), item=None, area=None, frequency="FREQ",
    index={}, base={}, adjusted={},
)  # fmt: skip


def flow_named(name: str) -> Flow:
    """Return the table that an SDMX flow id such as `ESTAT:PRC_HICP_MINR(1.0)` names."""
    return next((flow for flow in flows() if re.match(flow.match, name)), UNKNOWN_FLOW)


def flow_with(dims: tuple[str, ...]) -> Flow | None:
    """Return the table with exactly these dimensions besides time, if it is described."""
    return next((flow for flow in flows() if flow.dims and set(flow.dims) == set(dims)), None)


def json_stat_office(source: str) -> str:
    """Return the office that a JSON-stat names as its source; `table` when it is not known."""
    known: dict[str, str] = _facts()["json_stat"]
    return next((key for words, key in known.items() if words in source), "table")
