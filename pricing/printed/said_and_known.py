"""What we said when a figure was recorded, beside what we know of that same day now."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.days import Day, read_day
from pricing.dishes.cost import cost_in
from pricing.errors import RecipeRefused, UnknownName
from pricing.prices.evidence import weakest
from pricing.prices.rule import Rule
from pricing.printed.evidence import Frozen, frozen_figures


@dataclass(frozen=True, kw_only=True)
class AsCosted(Answer):
    """An ingredient in one of the two costings. Per portion, money in the figure's currency."""

    as_purchased: float | None  # in its base unit
    unit_price: float | None
    cost: float | None
    basis: str  # observed, bridged or missing


@dataclass(frozen=True, kw_only=True)
class LineSaid(Answer):
    """An ingredient as it was said, and as it is known."""

    ingredient: str
    base: str | None
    said: AsCosted | None  # None: it was not in the recipe
    known: AsCosted | None  # None: it is not in the recipe any more
    change: float  # known − said, currency per portion


@dataclass(frozen=True, kw_only=True)
class SaidAndKnown(Answer):
    """A printed figure whose evidence is kept, costed anew for its own day."""

    dish: str
    version: str
    published_on: date
    costed_on: date  # the day whose prices and sub-recipes both costings take
    printed: float
    as_printed: str | None  # where the words say more than the number
    currency: str
    where: str | None
    recorded_at: str  # UTC, ISO 8601
    said: float  # cost per portion as it was told when recorded, not rounded
    known: float | None  # by what the book holds now; None: it cannot be costed any more
    known_complete: bool
    change: float | None  # known − said = the sum over the lines
    reason: str | None  # why it cannot be costed any more
    lines: tuple[LineSaid, ...]  # those that changed, largest first
    evidence: dict[str, Any]  # as kept
    evidence_sha256: str


def said_and_known(
    book: Book, dish: str | None = None, *, published_on: Day | None = None
) -> list[SaidAndKnown]:
    """Return each figure with kept evidence (of one dish, of one date) beside what is known now.

    Known now: the same version costed for the same day from the book as it stands, with prices
    added, retracted or corrected since, series revised and recipes replaced.
    Raises BookUnreadable.
    """
    day = None if published_on is None else read_day(published_on)
    kept = [each for each in frozen_figures(book, dish) if day is None or each.published_on == day]
    return [_compared(book, each) for each in kept]


def _compared(book: Book, frozen: Frozen) -> SaidAndKnown:
    costing = frozen.evidence["costing"]
    said = _by_ingredient(costing["lines"], costing["portions"])
    known: dict[str, tuple[str | None, AsCosted]] = {}
    figure, complete, reason = None, False, None
    try:
        with reading(book) as con:
            rule = Rule.of(read_settings(con), currency=frozen.currency)
            day = frozen.costed_on
            now = cost_in(
                con, rule, frozen.dish, on=day, version=frozen.version, recipe_day=day,
                pantry=frozen.evidence.get("pantry_counted", True),
            )  # fmt: skip
    except (UnknownName, RecipeRefused) as refused:
        reason = str(refused)
    else:
        figure, complete = now.cost_per_portion, now.complete
        known = _by_ingredient([line.as_json() for line in now.lines], now.portions)
    changed = [] if reason else [_line(name, said, known) for name in said.keys() | known.keys()]
    return SaidAndKnown(
        dish=frozen.dish,
        version=frozen.version,
        published_on=frozen.published_on,
        costed_on=frozen.costed_on,
        printed=frozen.printed,
        as_printed=frozen.as_printed,
        currency=frozen.currency,
        where=frozen.published_where,
        recorded_at=frozen.recorded_at.isoformat(timespec="seconds"),
        said=costing["cost_per_portion"],
        known=figure,
        known_complete=complete,
        change=None if figure is None else figure - costing["cost_per_portion"],
        reason=reason,
        lines=tuple(
            sorted(
                (line for line in changed if not _same(line.said, line.known)),
                key=lambda line: (-abs(line.change), line.ingredient),
            )
        ),
        evidence=frozen.evidence,
        evidence_sha256=frozen.evidence_sha256,
    )


def _same(said: AsCosted | None, known: AsCosted | None) -> bool:
    """Tell whether both say the same, but for the last digits of a sum."""
    if said is None or known is None or said.basis != known.basis:
        return said is known
    return all(
        a == b or (a is not None and b is not None and math.isclose(a, b, rel_tol=1e-9))
        for a, b in (
            (said.as_purchased, known.as_purchased),
            (said.unit_price, known.unit_price),
            (said.cost, known.cost),
        )
    )


def _by_ingredient(
    lines: list[dict[str, Any]], portions: float
) -> dict[str, tuple[str | None, AsCosted]]:
    """Return ingredient → (base, as costed), its lines together, sub-recipes unfolded."""
    found: dict[str, tuple[str | None, AsCosted]] = {}
    for line in _flat(lines):
        bought, cost = line["as_purchased"], line["cost"]
        costed = AsCosted(
            as_purchased=None if bought is None else bought / portions,
            unit_price=line["unit_price"],
            cost=None if cost is None else cost / portions,
            basis=line["basis"],
        )
        if line["ingredient"] in found:
            costed = _together(found[line["ingredient"]][1], costed)
        found[line["ingredient"]] = (line["base"], costed)
    return found


def _together(one: AsCosted, other: AsCosted) -> AsCosted:
    """Return two lines of one ingredient as one; what is unknown in either is unknown."""
    return replace(
        other,
        as_purchased=_sum(one.as_purchased, other.as_purchased),
        cost=_sum(one.cost, other.cost),
        basis=weakest((one.basis, other.basis)),
    )


def _sum(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one + other


def _flat(lines: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [
        each for line in lines for each in (_flat(line["lines"]) if line.get("lines") else [line])
    ]


def _line(
    name: str,
    said: dict[str, tuple[str | None, AsCosted]],
    known: dict[str, tuple[str | None, AsCosted]],
) -> LineSaid:
    base, before = said.get(name, (None, None))
    base_now, after = known.get(name, (base, None))
    costs = [each.cost or 0.0 if each else 0.0 for each in (before, after)]
    return LineSaid(
        ingredient=name, base=base_now, said=before, known=after, change=costs[1] - costs[0]
    )
