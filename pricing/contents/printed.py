"""The published figures that the book holds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import rows


@dataclass(frozen=True, kw_only=True)
class Claim(Answer):
    """One published cost per portion."""

    dish: str
    version: str
    published_on: date
    cost_per_portion: float  # as printed, in `currency`
    currency: str
    published_where: str | None
    note: str | None


def list_claims(book: Book) -> list[Claim]:
    """Return every published figure in force, by dish, then date."""
    with reading(book) as con:
        return [Claim(**row) for row in rows(con, "contents/claims")]


def first_claims(book: Book) -> list[Claim]:
    """Return the first published figure of each dish that has one, by dish."""
    first: dict[str, Claim] = {}
    for claim in list_claims(book):
        first.setdefault(claim.dish, claim)
    return list(first.values())
