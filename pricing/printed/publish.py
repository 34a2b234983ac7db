"""Records a published figure from a costing, and keeps what it rested on that day."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from pricing.answer import Answer
from pricing.book import known
from pricing.book.append import Source, append_batch, reserve_row_ids
from pricing.book.connect import Book, Connection, writing
from pricing.book.read import read_settings
from pricing.clock import asked_day, now
from pricing.days import Day, day_words
from pricing.dishes.cost import DishCost, cost_in
from pricing.dishes.recipes import find_dish
from pricing.errors import InputRefused, NotComplete
from pricing.money import round_money, show_money
from pricing.names import name_key
from pricing.prices.rule import Rule
from pricing.printed.evidence import as_text, evidence_of, sha256

BY_HAND = "by hand"  # the file name of such a batch


@dataclass(frozen=True, kw_only=True)
class Recorded(Answer):
    """A figure that was recorded, and the load that takes it back."""

    dish: str
    version: str
    published_on: date
    claimed: Decimal  # the costing, rounded as it is printed
    currency: str
    where: str | None
    recorded_at: datetime  # UTC
    batch: int
    evidence_sha256: str


def record_claim(
    book: Book,
    dish: str,
    *,
    on: Day,
    version: str | None = None,
    where: str | None = None,
    note: str | None = None,
) -> Recorded:
    """Cost a dish for a date, record the rounded figure as published then, and freeze its evidence.

    The costing is that of `cost_dish`: the version in force on `on` unless one is named, in the
    book's currency. Every line, price, source and index release behind it is kept as one text with
    its SHA-256, which nothing later changes.
    Raises NotComplete when a line has no price, InputRefused when the book holds this very figure,
    UnknownName, DateRefused, RecipeRefused, BookUnreadable.
    """
    on = asked_day(on)
    with writing(book) as con:
        settings = read_settings(con)
        rule = Rule.of(settings)
        cost = cost_in(con, rule, dish, on=on, version=version)
        figure = _Figure(
            cost=cost,
            dish_id=find_dish(con, dish),
            amount=_amount(cost),
            where=where or None,
            note=note or None,
        )
        _refuse_known(con, figure)
        evidence = as_text(evidence_of(con, settings, cost))
        recorded_at = now()
        batch = _append(con, figure, evidence, recorded_at)
    return Recorded(
        dish=cost.dish,
        version=cost.version,
        published_on=on,
        claimed=figure.amount,
        currency=cost.currency,
        where=figure.where,
        recorded_at=recorded_at,
        batch=batch,
        evidence_sha256=sha256(evidence),
    )


@dataclass(frozen=True, kw_only=True)
class _Figure:
    """A figure about to be recorded."""

    cost: DishCost
    dish_id: int
    amount: Decimal  # as it is printed
    where: str | None
    note: str | None


def _append(con: Connection, figure: _Figure, evidence: str, recorded_at: datetime) -> int:
    """Store the figure with its evidence, as a load of its own, and return the load's number."""
    cost, raw = figure.cost, _as_csv(figure)
    (row_id,) = reserve_row_ids(con, 1)
    return append_batch(
        con,
        Source(kind="claims", file_name=BY_HAND, file_sha256=sha256(raw), added=1, already=0),
        {
            "claim": {
                "row_id": [row_id],
                "line": [None],
                "raw": [raw.splitlines()[1]],
                "dish_id": [figure.dish_id],
                "version": [cost.version],
                "published_on": [cost.on],
                "cost_per_portion": [figure.amount],
                "currency": [cost.currency],
                "published_where": [figure.where],
                "note": [figure.note],
            },
            "claim_evidence": {
                "line": [None],
                "raw": [None],
                "claim_row": [row_id],
                "recorded_at": [recorded_at],
                "evidence": [evidence],
                "evidence_sha256": [sha256(evidence)],
            },
        },
    )


def _amount(cost: DishCost) -> Decimal:
    """Return the figure as it is printed. Raises NotComplete."""
    gaps = sorted({line.ingredient for line in cost.ingredient_lines() if line.basis == "missing"})
    if gaps:
        raise NotComplete(
            f"Found no price of {', '.join(gaps)} for '{cost.dish}' on {day_words(cost.on)}; "
            'expected every line priced: a figure that is only "at least" is not published. '
            "Log the missing prices first."
        )
    amount = round_money(cost.cost_per_portion, cost.currency)
    if amount <= 0:
        raise NotComplete(
            f"Found that a portion of '{cost.dish}' costs {show_money(amount, cost.currency)} on "
            f"{day_words(cost.on)}; expected an amount above nothing. Check the number of portions."
        )
    return amount


def _refuse_known(con: Connection, figure: _Figure) -> None:
    """Raise InputRefused when the book holds this very figure."""
    cost, amount = figure.cost, figure.amount
    new = (
        figure.dish_id, cost.version, cost.on, amount, cost.currency, name_key(figure.where or ""),
    )  # fmt: skip
    if any((*claim[:5], name_key(claim[5] or "")) == new for claim in known.claims(con)):
        raise InputRefused(
            f"Found {show_money(amount, cost.currency)} for '{cost.dish}', version {cost.version}, "
            f"of {day_words(cost.on)} in the book already; expected a new figure. See it with "
            "`portiondrift claims`."
        )


def _as_csv(figure: _Figure) -> str:
    """Return the figure as a file of published figures would give it."""
    cost, out = figure.cost, io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    columns = "dish,version,published_on,cost_per_portion,currency,where,note"
    writer.writerow(columns.split(","))
    writer.writerow(
        [
            cost.dish, cost.version, cost.on.isoformat(), f"{figure.amount:f}", cost.currency,
            " ".join((figure.where or "").split()), " ".join((figure.note or "").split()),
        ]
    )  # fmt: skip
    return out.getvalue()
