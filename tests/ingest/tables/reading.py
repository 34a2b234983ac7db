"""How the tests of this folder read a table: text or bytes in, lines out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from ingest.tables.grid import Grid
from ingest.tables.layout import Layout
from ingest.tables.price_lines import Lines, lines_of_table
from ingest.tables.propose import Proposal, propose
from ingest.tables.read import read_grids
from pricing.errors import Problem

TODAY = date(2026, 11, 24)
TOLD = {"sender": "Pimpel", "currency": "EUR", "kind": "receipt"}  # what most tables do not say


def grids(content: str | bytes) -> tuple[Grid, ...]:
    read = read_grids(content.encode() if isinstance(content, str) else content)
    assert not any(isinstance(each, Problem) for each in read), read
    return read  # type: ignore[return-value]


def refusal(content: bytes) -> str:
    """Return the one sentence that a file is refused with."""
    read = read_grids(content)
    assert len(read) == 1
    assert isinstance(read[0], Problem)
    return read[0].sentence()


def proposed(
    content: str | bytes,
    told: Mapping[str, str] | None = None,
    *,
    kind: str = "prices",
    currency: str = "EUR",
    saved: Mapping[str, Layout] | None = None,
) -> Proposal:
    return propose(
        grids(content), kind=kind, today=TODAY, currency=currency, saved=saved or {},
        told=TOLD if told is None else told,
    )  # fmt: skip


def asked(proposal: Proposal) -> list[str]:
    return [question.name for question in proposal.questions]


def lines(
    content: str | bytes, told: Mapping[str, str] | None = None, currency: str = "EUR"
) -> Lines:
    """Return the lines of a table that needs nothing more to be told."""
    proposal = proposed(content, told, currency=currency)
    assert proposal.sure, proposal.questions
    return lines_of_table(proposal.table, proposal.layout, day=proposal.day)
