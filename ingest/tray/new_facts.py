"""Proposes the facts of an ingredient that a decision would make, each with its source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ingest.kinds.waiting_amount import SOME
from ingest.matching.packs import is_bare
from ingest.new_food.facts import Fact, FactsProposed, propose_facts
from ingest.offices.facts.offices import office_of
from ingest.offices.suggest import series_to_choose_from
from ingest.tray.listing import WaitingWords
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings, rows

_BY_THE_PIECE = Fact(
    value="each",
    source="its price names no pack and no weight, so by the piece (common practice, no source)",
    sure=False,
)


def new_facts(book: Book, each: WaitingWords, name: str = "") -> FactsProposed:
    """Return what an ingredient of this name may be like, by the lines that wait.

    Without a name it is taken from the description. Allergens are unknown until someone reads a
    label. Raises BookUnreadable.
    """
    with reading(book) as con:
        return facts_of(each, read_settings(con).measures, known_series(con), name)


def facts_of(
    each: WaitingWords, measures: str, series: Mapping[str, str], name: str = ""
) -> FactsProposed:
    """Return the same, with what the book knows given."""
    packs = [each.pack] if each.pack and not is_bare(each.pack) else []
    amounts = [] if packs else [each for each in each.amounts if not each.endswith(f" {SOME}")]
    found = propose_facts(
        name or each.new_name or each.words,
        [each.words],
        packs or amounts,
        measures=measures,
        known_series=series,
    )
    if amounts and found.base is not None and "pack" in found.base.source:  # nobody sold it yet
        base = replace(found.base, source=f"by its recipes, which take {', '.join(amounts[:3])}")
        found = replace(found, base=base)
    if found.base is None and each.last_price is not None and each.pack is None:
        found = replace(found, base=_BY_THE_PIECE)
    return found


def known_series(con: Connection) -> dict[str, str]:
    """Return id → title of the official series that a book of its currency may choose from."""
    currency = read_settings(con).currency
    found = series_to_choose_from(rows(con, "contents/series_list"), currency, None)
    return {
        series: title
        for series, (title, _) in found.items()
        if (office := office_of(series)) is None or office.currency == currency
    }
