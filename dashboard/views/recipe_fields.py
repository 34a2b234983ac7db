"""The recipe being written: its texts are kept in the session until it is stored or put away."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

import streamlit as st

from ingest.dish_by_hand import HEAD, LINE
from pricing.names import name_key

_OPEN = "recipes being written"  # dish ("" for a new one) → what is written of it
_COUNT = "recipes opened"  # each opening has fields of its own
NEW = ""
Texts = Mapping[str, str]


@dataclass(kw_only=True)
class Recipe:
    """A recipe being written. Its texts stand in the fields, by `key`."""

    dish: str  # NEW where it is to be a new one
    number: int  # of its opening
    copied_from: str | None  # version of the dish
    lines: list[int]  # in the order of the page, each by a number of its own
    last: int
    likely: Mapping[str, Sequence[str]] = field(default_factory=dict)  # words that wait → names
    said: Sequence[str] = ()  # of how it came about
    begun_as: tuple[Any, ...] = ()  # its texts when it was opened

    def key(self, name: str, line: int | None = None) -> str:
        """Return the key of a field of the dish, or of a line."""
        return f"recipe {self.number} {'' if line is None else line} {name}"

    def head(self) -> dict[str, str]:
        """Return the texts of the dish, by column."""
        return {name: _text(name, st.session_state.get(self.key(name))) for name in HEAD}

    def texts(self) -> list[dict[str, str]]:
        """Return the texts of every line, by column."""
        return [
            {name: _text(name, st.session_state.get(self.key(name, line))) for name in LINE}
            for line in self.lines
        ]

    def changed(self) -> bool:
        """Tell whether anything was written since it was opened."""
        return _all(self.head(), self.texts()) != self.begun_as

    def add(self, texts: Texts | None = None) -> None:
        """Add a line."""
        self.last += 1
        self.lines.append(self.last)
        for name in LINE:
            st.session_state[self.key(name, self.last)] = _value(name, (texts or {}).get(name, ""))

    def put(self, lines: Sequence[Texts]) -> None:
        """Put these lines in place of all that are there."""
        self.lines.clear()
        for line in lines:
            self.add(line)

    def remove(self, line: int) -> None:
        """Take a line out."""
        self.lines.remove(line)

    def move(self, line: int, by: int) -> None:
        """Move a line up (-1) or down (1)."""
        at = self.lines.index(line)
        to = min(max(at + by, 0), len(self.lines) - 1)
        self.lines.insert(to, self.lines.pop(at))

    def finish(self, line: int, names: Sequence[str]) -> None:
        """Finish the name that was typed, where only one begins so."""
        typed = st.session_state.get(self.key("ingredient", line))
        if typed and typed not in names:
            st.session_state[self.key("ingredient", line)] = meant(typed, names)

    def write(self, line: int, name: str, text: str) -> None:
        """Put a text into a field of a line."""
        st.session_state[self.key(name, line)] = _value(name, text)


def meant(typed: str, names: Sequence[str]) -> str:
    """Return the only name that begins as typed, in any case; else what was typed.

    >>> meant("Saff", ["saffron", "sage"]), meant("sa", ["saffron", "sage"])
    ('saffron', 'sa')
    >>> meant("Egg", ["egg", "eggs, duck"])
    'egg'
    """
    wanted = name_key(typed)
    same = [each for each in names if name_key(each) == wanted]
    begin = same or [each for each in names if name_key(each).startswith(wanted)]
    return begin[0] if len(begin) == 1 else typed


def being_written(dish: str) -> Recipe | None:
    """Return what is being written of a dish."""
    found: Recipe | None = st.session_state.get(_OPEN, {}).get(dish)
    return found


def unfinished() -> list[Recipe]:
    """Return the recipes of which something is written that is not stored."""
    return [each for each in st.session_state.get(_OPEN, {}).values() if each.changed()]


def open_recipe(
    dish: str,
    head: Texts,
    lines: Sequence[Texts],
    *,
    copied_from: str | None = None,
    likely: Mapping[str, Sequence[str]] | None = None,
    said: Sequence[str] = (),
) -> Recipe:
    """Open a recipe with these texts, in place of what was written of the dish."""
    number = st.session_state[_COUNT] = st.session_state.get(_COUNT, 0) + 1
    made = Recipe(
        dish=dish, number=number, copied_from=copied_from, lines=[], last=0, likely=likely or {},
        said=said,
    )  # fmt: skip
    for name in HEAD:
        st.session_state[made.key(name)] = _value(name, head.get(name, ""))
    for line in lines or [{}]:
        made.add(line)
    made.begun_as = _all(made.head(), made.texts())
    st.session_state.setdefault(_OPEN, {})[dish] = made
    return made


def put_away(dish: str) -> None:
    """Forget what was written of a dish."""
    st.session_state.get(_OPEN, {}).pop(dish, None)


def _all(head: Texts, lines: Sequence[Texts]) -> tuple[Any, ...]:
    return tuple(head.values()), tuple(tuple(line.values()) for line in lines)


def _value(name: str, text: str) -> Any:
    """Return a text of a column as its field holds it."""
    if name == "effective_from":
        return date.fromisoformat(text) if text else None
    if name == "pantry":
        return text == "yes"
    if name == "state":
        return text == "edible"
    if name == "ingredient":
        return text or None
    return text


def _text(name: str, value: Any) -> str:
    """Return what a field holds as a text of its column."""
    if name == "effective_from":
        return value.isoformat() if isinstance(value, date) else ""
    if name == "pantry":
        return "yes" if value else ""
    if name == "state":
        return "edible" if value else ""
    return str(value or "").strip()
