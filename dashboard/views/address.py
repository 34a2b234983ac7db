"""What was chosen on a page stands in its address; back and a copied link bring it back."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import streamlit as st

from dashboard.views.book import TheBook, the_book

_LAST, _FOLLOWED = "address", "address follows"
Asked = dict[str, list[str]]  # a query: each name with its values


@dataclass(frozen=True, kw_only=True)
class Kept:
    """How one choice stands in the address; its name there is the key of its widget."""

    start: Any  # what it is where the address does not say
    read: Callable[[list[str]], Any]  # from the words of the address; raises ValueError
    write: Callable[[Any], list[str]] = lambda value: [str(value)]

    def read_from(self, words: list[str] | None) -> Any:
        """Return what the address says, or the start where it says nothing that can be read."""
        if not words:
            return self.start
        try:
            return self.read(words)
        except ValueError:
            return self.start


def choice(options: Sequence[Any], start: Any = None) -> Kept:
    """Return a choice of one of `options`, by its text."""
    by_text = {str(each): each for each in options}

    def read(words: list[str]) -> Any:
        if words[0] not in by_text:
            raise ValueError(words[0])
        return by_text[words[0]]

    first = options[0] if options else None
    return Kept(start=start if str(start) in by_text else first, read=read)


def some_of(options: Sequence[str]) -> Kept:
    """Return a choice of several of `options`; those that are not there are left out."""
    return Kept(
        start=[],
        read=lambda words: [each for each in dict.fromkeys(words) if each in options],
        write=lambda value: list(value),
    )


def day(start: date, earliest: date, latest: date) -> Kept:
    """Return a date between two, written as 2026-11-28."""

    def read(words: list[str]) -> date:
        return within(date.fromisoformat(words[0]))

    def within(asked: date) -> date:
        return min(max(asked, earliest), latest)

    start = within(start)  # a figure may have been costed after the day in the bar
    return Kept(start=start, read=read, write=lambda value: [(value or start).isoformat()])


def number(start: float | None, least: float, most: float) -> Kept:
    """Return a number between two, or none."""

    def read(words: list[str]) -> float | None:
        if not words[0]:
            return None
        if math.isnan(amount := float(words[0])):
            raise ValueError(words[0])
        return min(max(amount, least), most)

    return Kept(
        start=start, read=read, write=lambda value: ["" if value is None else f"{value:.10g}"]
    )


def whole_number(start: int, least: int, most: int) -> Kept:
    """Return a whole number between two."""
    return Kept(start=start, read=lambda said: min(max(int(said[0]), least), most))


def words(start: str = "") -> Kept:
    """Return words as they were typed."""
    return Kept(start=start, read=lambda said: said[0], write=lambda value: [value or ""])


def one_word() -> Kept:
    """Return a choice, or none, of options that are known only when it is drawn."""
    return Kept(start=None, read=lambda said: said[0] or None, write=lambda value: [value or ""])


def yes_or_no(start: bool = False) -> Kept:
    """Return a tick or a switch."""
    return Kept(
        start=start,
        read=lambda said: said[0] == "yes",
        write=lambda value: ["yes" if value else "no"],
    )


def years(first: int, last: int) -> Kept:
    """Return a span of years, written as 2012-2026."""

    def read(said: list[str]) -> tuple[int, int]:
        start, end = sorted(min(max(int(each), first), last) for each in said[0].split("-"))
        return start, end

    return Kept(start=(first, last), read=read, write=lambda value: [f"{value[0]}-{value[1]}"])


def named(name: str) -> str | None:
    """Return what the address says of something that no widget chooses; None if nothing."""
    return st.query_params.get(name)


def follow(
    page: str, steps: Sequence[Callable[[TheBook], Mapping[str, Kept]]], pinned: Sequence[str] = ()
) -> None:
    """Bring address and widgets of a page together, before the widgets are drawn.

    Where the address is not the one of the last run, a link, back or forward led here: the widgets
    take what it says. Else a widget was changed, and the address follows; then back returns to the
    one before. `steps` say which choices there are, each knowing what the one before it set: which
    versions a dish has may depend on the day. `pinned` are names that stand in the address only,
    such as the dish.
    """
    arrived = {name: st.query_params.get_all(name) for name in st.query_params}
    state = st.session_state
    last_page, last = state.get(_LAST, (None, {}))
    led_here = (last_page, last) != (page, arrived)
    fields: dict[str, Kept] = {}
    for step in steps:
        for key, field in (more := step(the_book())).items():
            if led_here:
                said = arrived.get(key)
            else:  # a widget that was not drawn is forgotten, unless its value is set again
                said = field.write(state[key]) if key in state else last.get(key)
            state[key] = field.read_from(said)
        fields |= more
    state[_FOLLOWED] = (page, fields, tuple(pinned))
    if led_here:
        _tell(page, arrived)
    else:
        follow_on()


def place() -> tuple[str | None, Asked]:
    """Return the room, and what is shown in it: the names that stand in the address only."""
    page, _, pinned = st.session_state.get(_FOLLOWED, (None, {}, ()))
    _, last = st.session_state.get(_LAST, (None, {}))
    return page, {name: last[name] for name in pinned if name in last}


def follow_on() -> None:
    """Let the address follow the widgets: also those of a part that is drawn alone."""
    state = st.session_state
    if _FOLLOWED not in state:
        return
    page, fields, pinned = state[_FOLLOWED]
    _, last = state[_LAST]
    now = {name: last[name] for name in pinned if name in last}
    for key, field in fields.items():
        if key not in state:  # one that a part drawn alone left out: it is there when it returns
            state[key] = field.read_from(last.get(key))
        if state[key] != field.start:
            now[key] = field.write(state[key])
    _tell(page, now)


def _tell(page: str, now: Asked) -> None:
    st.query_params.from_dict(now)  # the browser does nothing where it is there already
    st.session_state[_LAST] = (page, now)
