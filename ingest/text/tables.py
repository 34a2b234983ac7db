"""The declared columns of each kind of CSV file: name, whether it must be there, how it is read."""

from __future__ import annotations

from dataclasses import dataclass

from ingest.text.readers import (
    Reader,
    allergens,
    choice,
    currency,
    day,
    instant,
    month,
    name,
    name_list,
    number,
    text,
)


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column of a kind of file."""

    name: str
    reader: Reader
    required: bool = False  # the column must be there, and no cell of it may be empty
    never_empty: str | None = None  # what is expected of an empty cell, where it is worth saying


def _must(name: str, reader: Reader, never_empty: str | None = None) -> Column:
    return Column(name=name, reader=reader, required=True, never_empty=never_empty)


def _may(name: str, reader: Reader) -> Column:
    return Column(name=name, reader=reader)


_PERCENT = number(places=6, whole=3, most=100, noun="a percentage")
_GRAMS = number(places=9)
_YES_NO = choice(yes=True, no=False)

TABLES: dict[str, tuple[Column, ...]] = {
    "ingredients": (
        _must("ingredient", name),
        _may("category", text),
        _must("base", choice(g="g", ml="ml", each="each")),
        _may("density_g_per_ml", number(places=9)),
        _may("grams_each", _GRAMS),
        _may("yield_pct", _PERCENT),
        _may("series", text),
        _may("allergens", allergens),  # empty = unknown, none = stated as none
        _may("aliases", name_list),
    ),
    "measures": (
        _must("ingredient", name),
        _must("measure", name),
        _must("grams", _GRAMS),  # as purchased
        _may("source", text),
    ),
    "prices": (
        _must("ingredient", name),
        _must("date", day),
        _must("price", number(places=4, whole=14)),  # of the whole pack
        _must("currency", currency),
        _must("pack", text),
        _may("supplier", name),
        _may(
            "kind",
            choice(
                shelf="shelf", offer="offer", receipt="receipt", invoice="invoice", quote="quote"
            ),
        ),
        _may("tax_pct", number(places=4, whole=3, least=0, most=100, noun="a percentage")),
        _may("region", name),
        _may("product", name),
        _may("source", text),
        _may("note", text),
    ),
    "dishes": (
        _must("dish", name),
        _must("version", text),
        _must("effective_from", day),
        _must("portions", number(places=6, whole=12)),
        _may("batch_weight_g", number(places=6, whole=12)),
        _may("group", name),  # of dishes: soups, bakes
        _may("minutes", number(places=6, whole=12)),  # of work, per batch
        _may("made_per_month", number(places=6, whole=12)),  # batches
        _may("target", number(places=4, whole=14)),  # cost per portion, in the book's currency
        _must("ingredient", name, "an ingredient in every row: a dish has at least one line"),
        _must("quantity", text),
        _must("unit", text),
        _may("state", choice(as_purchased="as_purchased", edible="edible")),
        _may("yield_pct", _PERCENT),
        _may("pantry", _YES_NO),
        _may("note", text),
    ),
    "swaps": (
        _must("ingredient", name),
        _must("substitute", name),
        # as-purchased g, ml or each per base unit of ingredient; of another dish, g; 0 = left out
        _must("ratio", number(places=9, least=0)),
        _may("note", text),
        _may("ratio_state", choice(as_purchased="as_purchased", edible="edible")),
        _may("supplier", name),  # only prices from there count for the substitute
        _may("product", name),
        _may("pack", text),
        _may("works_in", name_list),  # dishes, or group:NAME; empty = anywhere
        _may("not_in", name_list),
        _may("not_with", name_list),  # substitutes that it cannot be combined with
        _may("only_with", name_list),  # substitutes of which it needs one
        _may("disturbance", number(places=4, whole=5)),  # what this change costs the cook; 1 unless
    ),
    "claims": (
        _must("dish", name),
        _must("version", text),
        _must("published_on", day),
        _must("cost_per_portion", number(places=4, whole=14)),
        _must("currency", currency),
        _may("where", text),
        _may("note", text),
        # what an export says of a figure whose evidence was kept when it was recorded
        _may("recorded_at", instant),
        _may("evidence_sha256", text),
        _may("evidence", text),
    ),
    "index": (
        _must("series", text),
        _must("month", month),
        _must("value", number(places=20, whole=15)),
        _may("title", text),
        _may("parent", text),
        _may("classification", text),
        _may("seasonally_adjusted", _YES_NO),
        _may("released_on", day),
        _may("base_label", text),  # index reference period as the office writes it: 2015=100
        _may("frequency", choice(monthly="monthly", quarterly="quarterly")),
        _may("note", text),  # on the series
    ),
}
KINDS = tuple(TABLES)  # in the order in which a new kitchen loads them
REASON = "reason"  # the column that --skip-bad adds to refused rows, and that a load ignores
