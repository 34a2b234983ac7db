"""One price by hand: what was understood is shown before anything is stored."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.loaders import history_of, settings_of, suppliers_of
from dashboard.views.offered_shop import SHOP, shop_input
from dashboard.views.outcome import attempt, show_outcome
from dashboard.words.markdown import plain
from ingest.load import PricePreview, add_price, preview_price

KINDS = ("shelf", "offer", "receipt", "invoice", "quote")
_CLEARED = ("price", "tax_pct", "product", "note", "unusual")  # after a price is stored
_OFFERED_OF = "pack and shop offered of"  # the ingredient whose last ones were filled in
# The keys of the fields, by the column of a prices file. What is written and left by a click on
# the button is in no answer of the page before that click: so the click reads the fields itself.
_KEYS = {
    "price": "price",
    "currency": "currency",
    "pack": "pack",
    "supplier": SHOP,
    "kind": "kind",
    "tax_pct": "tax_pct",
    "region": "region",
    "product": "product",
    "note": "note",
}


def enter_price(book: TheBook, names: Sequence[str], ingredient: str) -> None:
    """Draw what came of the last one, the form, what was understood, and the button."""
    show_outcome("of the form")
    name = _fields(book, names, ingredient)
    fields = _typed(book, name)
    if not (fields["price"].strip() and fields["pack"].strip()):
        st.info("Give a price and a pack to see what will be stored.", icon=":material/edit:")
        return
    seen = preview_price(book.book, fields, today=book.today)
    if not isinstance(seen, PricePreview):
        st.warning("\n".join(f"- {plain(problem.sentence())}" for problem in seen))
        return
    said = "\n\n".join(plain(sentence) for sentence in seen.sentences)
    (st.warning if seen.unusual else st.info)(f"**Understood:** {said}")
    right = not seen.unusual or st.checkbox("This price is right, store it as it is", key="unusual")
    st.button(
        "Store this price",
        type="primary",
        disabled=not right or seen.already,
        on_click=_store,
        args=(book, name, fields if seen.unusual else None),
    )


def _fields(book: TheBook, names: Sequence[str], ingredient: str) -> str:
    """Draw the fields, and return the ingredient."""
    what, price, pack, day = st.columns([3, 2, 2, 2])
    name: str = what.selectbox(
        "Ingredient", names, index=names.index(ingredient), key=f"price of {ingredient}"
    )
    _offer_the_last(book, name)
    price.text_input("Price of the pack", key="price", placeholder="3.19", live=True)
    pack.text_input("Pack", key="pack", placeholder="1 lb, 6 x 330 ml, 12 each", live=True)
    day.date_input("Seen on", value=book.on, max_value=book.on, format="YYYY-MM-DD", key="seen_on")
    shop, kind, currency, tax = st.columns([3, 2, 2, 2])
    with shop:
        shop_input(suppliers_of(book.state))
    kind.selectbox("Kind", KINDS, key="kind", help="An offer does not count as typical.")
    currency.text_input("Currency", value=settings_of(book.state).currency, key="currency")
    tax.text_input("Tax on top, %", key="tax_pct", placeholder="none", live=True)
    product, region, note = st.columns([3, 2, 4])
    region.text_input("Region", key="region", live=True)
    product.text_input("Product or brand", key="product", live=True)
    note.text_input("Note", key="note", live=True)
    return name


def _offer_the_last(book: TheBook, name: str) -> None:
    """Fill in pack and shop as they were the last time, when another ingredient is chosen."""
    state = st.session_state
    if state.get(_OFFERED_OF) == name and "pack" in state:
        return
    state[_OFFERED_OF] = name
    seen = history_of(book.state, name).observations
    state["pack"] = seen[0].pack if seen else ""
    state[SHOP] = seen[0].supplier if seen else None


def _typed(book: TheBook, name: str) -> dict[str, str]:
    """Return what stands in the fields now, named as the columns of a prices file."""
    state = st.session_state
    on: date = state.get("seen_on") or book.on
    typed = {column: str(state.get(key) or "") for column, key in _KEYS.items()}
    return {"ingredient": name, "date": on.isoformat(), **typed}


def _store(book: TheBook, name: str, unusual: dict[str, str] | None) -> None:
    """Store what stands in the fields; `unusual`: the fields that were said to be right."""
    fields = _typed(book, name)
    accept = fields == unusual
    attempt(
        lambda: add_price(book.book, fields, today=book.today, accept_unusual=accept),
        f"The price of {name}",
        clear=_CLEARED,
    )
