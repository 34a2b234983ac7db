"""What we said when a figure was recorded, beside what we know of that same day now."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from dashboard.tables.printed import kept_rows, said_rows
from dashboard.views.rows_table import show_rows
from dashboard.words.figures import counted, figure, signed_money
from dashboard.words.markdown import plain
from dashboard.words.printed import instant_words, printed_words
from pricing.days import day_words
from pricing.money import round_money, show_money
from pricing.printed.said_and_known import SaidAndKnown


def show_evidence(found: Sequence[SaidAndKnown], dish: str | None) -> None:
    """Draw every figure whose evidence was kept, newest first; of one dish if named."""
    kept = [each for each in found if dish is None or each.dish == dish]
    if not kept:
        st.info(
            "No figure here has kept evidence yet. Record one under **Record a figure**: figures "
            "loaded from a file bring none.",
            icon=":material/info:",
        )
        return
    for each in sorted(kept, key=lambda each: each.recorded_at, reverse=True):
        with st.container(border=True):
            _one(each)


def _one(found: SaidAndKnown) -> None:
    where = f", {found.where}" if found.where else ""
    day = day_words(found.published_on)
    st.markdown(f"**{plain(found.dish)}**, {plain(f'version {found.version}, {day}{where}')}")
    said, known, change = st.columns(3)
    said.metric("What we said", plain(show_money(found.said, found.currency)))
    amount = printed_words(found.printed, found.as_printed, found.currency)
    said.caption(plain(f"Printed: {amount}. Costed for {day_words(found.costed_on)}."))
    if found.known is None:
        known.metric("What we know now", "—")
        st.markdown(plain(f"It cannot be costed any more: {found.reason}"))
    else:
        now = figure(found.known, found.known_complete, found.currency)
        known.metric("What we know now", plain(now))
        gap = round_money(found.known, found.currency) - round_money(found.said, found.currency)
        change.metric("Difference", plain(signed_money(float(gap), found.currency)))
        if not found.lines:
            own_day = day_words(found.costed_on)
            st.markdown(plain(f"Nothing behind it has changed: the prices of {own_day} stand."))
        else:
            show_rows(
                said_rows(found),
        alt=f"What changed behind the figure of {found.dish}",
            )  # fmt: skip
    kept = kept_rows(found)
    recorded = instant_words(found.recorded_at)
    with st.expander(f"{counted(len(kept), 'price')} kept on {recorded.partition(',')[0]}"):
        st.dataframe(kept, hide_index=True, alt=f"Prices kept for {found.dish}")
        st.caption(plain(f"Recorded on {recorded}; SHA-256 {found.evidence_sha256}"))
