"""What a reader ticked and wrote in the tray: kept over its pages, until it is stored."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import streamlit as st

from ingest.matching.packs import is_bare
from ingest.tray.listing import SURE, WaitingWords

NEW_FACTS = ("base", "category", "density_g_per_ml", "grams_each", "yield_pct", "series")
_FIELDS = ("tick", "ingredient", "pack", "product", *NEW_FACTS)
_PROPOSED = "tray proposed"  # what the fields of each description were filled with
_PROBLEMS = "tray problems"  # key of a description → why it was not stored


def key(each: WaitingWords, field: str) -> str:
    """Return the key of a field of a description."""
    return f"tray {field} {each.sender or ''}|{each.words}"


def fill_in(each: WaitingWords, proposed: Mapping[str, str | None] | None = None) -> None:
    """Put the proposal, or facts proposed, into fields, but not over what a reader wrote."""
    if proposed is None:
        proposed = _proposed(each)
    before = st.session_state.setdefault(_PROPOSED, {}).get(key(each, ""), {})
    for field, value in proposed.items():
        there = key(each, field)
        if there not in st.session_state or st.session_state[there] == before.get(field):
            st.session_state[there] = value
    st.session_state[_PROPOSED][key(each, "")] = {**before, **proposed}


def _proposed(each: WaitingWords) -> dict[str, str | None]:
    proposal = each.proposal
    ingredient = each.known_as or (each.new_name if proposal is None else proposal.ingredient)
    stated = each.pack and not is_bare(each.pack)
    pack = "" if stated or proposal is None else proposal.pack or ""
    return {"ingredient": ingredient, "pack": pack}


def written(each: WaitingWords, field: str) -> str:
    """Return what a field holds: what was written, else what is proposed."""
    there = key(each, field)
    kept = there in st.session_state
    value = st.session_state[there] if kept else _proposed(each).get(field)
    return str(value or "").strip()


def as_proposed(each: WaitingWords) -> bool:
    """Tell whether ingredient and pack are as proposed."""
    return all(written(each, name) == (value or "") for name, value in _proposed(each).items())


def is_ticked(each: WaitingWords) -> bool:
    """Tell whether a description is to be stored by the next press."""
    return bool(st.session_state.get(key(each, "tick")))


def is_sure(each: WaitingWords) -> bool:
    """Tell whether a proposal is sure enough to be ticked with the others."""
    return each.proposal is not None and each.proposal.score >= SURE


def tick(these: Sequence[WaitingWords], on: bool = True) -> None:
    """Tick descriptions, or untick them."""
    for each in these:
        st.session_state[key(each, "tick")] = on


def decision(each: WaitingWords, *, new: bool) -> dict[str, str]:
    """Return what was decided, as a row of a file of decisions; `new`: it makes an ingredient."""
    names = ("ingredient", "pack", "product", *(NEW_FACTS if new else ()))
    fields = {name: written(each, name) for name in names}
    return {"sender": each.sender or "", "words": each.words, **fields}


def forget(each: WaitingWords) -> None:
    """Drop what was written of a description that is settled."""
    for field in _FIELDS:
        st.session_state.pop(key(each, field), None)
    st.session_state.get(_PROPOSED, {}).pop(key(each, ""), None)


def keep_problems(found: dict[str, list[str]]) -> None:
    """Keep, by `key(each, "")`, why descriptions were not stored."""
    st.session_state[_PROBLEMS] = found


def problems_of(each: WaitingWords) -> list[str]:
    """Return why a description was not stored at the last press."""
    found: list[str] = st.session_state.get(_PROBLEMS, {}).get(key(each, ""), [])
    return found
