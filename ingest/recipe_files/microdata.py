"""Finds recipes that a page marks up as microdata: itemscope, itemtype, itemprop.

Read as the HTML Standard says, 5.2.3 "Names" and 5.2.4 "Values"
(https://html.spec.whatwg.org/multipage/microdata.html); itemref is not followed.
"""

from __future__ import annotations

import html
import re
from collections import Counter
from dataclasses import dataclass, field

from ingest.recipe_files.json_text import Node
from ingest.recipe_files.tags import Tag, tags

_VOID = frozenset(
    ("area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "param")
)
_VOID |= {"source", "track", "wbr"}
_ADDRESS = {"a": "href", "area": "href", "link": "href"}
_ADDRESS |= dict.fromkeys(["audio", "embed", "iframe", "img", "source", "track", "video"], "src")
_STATED = {"meta": "content", "data": "value", "meter": "value", "object": "data", **_ADDRESS}
_ENDS_ITSELF = {"li": ("li",), "p": ("p",), "dt": ("dt", "dd"), "dd": ("dt", "dd")}
_ENDS_ITSELF |= {"tr": ("tr", "td", "th"), "td": ("td", "th"), "th": ("td", "th")}
_BREAKS = frozenset(["br", "p", "li", "div", "tr", "dt", "dd", "h1", "h2", "h3", "h4"])
_MOST_OPEN = 20  # properties within properties; deeper ones are not looked at


@dataclass(kw_only=True)
class _Open:
    """An element that has not ended."""

    tag: str
    item: Node | None = None  # that it begins
    names: tuple[str, ...] = ()  # of the property whose value is its text
    of: Node | None = None  # whose property that is
    text: list[str] = field(default_factory=list)


class _Reader:
    """Holds what is open while the tags of a page go by."""

    def __init__(self) -> None:
        self.items: list[Node] = []  # at the top
        self._open: list[_Open | str] = []  # of most elements the name alone
        self._many: Counter[str] = Counter()
        self._scopes: list[Node] = []
        self._texts: list[_Open] = []

    def take(self, tag: Tag) -> None:
        if tag.name in _BREAKS:
            self._add("\n")
        if tag.ends:
            self._end(tag.name)
        else:
            self._begin(tag)
        if self._texts:
            self._add(html.unescape(tag.text))

    def close(self) -> None:
        while self._open:
            self._end_last()

    def _begin(self, tag: Tag) -> None:
        for ends in _ENDS_ITSELF.get(tag.name, ()):
            if self._open and _name(self._open[-1]) == ends:
                self._end_last()
        marked = "itemprop" in tag.attributes or "itemscope" in tag.attributes
        here = self._marked(tag.name, tag.attributes) if marked else tag.name
        if tag.name in _VOID:
            return
        self._open.append(here)
        self._many[tag.name] += 1
        if isinstance(here, _Open):
            if here.item is not None:
                self._scopes.append(here.item)
            if here.names and len(self._texts) < _MOST_OPEN:
                self._texts.append(here)

    def _marked(self, tag: str, told: dict[str, str]) -> _Open:
        names = tuple(told.get("itemprop", "").split()[:10])
        parent = self._scopes[-1] if self._scopes else None
        if "itemscope" in told:
            item: Node = {"@type": told.get("itemtype", "").split()}
            if names and parent is not None:
                _put(parent, names, item)
            else:
                self.items.append(item)
            return _Open(tag=tag, item=item)
        stated = told.get("datetime") if tag == "time" else told.get(_STATED.get(tag, ""))
        if stated is None and tag not in _STATED:
            stated = told.get("content")  # not of the standard; pages write it
        if parent is None or not names:
            return _Open(tag=tag)
        if stated is not None or tag in _VOID:
            _put(parent, names, stated or "")
            return _Open(tag=tag)
        return _Open(tag=tag, names=names, of=parent)

    def _end(self, tag: str) -> None:
        if self._many[tag]:
            while self._end_last() != tag:
                pass

    def _end_last(self) -> str:
        here = self._open.pop()
        self._many[_name(here)] -= 1
        if isinstance(here, _Open):
            if here.item is not None:
                self._scopes.pop()
            if self._texts and self._texts[-1] is here:
                self._texts.pop()
                if here.of is not None:
                    _put(here.of, here.names, "".join(here.text).strip())
        return _name(here)

    def _add(self, text: str) -> None:
        for each in self._texts:
            each.text.append(text)


def _name(element: _Open | str) -> str:
    return element if isinstance(element, str) else element.tag


def _put(node: Node, names: tuple[str, ...], value: Node | str) -> None:
    for name in names:
        node.setdefault(name, []).append(value)


def has_microdata(text: str) -> bool:
    return bool(re.search("itemscope", text, re.IGNORECASE))


def microdata_in(text: str) -> list[Node]:
    """Return the items of a page, in the form of JSON-LD: each property a list.

    >>> microdata_in('<p itemscope itemtype="schema:Recipe"><b itemprop="name">Dal</b></p>')
    [{'@type': ['schema:Recipe'], 'name': ['Dal']}]
    """
    reader = _Reader()
    for tag in tags(text):
        reader.take(tag)
    reader.close()
    return reader.items
