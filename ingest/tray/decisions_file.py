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
from pricing.names import NOT_AN_INGREDIENT, guarded

COLUMNS = (
    "sender", "words", "ingredient", "pack", "product", "base", "category", "density_g_per_ml",
    "grams_each", "yield_pct", "series", "lines", "last_price", "currency", "score", "why",
)  # fmt: skip


def decisions_csv(book: Book, waiting: Sequence[WaitingWords]) -> str:
    """Return the tray as a file of decisions.

    Where nothing like it is known, a new ingredient's name is proposed by the words, and its
    facts, each with its source; they count only if the name is new. Where a proposal is not sure,
    or nobody knows how a new ingredient is counted, the ingredient is left open.
    """
    with reading(book) as con:
        series, measures = known_series(con), read_settings(con).measures
    out = io.StringIO()
    rows = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\n")
    rows.writeheader()
    last = []  # a habit alone says how they are counted: rows that know it go first
    for each in waiting:
        proposal = each.proposal
        sure = proposal is not None and proposal.score >= SURE
        no_food = each.new_name == NOT_AN_INGREDIENT
        facts = None if sure or no_food else facts_of(each, measures, series)
        cells = {
            "sender": each.sender or "",
            "words": each.words,
            "ingredient": _ingredient(each, facts),
            "pack": _pack(each) if sure else "",
            "lines": str(each.lines),
            "last_price": "" if each.last_price is None else f"{each.last_price:.10g}",
            "currency": each.currency or "",
            "score": "" if proposal is None else f"{proposal.score:.2f}",
            "why": "; ".join([*_why(each, facts), *_sources(facts)]),
            **_values(facts),
        }
        written = {name: guarded(text) for name, text in cells.items()}
        if _is_habit(facts):
            last.append(written)
        else:
            rows.writerow(written)
    rows.writerows(last)
    return out.getvalue()


def _ingredient(each: WaitingWords, facts: FactsProposed | None) -> str:
    """Return what is filled in: a sure proposal, what is no food, or the name of a new one."""
    if each.proposal is not None:
        return each.proposal.ingredient if each.proposal.score >= SURE else ""
    counted = facts is not None and facts.base is not None and facts.base.sure
    return each.new_name or "" if counted or each.new_name == NOT_AN_INGREDIENT else ""


def _is_habit(facts: FactsProposed | None) -> bool:
    return facts is not None and facts.base is not None and not facts.base.sure


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


def _why(each: WaitingWords, facts: FactsProposed | None) -> list[str]:
    bare = [f"a pack of {each.pack}, and nothing says of what"] if is_bare(each.pack) else []
    proposal = each.proposal
    if proposal is None:
        return [*_without_proposal(each, facts), *bare]
    may = [proposal.ingredient] if proposal.score < SURE else []
    others = [f"perhaps {', '.join([*may, *proposal.others])}"] if may or proposal.others else []
    return [*proposal.why, *bare, *others]


def _without_proposal(each: WaitingWords, facts: FactsProposed | None) -> list[str]:
    if each.new_name == NOT_AN_INGREDIENT:
        return ["its words name no food"]
    if each.new_name is None:
        return ["nothing like it is known"]
    said = f"a proposal: make it a new ingredient, {each.new_name}"
    if _is_habit(facts):
        return [f"{said}; see whether its base is right"]
    return [said if _ingredient(each, facts) else f"{said}; write its base (g, ml or each)"]
