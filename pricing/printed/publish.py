"""Records a printed figure beside its costing, and keeps what that rests on."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from pricing.answer import Answer
from pricing.book import known
from pricing.book.append import BY_HAND, Source, append_batch, reserve_row_ids
from pricing.book.connect import Book, Connection, writing
from pricing.book.read import read_settings
from pricing.clock import now, refuse_future, today
from pricing.contents.house_rules import HouseRules
from pricing.days import Day, day_words, read_day
from pricing.dishes.cost import DishCost, Recipe, cost_in
from pricing.dishes.recipes import read_dish
from pricing.errors import InputRefused, NotComplete
from pricing.money import show_money
from pricing.prices.rule import Rule
from pricing.printed.amount import PrintedAmount, read_printed_amount, sign_of_another_currency
from pricing.printed.evidence import as_text, evidence_of, sha256


@dataclass(frozen=True, kw_only=True)
class Recorded(Answer):
    """A figure that was recorded, and the load that takes it back."""

    dish: str
    version: str
    published_on: date
    costed_on: date  # the day whose prices and sub-recipes it rests on
    printed: Decimal
    as_printed: str | None  # where the words say more than the number
    currency: str
    cost_per_portion: float  # the costing kept as evidence
    where: str | None
    recorded_at: datetime  # UTC
    load: int
    evidence_sha256: str


def record_printed(
    book: Book,
    dish: str,
    *,
    on: Day,
    printed: str | None = None,
    costed_on: Day | None = None,
    version: str | None = None,
    where: str | None = None,
    note: str | None = None,
) -> Recorded:
    """Record a figure printed on a day, or that will be, and keep the costing it rests on.

    `printed` is the amount in the book's currency, words and all; else the costing, by the house's
    rules of rounding and of the store cupboard.
    The costing is for `costed_on` (the day of publication, or today where that lies ahead), of the
    version in force on the day of publication unless one is named, with the sub-recipes of
    `costed_on`. All that is behind it is kept as one text, which nothing later changes.
    Raises NotComplete when a line has no price, InputRefused when the book holds this very figure
    or the days contradict each other, MeasureRefused (an amount that cannot be read), UnknownName,
    DateRefused (costed for a day after today), RecipeRefused, BookUnreadable.
    """
    on = read_day(on)
    day = _day_costed(on, None if costed_on is None else read_day(costed_on))
    with writing(book) as con:
        settings = read_settings(con)
        dish_id, recipes = read_dish(con, dish)
        label = version or recipes.in_force(dish_id, on)[0].version
        house, rule = HouseRules.of(settings), Rule.of(settings)
        recipe = Recipe(version=label, recipe_day=day, pantry=house.pantry)
        cost = cost_in(con, rule, dish, on=day, **recipe)
        rounded = PrintedAmount(amount=_amount(cost, house), words=None)
        figure = _Figure(
            cost=cost,
            dish_id=dish_id,
            published_on=on,
            amount=rounded if printed is None else _read(printed, cost.currency),
            where=where or None,
            note=note or None,
        )
        _refuse_known(con, figure)
        evidence = as_text(evidence_of(con, settings, cost))
        recorded_at = now()
        load = _append(con, figure, evidence, recorded_at)
    return figure.recorded(recorded_at, load, sha256(evidence))


def _day_costed(on: date, costed_on: date | None) -> date:
    """Return the day a figure rests on. Raises DateRefused, InputRefused."""
    day = min(on, today()) if costed_on is None else costed_on
    refuse_future(day)
    if day > on:
        raise InputRefused(
            f"Found a figure published on {day_words(on)} and costed for {day_words(day)}; "
            "expected it costed on or before the day it was published. Correct one of the days."
        )
    return day


@dataclass(frozen=True, kw_only=True)
class _Figure:
    """A figure about to be recorded."""

    cost: DishCost
    dish_id: int
    published_on: date
    amount: PrintedAmount
    where: str | None
    note: str | None

    def recorded(self, at: datetime, load: int, evidence_sha256: str) -> Recorded:
        """Return what came of it, once it is stored."""
        cost = self.cost
        return Recorded(
            dish=cost.dish,
            version=cost.version,
            published_on=self.published_on,
            costed_on=cost.on,
            printed=self.amount.amount,
            as_printed=self.amount.words,
            currency=cost.currency,
            cost_per_portion=cost.cost_per_portion,
            where=self.where,
            recorded_at=at,
            load=load,
            evidence_sha256=evidence_sha256,
        )


def _read(printed: str, currency: str) -> PrintedAmount:
    """Return a printed amount. Raises MeasureRefused, InputRefused (another currency's sign)."""
    read = read_printed_amount(printed)
    sign = sign_of_another_currency(read.words, currency)
    if sign is not None:
        raise InputRefused(
            f"Found '{read.words}', an amount in {sign}; expected one in {currency}, the book's "
            "currency. Load figures in another currency from a file: `portiondrift load printed "
            "FILE`."
        )
    return read


def _append(con: Connection, figure: _Figure, evidence: str, recorded_at: datetime) -> int:
    """Store the figure with its evidence, as a load of its own, and return the load's number."""
    cost, raw = figure.cost, _as_csv(figure)
    (row_id,) = reserve_row_ids(con, 1)
    return append_batch(
        con,
        Source(kind="printed", file_name=BY_HAND, file_sha256=sha256(raw), added=1, already=0),
        {
            "printed_figure": {
                "row_id": [row_id],
                "line": [None],
                "raw": [raw.splitlines()[1]],
                "dish_id": [figure.dish_id],
                "version": [cost.version],
                "published_on": [figure.published_on],
                "cost_per_portion": [figure.amount.amount],
                "currency": [cost.currency],
                "published_where": [figure.where],
                "note": [figure.note],
            },
            "printed_detail": {
                "line": [None],
                "raw": [None],
                "figure_row": [row_id],
                "costed_on": [cost.on],
                "as_printed": [figure.amount.words],
            },
            "printed_evidence": {
                "line": [None],
                "raw": [None],
                "figure_row": [row_id],
                "recorded_at": [recorded_at],
                "evidence": [evidence],
                "evidence_sha256": [sha256(evidence)],
            },
        },
    )


def _amount(cost: DishCost, house: HouseRules) -> Decimal:
    """Return the costing as it would be printed. Raises NotComplete."""
    gaps = sorted({line.ingredient for line in cost.ingredient_lines() if line.basis == "missing"})
    if gaps:
        raise NotComplete(
            f"Found no price of {', '.join(gaps)} for '{cost.dish}' on {day_words(cost.on)}; "
            'expected every line priced: a figure that is only "at least" is not published. '
            "Log the missing prices first."
        )
    amount = house.figure(cost.cost_per_portion, cost.currency)
    if amount <= 0:
        raise NotComplete(
            f"Found that a portion of '{cost.dish}' costs {show_money(amount, cost.currency)} on "
            f"{day_words(cost.on)}; expected an amount above nothing. Check the number "
            "of portions, and the house's rounding."
        )
    return amount


def _refuse_known(con: Connection, figure: _Figure) -> None:
    """Raise InputRefused when the book holds this very figure."""
    cost, amount = figure.cost, figure.amount
    key = known.printed_key(
        figure.dish_id, cost.version, figure.published_on, amount.amount, cost.currency,
        figure.where, amount.words,
    )  # fmt: skip
    if key in known.printed_figures(con):
        raise InputRefused(
            f"Found {show_money(amount.amount, cost.currency)} for '{cost.dish}', version "
            f"{cost.version}, of {day_words(figure.published_on)} in the book already; expected a "
            "new figure. See it with `portiondrift printed`."
        )


def _as_csv(figure: _Figure) -> str:
    """Return the figure as a file of printed figures would give it."""
    cost, out = figure.cost, io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    columns = "dish,version,published_on,cost_per_portion,currency,costed_on,where,note"
    writer.writerow(columns.split(","))
    writer.writerow(
        [
            cost.dish, cost.version, figure.published_on.isoformat(),
            figure.amount.words or f"{figure.amount.amount:f}", cost.currency,
            cost.on.isoformat(), " ".join((figure.where or "").split()),
            " ".join((figure.note or "").split()),
        ]
    )  # fmt: skip
    return out.getvalue()
