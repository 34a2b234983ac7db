"""Asks one office over the net: https, known hosts, time-outs, patience, and limits."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime
from importlib.metadata import PackageNotFoundError, version
from urllib.parse import urljoin, urlsplit

import requests

from ingest.offices.asking.faults import FetchRefused, words_in
from ingest.offices.asking.requests import Request
from ingest.offices.facts.offices import Office

TEST_HOST = "PORTIONDRIFT_TEST_HOST"  # for tests: a server on this machine stands for every office
CONNECT_SECONDS, READ_SECONDS, WHOLE_SECONDS = 10, 60, 300
TRIES = 4
LONGEST_WAIT = 120  # seconds that an office may ask us to wait before we say so instead
_AGAIN = frozenset({408, 429, 500, 502, 503, 504})
_MOST_HOPS = 4
_PIECE = 64 * 1024


def download(
    office: Office, request: Request, *, pause: Callable[[float], None] = time.sleep,
    tell: Callable[[str], None] = lambda _: None,
) -> bytes:  # fmt: skip
    """Return the bytes an office answers with.

    It tries four times, waiting longer each time, or as long as the office says. Raises
    FetchRefused, in words, when the net or the office does not play along.
    """
    wait = 1.0
    for attempt in range(1, TRIES + 1):
        last = attempt == TRIES
        try:
            status, headers, content = _once(office, request, tell)
        except requests.exceptions.RequestException as error:
            if last or isinstance(error, requests.exceptions.InvalidURL):
                raise FetchRefused(_no_answer(office, error)) from error
            how = "did not answer"  # the net may be down: that is not known to be its fault
        else:
            if status < 300:
                return content
            asked = _retry_after(headers.get("Retry-After"))
            if status not in _AGAIN or last or (asked or 0) > LONGEST_WAIT:
                raise FetchRefused(_said(office, request, status, asked, content))
            wait = max(wait, asked or 0.0)
            how = "is busy"
        tell(f"{office.name} {how}; trying again in {wait:.0f} s ({attempt} of {TRIES}).")
        pause(wait)
        wait *= 2
    raise AssertionError("the last try returns or raises")


def _once(
    office: Office, request: Request, tell: Callable[[str], None]
) -> tuple[int, requests.structures.CaseInsensitiveDict[str], bytes]:
    """Ask once, following redirections only to the office's own hosts."""
    url = request.url
    with requests.Session() as session:
        session.trust_env = TEST_HOST not in os.environ  # a proxy of the user's own is honoured
        for _ in range(_MOST_HOPS):
            with session.request(
                "GET" if request.body is None else "POST",
                _where(office, url),
                data=request.body,
                headers={"User-Agent": user_agent(), "Accept": "*/*", **request.headers},
                timeout=(CONNECT_SECONDS, READ_SECONDS),
                allow_redirects=False,
                stream=True,
            ) as answer:
                moved = answer.headers.get("Location")
                if answer.is_redirect and moved:
                    url = urljoin(url, moved)
                    continue
                return answer.status_code, answer.headers, _body(office, answer, tell)
    raise FetchRefused(
        f"Found {office.name} sending from address to address; expected an answer. The address in "
        "this version may be old: download the file and load it with `index load`."
    )


def _where(office: Office, url: str) -> str:
    """Return the address to ask. Raises FetchRefused for one that is not the office's own."""
    parts = urlsplit(url)
    if (
        parts.scheme != "https"
        or parts.hostname not in office.hosts
        or parts.port not in (None, 443)
    ):
        raise FetchRefused(
            f"Found the address {parts.scheme}://{parts.netloc}; expected https and one of "
            f"{', '.join(office.hosts)}. Nothing else is asked."
        )
    stand_in = os.environ.get(TEST_HOST)
    if stand_in is None:
        return url
    local = urlsplit(stand_in)
    if local.scheme != "http" or local.hostname != "127.0.0.1" or local.path.strip("/"):
        raise FetchRefused(
            f"Found {TEST_HOST}={stand_in!r}; expected http://127.0.0.1 and a port. "
            "It is for tests only: unset it."
        )
    query = f"?{parts.query}" if parts.query else ""
    return f"http://{local.netloc}/{parts.hostname}{parts.path}{query}"


def _body(office: Office, answer: requests.Response, tell: Callable[[str], None]) -> bytes:
    limit, deadline = office.largest_bytes, time.monotonic() + WHOLE_SECONDS
    pieces, size, last_told = [], 0, 0
    for piece in answer.iter_content(_PIECE):
        pieces.append(piece)
        size += len(piece)
        if size > limit:
            raise FetchRefused(
                f"Found more than {limit // 1024**2} MB from {office.name}; expected less. "
                "Ask for fewer series."
            )
        if time.monotonic() > deadline:
            raise FetchRefused(
                f"Found {office.name} still sending after {WHOLE_SECONDS} seconds; expected it to "
                "be done. Try again later, or ask for fewer series."
            )
        if size - last_told > 2 * 1024**2:
            last_told = size
            tell(f"{size / 1024**2:.0f} MB …")
    return b"".join(pieces)


def user_agent() -> str:
    """Return who is asking: the program and its version, and nothing about the person."""
    try:
        number = version("portiondrift")
    except PackageNotFoundError:
        number = "0"
    return f"portiondrift/{number} (recipe costing, price indices on request)"


def _retry_after(text: str | None) -> float | None:
    """Return the seconds that a Retry-After header asks for: a number, or a date."""
    if not text:
        return None
    if text.strip().isdigit():
        return float(text)
    try:
        until = parsedate_to_datetime(text)
    except ValueError:
        return None
    return max(0.0, (until - datetime.now(UTC)).total_seconds()) if until.tzinfo else None


def _no_answer(office: Office, error: requests.exceptions.RequestException) -> str:
    host = office.hosts[0]
    if isinstance(error, requests.exceptions.Timeout):
        why, remedy = "no answer in time", "Try again later."
    elif isinstance(error, requests.exceptions.SSLError):
        why, remedy = "a connection that cannot be trusted", "Check the clock and the network."
    elif isinstance(error, requests.exceptions.ChunkedEncodingError):
        why, remedy = "an answer that broke off", "Try again."
    else:
        why = "no way to reach it"
        remedy = (
            "Check the network; or download the file elsewhere and load it with `index load FILE`."
        )
    return f"Found {why} at {host} ({office.name}); expected an answer. {remedy}"


def _said(
    office: Office, request: Request, status: int, asked: float | None, content: bytes
) -> str:
    """Return a sentence for an answer that is a refusal."""
    words = words_in(content)
    quoted = f" and the words '{words}'" if words else ""
    expected, remedy = {
        400: ("a series it knows", f"Check the name; it takes {office.ids}."),
        403: ("leave to ask", "The office may refuse this network: download the file instead."),
        404: ("a series it knows", f"Check the name; it takes {office.ids}."),
        406: ("a form it offers", "The address in this version may be old: load a file instead."),
        409: ("an open table", "The office locks its tables while it updates them: ask later."),
        413: ("a smaller question", "Ask for fewer series at a time."),
        422: ("a whole name", f"Check the name; it takes {office.ids}."),
        429: ("fewer questions", "The office asks for patience."),
    }.get(status, ("an answer", "Try again later, or download the file and `index load` it."))
    if asked:
        remedy += f" It asks to wait {asked:.0f} seconds."
    return (
        f"Found status {status}{quoted} from {office.name} for {request.asked}; expected "
        f"{expected}. {remedy}"
    )
