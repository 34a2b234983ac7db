"""One description of the tray: what it says, what it may be, and the fields to decide it."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.loaders import settings_of
from dashboard.views.tray_fields import (
    NEW_FACTS,
    as_proposed,
    fill_in,
    is_ticked,
    key,
    problems_of,
    tick,
    written,
)
from dashboard.views.tray_loaders import by_pack_of, new_facts_of
from dashboard.words.markdown import unlinked
from dashboard.words.tray import (
    CHECK_LABELS,
    FACTS,
    facts_words,
    far_words,
    price_words,
    sure_words,
    where_from,
    why_words,
)
from ingest.tray.by_pack import ByPack
from ingest.tray.listing import Proposed, WaitingWords
from pricing.names import NOT_AN_INGREDIENT, name_key, nearest

_EXAMPLES = {
    "category": "spices",
    "density_g_per_ml": "1.03",
    "grams_each": "55",
    "yield_pct": "88",
    "series": "id, if any",
}
_BASES = {"g": "by weight (g)", "ml": "by volume (ml)", "each": "by the piece (each)"}


def draw_row(book: TheBook, each: WaitingWords, names: Sequence[str]) -> None:
    """Draw a description with its fields, and below it what is wrong or still to be told."""
    fill_in(each)
    with st.container(border=True, gap="xsmall"):
        with st.container(horizontal=True, vertical_alignment="center", gap="small"):
            _words(each)
            _fields(each, names)
            known = chosen(book, each)
            _remarks(book, each, known)
        if known is None and _is_meant(each):
            _new_ingredient(book, each, names)
        for problem in problems_of(each):
            st.warning(unlinked(problem))


def chosen(book: TheBook, each: WaitingWords) -> ByPack | Proposed | str | None:
    """Return what is known of the ingredient chosen for a description.

    "" where none is chosen, or it is not one; None where the book has none of that name.
    """
    ingredient, pack = written(each, "ingredient"), written(each, "pack")
    if not ingredient or name_key(ingredient) == NOT_AN_INGREDIENT:
        return ""
    if each.proposal is not None and each.known_as is None and as_proposed(each):
        return each.proposal
    return by_pack_of(book.state, each.words, each.sender, ingredient, pack)


def _is_meant(each: WaitingWords) -> bool:
    """Tell whether a new name is a reader's own, or a proposed one that is ticked."""
    return is_ticked(each) or not as_proposed(each)


def _words(each: WaitingWords) -> None:
    with st.container(width=380, gap=None):
        st.checkbox(f"**{unlinked(each.words)}**", key=key(each, "tick"), persist_state="session")
        st.caption(unlinked(where_from(each)))


def _fields(each: WaitingWords, names: Sequence[str]) -> None:
    wrote = written(each, "ingredient")
    likely = [] if each.proposal is None else [each.proposal.ingredient, *each.proposal.others]
    likely += filter(None, [each.new_name])
    st.selectbox(
        f"Ingredient of {unlinked(each.words)}",
        list(dict.fromkeys([*likely, NOT_AN_INGREDIENT, *names, *filter(None, [wrote])])),
        index=None,
        key=key(each, "ingredient"),
        accept_new_options=True,
        placeholder="Choose or type one",
        label_visibility="collapsed",
        width=190,
        on_change=tick,
        args=([each],),
        persist_state="session",
    )
    st.text_input(
        f"Pack of {unlinked(each.words)}",
        key=key(each, "pack"),
        placeholder=each.pack or "Pack",
        label_visibility="collapsed",
        width=110,
        on_change=tick,
        args=([each],),
        persist_state="session",
    )


def _remarks(book: TheBook, each: WaitingWords, known: ByPack | Proposed | str | None) -> None:
    settings = settings_of(book.state)
    sure = (
        sure_words(each.proposal, each.known_as, each.new_name)
        if as_proposed(each)
        else "As you wrote it"
    )
    said, far = "", ""
    if isinstance(known, ByPack) and known.refused:
        far = known.refused
    elif isinstance(known, ByPack | Proposed):
        said = price_words(known, each.currency, settings.currency, settings.measures)
        far = far_words(known, each.currency, settings.currency)
    elif known is None:
        how = "say below" if _is_meant(each) else "tick it to say"
        said = f"New: {how} how it is counted."
    with st.container(width=215, gap=None):
        shown = f"{unlinked(said)} **{unlinked(far)}**" if far else unlinked(said)
        st.caption(f"{shown} {unlinked(sure)}.".strip())
    with st.popover("More", width=85):
        for sentence in why_words(each.proposal):
            st.markdown(unlinked(sentence))
        if each.files:
            st.markdown(unlinked(f"It came with {', '.join(each.files)}."))
        st.text_input(
            "Call the product", key=key(each, "product"), placeholder=each.words,
            persist_state="session",
        )  # fmt: skip


def _new_ingredient(book: TheBook, each: WaitingWords, names: Sequence[str]) -> None:
    """Draw the facts of an ingredient that the book does not have, and the nearest it has."""
    name = written(each, "ingredient")
    near = nearest(name, names)
    facts = new_facts_of(book.state, each, name)
    proposed = {field: getattr(facts, field) for field in NEW_FACTS}
    fill_in(each, {field: fact and fact.value for field, fact in proposed.items()})
    with st.container(horizontal=True, vertical_alignment="center", gap="small"):
        st.markdown(unlinked(f"The book has no {name}." + (" Nearest:" if near else "")))
        for other in near:
            st.button(
                unlinked(other),
                key=f"{key(each, 'near')} {other}",
                on_click=_take,
                args=(each, other),
            )
    with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
        st.selectbox(
            FACTS["base"], list(_BASES), index=None, format_func=_BASES.__getitem__,
            key=key(each, "base"), placeholder="Choose", width=170, persist_state="session",
        )  # fmt: skip
        for field, example in _EXAMPLES.items():
            st.text_input(
                FACTS[field], key=key(each, field), placeholder=example, width=150,
                persist_state="session",
            )  # fmt: skip
    said = facts_words(proposed)
    st.caption(unlinked(f"Only how it is counted is required. {said}{CHECK_LABELS}"))


def _take(each: WaitingWords, name: str) -> None:
    st.session_state[key(each, "ingredient")] = name
    tick([each])
