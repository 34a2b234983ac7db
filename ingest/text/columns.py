"""The declared columns of each kind of CSV file: name, whether it must be there, how it is read.

What each column says stands in `columns.csv`, for `load --help`.
"""

from __future__ import annotations

from dataclasses import dataclass

from ingest.text.readers import (
    Choice,
    Reader,
    allergens,
    currency,
    day,
    instant,
    marks,
    month,
    name,
    name_list,
    number,
    one_of,
    printed_amount,
    text,
)


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column of a kind of file."""

    name: str
    reader: Reader
    required: bool = False  # the column must be there, and no cell of it may be empty
    never_empty: str | None = None  # what is expected of an empty cell, where it is worth saying

    @property
    def words(self) -> tuple[str, ...]:
        """The words that a cell may be; none where it may be anything else."""
        return tuple(self.reader.words) if isinstance(self.reader, Choice) else ()


def _must(name: str, reader: Reader, never_empty: str | None = None) -> Column:
    return Column(name=name, reader=reader, required=True, never_empty=never_empty)


def _may(name: str, reader: Reader) -> Column:
    return Column(name=name, reader=reader)


_PERCENT = number(places=6, whole=3, most=100, noun="a percentage")
_TAX = number(places=4, whole=3, least=0, most=100, noun="a percentage")
_GRAMS = number(places=9)
_MONEY = number(places=4, whole=14)
_AMOUNT = number(places=6, whole=12)
_BASE = one_of("g", "ml", "each")
_STATE = one_of("as_purchased", "edible")
_PRICE_KIND = one_of("shelf", "offer", "receipt", "invoice", "quote")
_FREQUENCY = one_of("monthly", "quarterly")
_YES_NO = Choice(yes=True, no=False)
_A_LINE = "an ingredient in every row: a dish has at least one line"

TABLES: dict[str, tuple[Column, ...]] = {
    "ingredients": (
        _must("ingredient", name),
        _may("category", text),
        _must("base", _BASE),
        _may("density_g_per_ml", number(places=9)),
        _may("grams_each", _GRAMS),
        _may("yield_pct", _PERCENT),
        _may("series", text),
        _may("allergens", allergens),
        _may("aliases", name_list),
    ),
    "measures": (
        _must("ingredient", name),
        _must("measure", name),
        _must("grams", _GRAMS),
        _may("source", text),
    ),
    "prices": (
        _must("ingredient", name),
        _must("date", day),
        _must("price", _MONEY),
        _must("currency", currency),
        _must("pack", text),
        _may("supplier", name),
        _may("kind", _PRICE_KIND),
        _may("tax_pct", _TAX),
        _may("region", name),
        _may("product", name),
        _may("source", text),
        _may("note", text),
    ),
    "dishes": (
        _must("dish", name),
        _must("version", text),
        _must("effective_from", day),
        _must("portions", _AMOUNT),
        _may("batch_weight_g", _AMOUNT),
        _may("group", name),
        _may("minutes", _AMOUNT),
        _may("made_per_month", _AMOUNT),
        _may("target", _MONEY),
        _may("minutes_waiting", number(places=6, whole=12, least=0)),
        _may("energy_kwh", number(places=6, whole=12, least=0)),
        _may("pots", number(places=0, whole=4, least=0)),
        _may("marks", marks),
        _may("tasting_note", text),
        _must("ingredient", name, _A_LINE),
        _must("quantity", text),
        _must("unit", text),
        _may("state", _STATE),
        _may("yield_pct", _PERCENT),
        _may("pantry", _YES_NO),
        _may("note", text),
    ),
    "swaps": (
        _must("ingredient", name),
        _must("substitute", name),
        _must("ratio", number(places=9, least=0)),
        _may("note", text),
        _may("ratio_state", _STATE),
        _may("supplier", name),
        _may("product", name),
        _may("pack", text),
        _may("works_in", name_list),
        _may("not_in", name_list),
        _may("not_with", name_list),
        _may("only_with", name_list),
        _may("disturbance", number(places=4, whole=5)),
    ),
    "printed": (
        _must("dish", name),
        _must("version", text),
        _must("published_on", day),
        _must("cost_per_portion", printed_amount),
        _must("currency", currency),
        _may("costed_on", day),
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
        _may("base_label", text),
        _may("frequency", _FREQUENCY),
        _may("note", text),
    ),
    "decisions": (
        _may("sender", name),
        _must("words", name),
        _may("ingredient", name),
        _may("pack", text),
        _may("product", name),
        # facts of an ingredient that the decision makes
        _may("base", _BASE),
        _may("category", text),
        _may("density_g_per_ml", number(places=9)),
        _may("grams_each", _GRAMS),
        _may("yield_pct", _PERCENT),
        _may("series", text),
        # what the tray says beside a line, for the eye
        _may("lines", text),
        _may("last_price", text),
        _may("currency", text),
        _may("score", text),
        _may("why", text),
    ),
}
KINDS = tuple(TABLES)  # in the order in which a new kitchen loads them
REASON = "reason"  # the column that --skip-bad adds to refused rows, and that a load ignores
