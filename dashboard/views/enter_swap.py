"""One swap by hand: what is wrong with it is said before anything is stored."""

from __future__ import annotations

from dataclasses import replace as changed

import streamlit as st

from dashboard.views.book import TheBook
from dashboard.views.choices import start_here
from dashboard.views.loaders import dishes_of, ingredients_of, suppliers_of
from dashboard.views.outcome import attempt
from dashboard.words.markdown import plain
from ingest.load import add_swap
from ingest.problem_codes import Code
from pricing.errors import Problem
from pricing.swaps.swap import DISH, LEAVE_OUT

_CLEARED = ("swap ratio", "swap note", "swap product", "swap pack", "swap disturbance")
_REMEDIES: dict[str | None, str] = {  # where the terminal's name an option
    Code.FACT_DIFFERS: "Correct it, or tick the box above to replace the swap.",
    Code.DISH_UNWEIGHED: (
        "Load that dish with its batch_weight_g first, in the room Book, with the tick box there."
    ),
}


def enter_swap(book: TheBook) -> None:
    """Draw the form and the button that stores the swap."""
    known = {each.ingredient: each for each in ingredients_of(book.state)}
    if not known:
        start_here("ingredients")
        return
    fields = _fields(book, list(known))
    ingredient, substitute = fields["ingredient"], fields["substitute"]
    units = known[substitute].base if substitute in known else "g"
    if substitute != LEAVE_OUT:
        st.caption(
            plain(
                f"Ratio: how many {units} of {substitute.removeprefix(DISH)} take the place of "
                f"1 {known[ingredient].base} of {ingredient}, as purchased."
            )
        )
    if not fields["ratio"].strip():
        st.info("Give the ratio to see whether the swap can be stored.", icon=":material/edit:")
        return
    replace = st.checkbox("Replace this swap if the book has it with other facts", key="swap again")
    seen = add_swap(book.book, fields, today=book.today, dry_run=True, replace=replace)
    if seen.problems:
        st.warning("\n".join(f"- {plain(_sentence(each))}" for each in seen.problems))
        return
    if seen.already:
        st.info("The book holds this very swap already.")
        return
    st.button("Store this swap", type="primary", on_click=_store, args=(book, fields, replace))


def _sentence(problem: Problem) -> str:
    remedy = _REMEDIES.get(problem.code, problem.remedy)
    return changed(problem, remedy=remedy).sentence()


def _fields(book: TheBook, names: list[str]) -> dict[str, str]:
    """Draw the fields and return their texts, named as the columns of a swaps file."""
    dishes = [each.dish for each in dishes_of(book.state)]
    substitutes = [*names, *(f"{DISH}{dish}" for dish in dishes), LEAVE_OUT]
    return {
        **_what_for_what(names, substitutes),
        **_where_it_works(dishes, substitutes),
        **_of_what_purchase(suppliers_of(book.state)),
    }


def _what_for_what(names: list[str], substitutes: list[str]) -> dict[str, str]:
    what, other, many = st.columns([3, 3, 2])
    ingredient = what.selectbox("Replace", names, key="swap ingredient")
    substitute = other.selectbox(
        "With", substitutes, key="swap substitute", index=len(substitutes) - 1
    )
    nothing = substitute == LEAVE_OUT
    ratio = many.text_input(
        "Ratio", key="swap ratio", placeholder="0.9", live=True, disabled=nothing
    )
    edible = st.checkbox(
        "The ratio is of edible portions (the yields of both turn it into what is bought)",
        key="swap edible", disabled=nothing,
    )  # fmt: skip
    note = st.text_input("Note", key="swap note", placeholder="not for pastry")
    return {
        "ingredient": ingredient,
        "substitute": substitute,
        "ratio": "0" if nothing else ratio or "",
        "ratio_state": "edible" if edible and not nothing else "",
        "note": note or "",
    }


def _where_it_works(dishes: list[str], substitutes: list[str]) -> dict[str, str]:
    here, there = st.columns(2)
    works_in = here.multiselect(
        "Works only in", dishes, key="swap works in", accept_new_options=True,
        placeholder="any dish, or group:NAME",
    )  # fmt: skip
    not_in = there.multiselect(
        "Does not work in", dishes, key="swap not in", accept_new_options=True,
        placeholder="dishes, or group:NAME",
    )  # fmt: skip
    not_with = here.multiselect(
        "Not together with", substitutes, key="swap not with",
        placeholder="substitutes of other swaps",
    )  # fmt: skip
    only_with = there.multiselect(
        "Only together with one of", substitutes, key="swap only with",
        placeholder="substitutes of other swaps",
    )  # fmt: skip
    return {
        "works_in": "; ".join(works_in),
        "not_in": "; ".join(not_in),
        "not_with": "; ".join(not_with),
        "only_with": "; ".join(only_with),
    }


def _of_what_purchase(suppliers: list[str]) -> dict[str, str]:
    shop, brand, size, cost = st.columns(4)
    return {
        "supplier": shop.selectbox(
            "Bought from", suppliers, index=None, key="swap supplier", placeholder="anywhere",
        ) or "",
        "product": brand.text_input("Product", key="swap product") or "",
        "pack": size.text_input("Pack", key="swap pack", placeholder="as logged") or "",
        "disturbance": cost.text_input(
            "Disturbance", key="swap disturbance", placeholder="1",
            help="What this change costs you, beside the others: 2 disturbs as much as two.",
        ) or "",
    }  # fmt: skip


def _store(book: TheBook, fields: dict[str, str], replace: bool) -> None:
    attempt(
        lambda: add_swap(book.book, fields, today=book.today, replace=replace),
        f"The swap of {fields['substitute']} for {fields['ingredient']}",
        clear=_CLEARED,
    )
