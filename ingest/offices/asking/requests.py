"""Turns what a user asks an office for into requests: addresses, bodies, windows of years."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import quote

from ingest.offices.bls import own_id
from ingest.offices.facts.ladders import area_names, ladder, rung
from ingest.offices.facts.offices import Office
from ingest.text.sentences import quoted
from pricing.errors import InputRefused

BLS_KEY = "PORTIONDRIFT_BLS_KEY"  # environment variable with a user's own key
WHOLE_LADDER = "food"
_ID = re.compile(r"[A-Za-z0-9_.:+-]{1,80}")


@dataclass(frozen=True, kw_only=True)
class Request:
    """One question to an office."""

    url: str
    asked: str  # what for, in words
    body: bytes | None = None  # sent with POST; None: GET
    headers: dict[str, str] = field(default_factory=dict)


def requests_of(office: Office, ids: Sequence[str], *, since: int, until: int) -> list[Request]:
    """Return the requests for series of an office, for the years `since` to `until`.

    `food` stands for the whole food ladder. Raises InputRefused for ids that are none.
    """
    if not ids:
        raise InputRefused(f"Found no series; expected {office.ids}. Name one or more.")
    for each in ids:
        if not _ID.fullmatch(each):
            raise _refused(office, each)
    plan = {
        "us-bls": _bls, "uk-ons": _ons, "ca-statcan": _statcan, "au-abs": _abs,
        "eu-hicp": _hicp, "eu-hicp-v1": _hicp, "ie-cso": _table,
    }.get(office.key, _keyed)  # fmt: skip
    found = list(plan(office, [_bare(office, each) for each in ids], since, until))
    return found


def _some(whole: Sequence[Any], most: int) -> Iterator[Sequence[Any]]:
    """Yield the items of a list, at most so many at a time."""
    for start in range(0, len(whole), most):
        yield whole[start : start + most]


def _bare(office: Office, series: str) -> str:
    return series.removeprefix(f"{office.key}:")


def _refused(office: Office, found: str) -> InputRefused:
    return InputRefused(f"Found {quoted(found)}; expected {office.ids}. Correct the name.")


def _get(office: Office, asked: str, **words: object) -> Request:
    url = str(office.url).format(**{name: quote(str(word), "+") for name, word in words.items()})
    headers = {"Accept": office.accept} if office.accept else {}
    return Request(url=url, asked=asked, headers=headers)


def _post(url: str, asked: str, body: Any) -> Request:
    return Request(
        url=url,
        asked=asked,
        body=json.dumps(body).encode(),
        headers={"Content-Type": "application/json"},
    )


def _ons(office: Office, ids: Sequence[str], since: int, until: int) -> Iterator[Request]:
    for each in _with_ladder(office, ids):
        yield _get(office, each.upper(), id=each.lower())


def _with_ladder(office: Office, ids: Sequence[str]) -> list[str]:
    named: list[str] = []
    for each in ids:
        if each.casefold() != WHOLE_LADDER:
            named.append(each)
        elif office.key == "ca-statcan":
            named += [row.code for row in ladder(office.key).values() if row.code]
        else:
            named += [row.key for row in ladder(office.key).values()]
    return list(dict.fromkeys(named))


def _hicp(office: Office, ids: Sequence[str], since: int, until: int) -> Iterator[Request]:
    by_area: dict[str, list[str]] = {}
    for each in ids:
        area, _, item = each.partition(".")
        if area.upper() not in area_names() or (item and rung(office.key, item) is None):
            raise _refused(office, each)
        items = [item.upper()] if item else [row.key for row in ladder(office.key).values()]
        by_area.setdefault(area.upper(), []).extend(items)
    for area, items in by_area.items():
        yield _get(office, area, items="+".join(dict.fromkeys(items)), areas=area, since=since)


def _abs(office: Office, ids: Sequence[str], since: int, until: int) -> Iterator[Request]:
    for each in ids:
        if each.casefold() == WHOLE_LADDER:
            known = [row.code for row in ladder(office.key).values() if row.code]
            for frequency in "QM":
                yield _get(office, f"food by {frequency}", item="+".join(known), adjustment="10",
                           region="50", frequency=frequency, since=since)  # fmt: skip
            continue
        parts = each.split(".")
        if len(parts) != 4 or parts[3].upper() not in ("M", "Q"):
            raise _refused(office, each)
        yield _get(office, each, item=parts[0], adjustment=parts[1], region=parts[2],
                   frequency=parts[3].upper(), since=since)  # fmt: skip


def _keyed(office: Office, ids: Sequence[str], since: int, until: int) -> Iterator[Request]:
    """OECD and IMF: a key of several parts, in the order of the office's own ids."""
    names = {
        "imf-cpi": ("area", "type", "item", "frequency"),
    }.get(office.key, ("area", "frequency", "methodology", "item", "adjustment"))
    for each in ids:
        parts = each.upper().split(".")
        if len(parts) != len(names):
            raise _refused(office, each)
        yield _get(office, each, since=since, **dict(zip(names, parts, strict=True)))


def _table(office: Office, ids: Sequence[str], since: int, until: int) -> Iterator[Request]:
    for each in ids:
        table = each.split(".", 1)[0].upper()
        if not re.fullmatch(r"[A-Z]{2,4}\d{2,4}", table):
            raise _refused(office, each)
        yield _get(office, table, id=table)


def _statcan(office: Office, ids: Sequence[str], since: int, until: int) -> Iterator[Request]:
    vectors = [each.lower().removeprefix("v") for each in _with_ladder(office, ids)]
    wrong = [each for each in vectors if not each.isdigit()]
    if wrong:
        raise _refused(office, wrong[0])
    months = (until - since + 1) * 12
    body = [{"vectorId": int(each), "latestN": months} for each in vectors]
    for some in _some(body, 300):  # the office takes 300 at most
        yield _post(str(office.url), f"{len(some)} vectors", list(some))


def _bls(office: Office, ids: Sequence[str], since: int, until: int) -> Iterator[Request]:
    key = os.environ.get(BLS_KEY, "").strip()
    limits = office.facts["with_key" if key else "without_key"]
    url = str(office.url).format(version=limits["version"])
    whole = [_bls_id(office, each) for each in _with_ladder(office, ids)]
    for some in _some(whole, limits["series"]):
        for first in range(since, until + 1, limits["years"]):
            last = min(first + limits["years"] - 1, until)
            body = {"seriesid": list(some), "startyear": str(first), "endyear": str(last)}
            yield _post(url, f"{len(some)} series, {first} to {last}",
                        {**body, "registrationkey": key} if key else body)  # fmt: skip


def _bls_id(office: Office, asked: str) -> str:
    """Return the office's whole id: CUUR0000SEFH for SEFH."""
    upper = asked.upper()
    if rung("us-bls", upper) is not None:
        return f"CUUR0000{upper}"
    if own_id(upper) == f"us-bls:{upper}" and not re.fullmatch(r"[A-Z]{2}\w{8,}", upper):
        raise _refused(office, asked)
    return upper
