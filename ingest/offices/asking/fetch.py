"""Fetches official series from an office into the book: what came is kept to the byte."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from ingest.kinds.checked import Options
from ingest.offices.asking.faults import FetchRefused, is_empty_table, refuse_faults
from ingest.offices.asking.net import download
from ingest.offices.asking.requests import Request, requests_of
from ingest.offices.facts.offices import Office, fetchable
from ingest.offices.reading.collect import Found
from ingest.offices.reading.source import Source
from ingest.offices.taking.office_file import read_office
from ingest.offices.taking.take import combined, take
from ingest.problem_codes import Code
from ingest.report import FileReport
from pricing.book.connect import Book, reading
from pricing.book.fetched import Fetched
from pricing.clock import now


@dataclass(frozen=True, kw_only=True)
class FetchReport:
    """What came of a fetch."""

    report: FileReport
    answers: tuple[Fetched, ...]  # what the office sent; kept only if something new was in it


def fetch(
    book: Book,
    office: str,
    ids: Sequence[str],
    *,
    today: date,
    since: int | None = None,
    dry_run: bool = False,
    tell: Callable[[str], None] = lambda _: None,
    pause: Callable[[float], None] = time.sleep,
) -> FetchReport:
    """Fetch series of an office and take in what is new: all of them, or none.

    `ids` are the office's own names, `food` its whole food ladder; `since` the first year asked
    for. `tell` gets progress in words. Raises UnknownName, InputRefused, FetchRefused,
    BookUnreadable.
    """
    asked = fetchable(office)
    plan = requests_of(asked, ids, since=since or _first_year(book, asked, today), until=today.year)
    answers: list[Fetched] = []
    found: list[Found] = []
    for number, request in enumerate(plan, start=1):
        if number > 1:
            pause(asked.pause_seconds)
        tell(f"{asked.name}: {request.asked} ({number} of {len(plan)})")
        content = download(asked, request, pause=pause, tell=tell)
        refuse_faults(asked, request, content)
        if is_empty_table(content):
            raise _empty(asked, request)
        answers.append(
            Fetched(office=asked.key, url=request.url, fetched_at=now(), content=content)
        )
        found.append(_read(asked, request, content, ids, today))
    shown = f"{asked.key} {' '.join(ids)}"
    delivery = combined(shown, f"fetched from {asked.key}", _with_windows(found), answers)
    report = take(book, delivery, Options(today=today), dry_run=dry_run)
    return FetchReport(report=report, answers=tuple(answers))


def _read(
    office: Office, request: Request, content: bytes, ids: Sequence[str], today: date
) -> Found:
    """Read an answer. Raises FetchRefused for one that is no data at all."""
    wanted = _wanted(office, ids)
    source = Source(name=f"answer of {office.key}", data=content)
    found = read_office(source, today, wanted)
    strange = next((p for p in found.problems if p.code == Code.UNKNOWN_LAYOUT), None)
    if strange is not None:
        raise FetchRefused(
            f"Found {strange.found} from {office.name} for {request.asked}; expected data. "
            "Try again later, or download the file and `index load` it."
        )
    return found


def _with_windows(found: Sequence[Found]) -> list[Found]:
    """Forgive a window of years without a value of a series that another window has."""
    came = {each.series for one in found for each in one.series}
    return [
        replace(
            one,
            problems=tuple(
                each
                for each in one.problems
                if not (each.code == Code.NO_VALUE and each.series in came)
            ),
        )
        for one in found
    ]


def _wanted(office: Office, ids: Sequence[str]) -> tuple[str, ...]:
    """Return what to take of the answers: a whole table is cut down to what was named."""
    if office.key != "ie-cso" or any("." not in each for each in ids):
        return ()
    return tuple(each.removeprefix(f"{office.key}:") for each in ids)


def _first_year(book: Book, office: Office, today: date) -> int:
    """Return the first year to ask for: the office's own; else the year before the last held."""
    if office.first_year is not None:
        return office.first_year
    with reading(book) as con:
        row = con.execute(
            "SELECT year(max(month)) FROM series_value_now WHERE starts_with(series, $office)",
            {"office": f"{office.key}:"},
        ).fetchone()
    last = row[0] if row and row[0] else today.year - 9
    return min(int(last) - 1, today.year)


def _empty(office: Office, request: Request) -> FetchRefused:
    return FetchRefused(
        f"Found a table without a single value from {office.name} for {request.asked}; expected "
        f"values. The code may be unknown, or have no data: it takes {office.ids}."
    )
