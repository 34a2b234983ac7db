"""One price by hand: what was understood is shown before anything is stored."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.loaders import settings_of, suppliers_of
from dashboard.views.outcome import attempt
from dashboard.words.markdown import plain
from ingest.load import PricePreview, add_price, preview_price

KINDS = ("shelf", "offer", "receipt", "invoice", "quote")
_CLEARED = ("price", "pack", "tax_pct", "product", "note", "unusual")  # after a price is stored


def enter_price(book: TheBook, names: Sequence[str], ingredient: str) -> None:
    """Draw the form, what was understood of it, and the button that stores it."""
    fields = _fields(book, names, ingredient)
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
        args=(book, fields, seen.unusual),
    )


def _fields(book: TheBook, names: Sequence[str], ingredient: str) -> dict[str, str]:
    """Draw the fields and return their texts, named as the columns of a prices file."""
    what, price, pack, day = st.columns([3, 2, 2, 2])
    name = what.selectbox(
        "Ingredient", names, index=names.index(ingredient), key=f"price of {ingredient}"
    )
    amount = price.text_input("Price of the pack", key="price", placeholder="3.19", live=True)
    size = pack.text_input("Pack", key="pack", placeholder="1 lb, 6 x 330 ml, 12 each", live=True)
    on = day.date_input(
        "Seen on", value=book.on, max_value=book.on, format="YYYY-MM-DD", key="seen_on",
    ) or book.on  # fmt: skip
    shop, kind, currency, tax = st.columns([3, 2, 2, 2])
    supplier = shop.selectbox(
        "Supplier", suppliers_of(book.state), index=None, accept_new_options=True,
        key="supplier", placeholder="Choose, or write a new one",
    )  # fmt: skip
    sort = kind.selectbox("Kind", KINDS, key="kind", help="An offer does not count as typical.")
    money = currency.text_input("Currency", value=settings_of(book.state).currency, key="currency")
    percent = tax.text_input("Tax on top, %", key="tax_pct", placeholder="none")
    product, region, note = st.columns([3, 2, 4])
    return {
        "ingredient": name or "",
        "date": on.isoformat(),
        "price": amount or "",
        "currency": money or "",
        "pack": size or "",
        "supplier": supplier or "",
        "kind": sort or "",
        "tax_pct": percent or "",
        "region": region.text_input("Region", key="region") or "",
        "product": product.text_input("Product or brand", key="product") or "",
        "note": note.text_input("Note", key="note") or "",
    }


def _store(book: TheBook, fields: dict[str, str], unusual: bool) -> None:
    attempt(
        lambda: add_price(book.book, fields, today=book.today, accept_unusual=unusual),
        f"The price of {fields['ingredient']}",
        clear=_CLEARED,
    )
