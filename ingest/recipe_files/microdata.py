"""Finds recipes that a page marks up as microdata: itemscope, itemtype, itemprop.

Read as the HTML Standard says, 5.2.3 "Names" and 5.2.4 "Values"
(https://html.spec.whatwg.org/multipage/microdata.html); itemref is not followed.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from html.parser import HTMLParser

from ingest.recipe_files.json_text import Node

_VOID = frozenset(
    [
        "area",
        "base",
        "br",
        "col",
        "embed",
        "hr",
        "img",
        "input",
        "link",
        "meta",
        "source",
        "track",
        "wbr",
        "param",
    ]
)
_ADDRESS = {"a": "href", "area": "href", "link": "href"}
_ADDRESS |= dict.fromkeys(["audio", "embed", "iframe", "img", "source", "track", "video"], "src")
_STATED = {"meta": "content", "data": "value", "meter": "value", "object": "data", **_ADDRESS}
_ENDS_ITSELF = {"li": ("li",), "p": ("p",), "dt": ("dt", "dd"), "dd": ("dt", "dd")}
_ENDS_ITSELF |= {"tr": ("tr", "td", "th"), "td": ("td", "th"), "th": ("td", "th")}
_BREAKS = frozenset(["br", "p", "li", "div", "tr", "dt", "dd", "h1", "h2", "h3", "h4"])
_UNSEEN = frozenset(("script", "style", "template"))
_MOST_OPEN = 20  # properties within properties; deeper ones are not looked at


@dataclass(kw_only=True)
class _Open:
    """An element that has not ended."""

    tag: str
    item: Node | None = None  # that it begins
    names: tuple[str, ...] = ()  # of the property whose value is its text
    of: Node | None = None  # whose property that is
    text: list[str] = field(default_factory=list)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.items: list[Node] = []  # at the top
        self._open: list[_Open] = []
        self._many: Counter[str] = Counter()
        self._scopes: list[Node] = []
        self._texts: list[_Open] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for ends in _ENDS_ITSELF.get(tag, ()):
            if self._open and self._open[-1].tag == ends:
                self._end_last()
        if tag in _BREAKS:
            self._add("\n")
        told = dict(attrs)
        here = self._begin(tag, told) if "itemprop" in told or "itemscope" in told else None
        if tag in _VOID:
            return
        here = here or _Open(tag=tag)
        self._open.append(here)
        self._many[tag] += 1
        if here.item is not None:
            self._scopes.append(here.item)
        if here.names and len(self._texts) < _MOST_OPEN:
            self._texts.append(here)

    def handle_endtag(self, tag: str) -> None:
        if tag in _BREAKS:
            self._add("\n")
        if not self._many[tag]:
            return
        while self._end_last() != tag:
            pass

    def handle_data(self, data: str) -> None:
        if self._texts and not (self._open and self._open[-1].tag in _UNSEEN):
            self._add(data)

    def close(self) -> None:
        super().close()
        while self._open:
            self._end_last()

    def _begin(self, tag: str, told: dict[str, str | None]) -> _Open:
        names = tuple((told.get("itemprop") or "").split()[:10])
        parent = self._scopes[-1] if self._scopes else None
        if "itemscope" in told:
            kinds = (told.get("itemtype") or "").split()
            item: Node = {"@type": kinds}
            if names and parent is not None:
                _put(parent, names, item)
            else:
                self.items.append(item)
            return _Open(tag=tag, item=None if tag in _VOID else item)
        stated = told.get("datetime") if tag == "time" else told.get(_STATED.get(tag, ""))
        if stated is None and tag not in _STATED:
            stated = told.get("content")  # not of the standard; pages write it
        if parent is None or not names:
            return _Open(tag=tag)
        if stated is not None or tag in _VOID:
            _put(parent, names, stated or "")
            return _Open(tag=tag)
        return _Open(tag=tag, names=names, of=parent)

    def _end_last(self) -> str:
        here = self._open.pop()
        self._many[here.tag] -= 1
        if here.item is not None:
            self._scopes.pop()
        if self._texts and self._texts[-1] is here:
            self._texts.pop()
            if here.of is not None:
                _put(here.of, here.names, "".join(here.text).strip())
        return here.tag

    def _add(self, text: str) -> None:
        for each in self._texts:
            each.text.append(text)


def _put(node: Node, names: tuple[str, ...], value: Node | str) -> None:
    for name in names:
        node.setdefault(name, []).append(value)


def microdata_in(text: str) -> list[Node]:
    """Return the items of a page, in the form of JSON-LD: each property a list.

    >>> microdata_in('<p itemscope itemtype="schema:Recipe"><b itemprop="name">Dal</b></p>')
    [{'@type': ['schema:Recipe'], 'name': ['Dal']}]
    """
    if "itemscope" not in text.lower():
        return []
    reader = _Reader()
    reader.feed(text)
    reader.close()
    return reader.items
