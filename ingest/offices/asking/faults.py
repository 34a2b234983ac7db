"""Tells an office's faults from its data: web pages, XML faults, prose, quotas, empty tables."""

from __future__ import annotations

import json
import re
from html import unescape

from ingest.offices.asking.requests import BLS_KEY, Request
from ingest.offices.facts.offices import Office
from pricing.errors import PortionDriftError

_LENGTH = 200


class FetchRefused(PortionDriftError, OSError):
    """An office could not be asked, or its answer holds no series."""


def words_in(content: bytes) -> str:
    """Return what a fault says, in one line: the text of a web page or XML, or of a JSON message.

    >>> words_in(b"<S:Fault><faultstring>Dimension not found</faultstring></S:Fault>")
    'Dimension not found'
    """
    text = content[:20_000].decode("utf-8", "replace").strip()
    if text.startswith(("{", "[")):
        found = re.findall(r'"(?:label|message|detail|title)"\s*:\s*\[?\s*"([^"]+)"', text)
        return " ".join(found)[:_LENGTH]
    for tag in ("faultstring", "(?:\\w+:)?Text", "title"):
        if found := re.findall(rf"<{tag}[^>]*>([^<]+)<", text):
            return _flat(" ".join(found))
    return _flat(re.sub(r"<[^>]*>", " ", text))


def _flat(text: str) -> str:
    return " ".join(unescape(text).split())[:_LENGTH]


def refuse_faults(office: Office, request: Request, content: bytes) -> None:
    """Raise FetchRefused when an answer that calls itself good holds no data."""
    start = content[:400].lstrip(b"\xef\xbb\xbf \r\n\t")
    asked = request.asked
    if not start:
        raise FetchRefused(
            f"Found an empty answer from {office.name} for {asked}; expected values. "
            f"Check the name: it takes {office.ids}."
        )
    if start[:1] == b"<":
        kind = (
            "a web page"
            if b"<html" in start.lower() or b"<!doctype" in start.lower()
            else "a fault"
        )
        raise FetchRefused(
            f"Found {kind} instead of data from {office.name} for {asked} ('{words_in(content)}'); "
            f"expected values. Check the name: it takes {office.ids}."
        )
    if office.key == "us-bls":
        _refuse_bls(office, asked, content)
    if start[:1] not in b"{[" and b"," not in start and b";" not in start and b"\t" not in start:
        raise FetchRefused(
            f"Found words instead of data from {office.name} for {asked} ('{words_in(content)}'); "
            "expected values. Try again later."
        )


def _refuse_bls(office: Office, asked: str, content: bytes) -> None:
    """BLS answers with status 200 when a day's quota is used up, and says so inside."""
    try:
        found = json.loads(content)
        status, said = found.get("status"), "; ".join(map(str, found.get("message") or ()))
    except (ValueError, AttributeError):
        return
    if status == "REQUEST_SUCCEEDED":
        return
    if "threshold" in said.lower() or "exceeded" in said.lower():
        raise FetchRefused(
            f"Found the day's quota of {office.name} used up ('{said[:_LENGTH]}'); expected an "
            f"answer. Ask again tomorrow, or put a free key of your own into {BLS_KEY}."
        )
    raise FetchRefused(
        f"Found a refusal by {office.name} for {asked} ('{said[:_LENGTH] or status}'); expected "
        f"values. Check the name: it takes {office.ids}."
    )


def is_empty_table(content: bytes) -> bool:
    """Tell whether an answer is a header without a row, or a table without a value."""
    text = content.decode("utf-8", "replace").strip()
    if text.startswith("{"):
        return re.search(r'"value"\s*:\s*(\{\s*\}|\[\s*\])', text) is not None
    return "\n" not in text and text.startswith(("DATAFLOW", "STRUCTURE"))
