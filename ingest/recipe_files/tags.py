"""Parts a web page into its tags and the text between them, in time that grows with its length."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from typing import NamedTuple

# What an attribute holds may have a > in it where it is quoted; what has matched is
# not tried another way (*+), so that it takes neither time nor memory.
_TAG = re.compile(
    r"<(/?)([a-zA-Z][\w:-]{0,40})([^<>\"']*+(?:(?:\"[^\"]*+\"|'[^']*+')[^<>\"']*+)*+)>"
)
_ATTRIBUTE = re.compile(r"([^\s=\"'/]+)(?:\s*=\s*(?:\"([^\"]*)\"|'([^']*)'|([^\s\"']+)))?")
MOST_TAGS = 200_000  # of a page
_UNSEEN = re.compile(r"<!--|<(script|style|template)\b", re.IGNORECASE)


class Tag(NamedTuple):
    """A tag, and the text behind it."""

    name: str  # in small letters
    ends: bool  # </b>
    text: str  # up to the next tag, as written
    attributes: dict[str, str]  # of those that mark up a thing


def tags(page: str) -> Iterator[Tag]:
    """Yield the tags of a page; what is no part of its text is passed: scripts, comments.

    >>> [(tag.attributes, tag.text) for tag in tags("<b itemprop='name'>Dal<!-- x --></b>")]
    [({'itemprop': 'name'}, 'Dal'), ({}, '')]
    """
    seen = "".join(_seen(page))
    last: re.Match[str] | None = None
    for match in _TAG.finditer(seen):
        if last:
            yield _tag(last, seen[last.end() : match.start()])
        last = match
    if last:
        yield _tag(last, seen[last.end() :])


def _tag(match: re.Match[str], text: str) -> Tag:
    told = match[3]
    marked = "item" in told or "ITEM" in told or "Item" in told
    return Tag(
        name=match[2].lower(),
        ends=bool(match[1]),
        text=text,
        attributes=_attributes(told) if marked and not match[1] else {},
    )


def _attributes(told: str) -> dict[str, str]:
    found: dict[str, str] = {}
    for name, *values in _ATTRIBUTE.findall(told):
        found.setdefault(name.lower(), html.unescape("".join(values)))
    return found


def _seen(page: str) -> Iterator[str]:
    """Yield what a reader of the page may see."""
    at = 0
    while start := _UNSEEN.search(page, at):
        yield page[at : start.start()]
        name = start[1]
        end = re.compile(rf"</{name}\b[^<>]*>" if name else "-->", re.IGNORECASE)
        ends = end.search(page, start.end())
        if ends is None:
            return
        at = ends.end()
    yield page[at:]
