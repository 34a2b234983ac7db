"""Writes the tray as a file of decisions: sure proposals filled in, the others left open."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import fields

from ingest.matching.packs import is_bare
from ingest.new_food.facts import FactsProposed
from ingest.tray.listing import SURE, WaitingWords
from ingest.tray.new_facts import facts_of, known_series
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.names import guarded

COLUMNS = (
    "sender", "words", "ingredient", "pack", "product", "base", "category", "density_g_per_ml",
    "grams_each", "yield_pct", "series", "lines", "last_price", "currency", "score", "why",
)  # fmt: skip


def decisions_csv(book: Book, waiting: Sequence[WaitingWords]) -> str:
    """Return the tray as a file of decisions.

    Where no proposal is sure, the ingredient is left open and the row states the facts that a new
    ingredient may have, each with its source; they count only if the name written is new.
    """
    with reading(book) as con:
        series, measures = known_series(con), read_settings(con).measures
    out = io.StringIO()
    rows = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\n")
    rows.writeheader()
    for each in waiting:
        proposal = each.proposal
        sure = proposal is not None and proposal.score >= SURE
        facts = None if sure else facts_of(each, measures, series)
        cells = {
            "sender": each.sender or "",
            "words": each.words,
            "ingredient": proposal.ingredient if proposal is not None and sure else "",
            "pack": _pack(each) if sure else "",
            "lines": str(each.lines),
            "last_price": "" if each.last_price is None else f"{each.last_price:.10g}",
            "currency": each.currency or "",
            "score": "" if proposal is None else f"{proposal.score:.2f}",
            "why": "; ".join([*_why(each), *_sources(facts)]),
            **_values(facts),
        }
        rows.writerow({name: guarded(text) for name, text in cells.items()})
    return out.getvalue()


def _values(facts: FactsProposed | None) -> Mapping[str, str]:
    if facts is None or facts.base is None:
        return {}
    found = {each.name: getattr(facts, each.name) for each in fields(facts)}
    return {name: fact.value for name, fact in found.items() if fact is not None}


def _sources(facts: FactsProposed | None) -> list[str]:
    if facts is None or facts.base is None:
        return []
    found = {each.name: getattr(facts, each.name) for each in fields(facts)}
    return [
        f"{name.replace('_', ' ')} {fact.value}: {fact.source}"
        for name, fact in found.items()
        if fact is not None
    ]


def _pack(each: WaitingWords) -> str:
    """Return the pack to decide on; none where each line states its own."""
    if each.proposal is None or (each.pack and not is_bare(each.pack)):
        return ""
    return each.proposal.pack or ""


def _why(each: WaitingWords) -> list[str]:
    bare = [f"a pack of {each.pack}, and nothing says of what"] if is_bare(each.pack) else []
    proposal = each.proposal
    if proposal is None:
        return ["nothing like it is known", *bare]
    may = [proposal.ingredient] if proposal.score < SURE else []
    others = [f"perhaps {', '.join([*may, *proposal.others])}"] if may or proposal.others else []
    return [*proposal.why, *bare, *others]
