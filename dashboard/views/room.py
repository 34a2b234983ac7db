"""What a room is to the dashboard: what it shows, and which choices stand in its address."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import streamlit as st

from dashboard.views.address import Kept
from dashboard.views.book import TheBook
from dashboard.views.pages import PART


@dataclass(frozen=True, kw_only=True)
class Room:
    """One room."""

    show: Callable[[TheBook], None]
    fields: Callable[[TheBook], dict[str, Kept]]  # choices of the part that is open, by widget
    pinned: tuple[str, ...] = ()  # names that no widget chooses, such as the dish
    dated: bool = True  # it shows prices of the day in the bar, of those chosen there


def choose_part(parts: Mapping[str, str]) -> str:
    """Draw the parts of a room; return the one that is open. Only that one is drawn."""
    chosen = st.segmented_control(
        "Part of the room", list(parts), format_func=lambda each: parts[each], key=PART,
        required=True, label_visibility="collapsed",
    )  # fmt: skip
    return chosen or next(iter(parts))


def open_part(parts: Mapping[str, str]) -> str:
    """Return the part that the address, or else the choice just made, has open."""
    asked = st.session_state.get(PART)
    return str(asked) if asked in parts else next(iter(parts))
