"""Checks every printed cost per portion: was it right when it was costed, and does it hold now."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from pricing.book.connect import Book, Connection, reading
from pricing.book.read import Settings, read_settings, rows
from pricing.clock import asked_day, today
from pricing.contents.house_rules import HouseRules
from pricing.days import Day
from pricing.dishes.recipes import Recipes, read_recipes
from pricing.errors import InputRefused
from pricing.prices.evidence import Pair
from pricing.prices.rule import Rule, ask_pairs, grid_rows
from pricing.printed.gaps import Gap, Gaps, Quantities, read_gaps
from pricing.printed.records import CheckedFigure, CheckedFigures
from pricing.printed.verdict import verdict_now, verdict_then
from pricing.series.many_months import Months, relative, usable_months

Prices = Mapping[Pair, float | None]


def check_printed(
    book: Book, *, on: Day | None = None, tolerance_pct: float | None = None
) -> CheckedFigures:
    """Recost every figure costed on or before `on` (None: today), for its own day and for `on`.

    The version is the one the figure names, in all costings with the sub-recipes of the day it was
    costed for. A figure is costed in its own currency; currencies are never converted. `then`
    compares it with what was known on its day (prices seen later do not count where there was an
    earlier one), `now` with the cost on `on`; the tolerance is of the printed figure, the book's
    setting unless stated. Lines marked pantry count where the book counts them in printed figures.
    A figure that a later one of the dish in the same currency replaced, published up to `on`, is
    superseded.
    Raises DateRefused (a date after today), InputRefused (a tolerance below nothing),
    RecipeRefused, BookUnreadable.
    """
    with reading(book) as con:
        return check_in(con, today() if on is None else asked_day(on), tolerance_pct)


def check_in(con: Connection, on: date, tolerance_pct: float | None = None) -> CheckedFigures:
    """`check_printed` in an open book."""
    settings = read_settings(con)
    tolerance = settings.tolerance if tolerance_pct is None else tolerance_pct
    if not 0 <= tolerance < float("inf"):
        raise InputRefused(
            f"Found a tolerance of {tolerance} %; expected a percentage from 0 up. "
            "Correct --tolerance."
        )
    found = rows(con, "printed/figures_to_check", {"on": on})
    series = settings.food_series, settings.all_items_series
    checking = _Checking(
        settings=settings,
        pantry=HouseRules.of(settings).pantry,
        recipes=read_recipes(con, {row["dish_id"] for row in found}),
        on=on,
        months=usable_months(con, series, {on, *(row["costed_on"] for row in found)}),
        tolerance_pct=tolerance,
    )
    checked = [
        figure
        for currency in dict.fromkeys(row["currency"] for row in found)
        for figure in checking.figures(
            con, currency, [row for row in found if row["currency"] == currency]
        )
    ]
    return CheckedFigures(
        on=on,
        tolerance_pct=tolerance,
        pantry_counted=checking.pantry,
        food_series=settings.food_series,
        all_items_series=settings.all_items_series,
        figures=tuple(sorted(checked, key=_worst_first)),
    )


def _worst_first(figure: CheckedFigure) -> tuple[bool, int, float, str, date]:
    group = 2 if figure.right else 0 if figure.priced else 1
    replaced = figure.superseded_by is not None
    return replaced, group, -figure.misleads_pct, figure.dish.casefold(), figure.published_on


@dataclass(frozen=True, kw_only=True)
class _Costed:
    """A figure's three costings; None: cannot be priced."""

    known_then: float | None
    then: float | None
    now: float | None


@dataclass(frozen=True, kw_only=True)
class _Checking:
    """What every figure is checked against."""

    settings: Settings
    pantry: bool  # lines marked so are in printed figures
    recipes: Recipes  # of the dishes with a figure
    on: date
    months: Months  # of the book's series
    tolerance_pct: float

    def figures(
        self, con: Connection, currency: str, found: Collection[dict[str, Any]]
    ) -> list[CheckedFigure]:
        """Check the figures of one currency by two runs of the price rule: known then, and now."""
        rule = Rule.of(self.settings, currency=currency)
        taken = [(self._taken(row, row["costed_on"]), self._taken(row, self.on)) for row in found]
        pairs = {pair for ends in taken for end in ends for pair in end or ()}
        pairs_then = {pair for then, _ in taken for pair in then or ()}
        prices = _prices(con, rule, pairs)
        known = _prices(con, replace(rule, as_known=True), pairs_then)
        gaps = read_gaps(con, rule, self.recipes, {pair for pair in pairs if prices[pair] is None})
        return [
            self._figure(
                row,
                _Costed(
                    known_then=_cost(then, known),
                    then=_cost(then, prices),
                    now=_cost(now, prices),
                ),
                self._gaps(gaps, row, then, now),
            )
            for row, (then, now) in zip(found, taken, strict=True)
        ]

    def _gaps(
        self, gaps: Gaps, row: dict[str, Any], then: Quantities | None, now: Quantities | None
    ) -> tuple[Gap, ...]:
        if then is None or now is None:
            return gaps.of_lost_version(row, self.on)
        return gaps.of_lines({**then, **now})

    def _figure(self, row: dict[str, Any], costed: _Costed, gaps: tuple[Gap, ...]) -> CheckedFigure:
        printed, costed_on = row["printed"], row["costed_on"]
        food = everything = None
        if row["currency"] == self.settings.currency:  # its series tell of its own currency
            food = self._moved(printed, self.settings.food_series, costed_on)
            everything = self._moved(printed, self.settings.all_items_series, costed_on)
        return CheckedFigure(
            **{name: row[name] for name in _AS_IN_THE_ROW},
            recipe_day=costed_on,
            known_then=costed.known_then,
            recosted_then=costed.then,
            recosted_now=costed.now,
            off_then_pct=_percent(costed.known_then, printed),
            off_now_pct=_percent(costed.now, printed),
            then=verdict_then(printed, costed.known_then, self.tolerance_pct),
            now=verdict_now(printed, costed.now, self.tolerance_pct),
            rebased_food=food,
            rebased_all=everything,
            where=row["published_where"],
            gaps=gaps,
            row=row["figure_row"],
        )

    def _moved(self, printed: float, series: str | None, costed_on: date) -> float | None:
        factor = relative(self.months, series, costed_on, self.on)
        return None if factor is None else printed * factor

    def _taken(self, row: Mapping[str, Any], day: date) -> Quantities | None:
        """Return what a portion takes at prices of `day`; None: the book lost the version."""
        for version in self.recipes.versions.get(row["dish_id"], ()):
            if version.version == row["version"]:
                bought = self.recipes.per_portion(version, row["costed_on"], pantry=self.pantry)
                return {(each, day): quantity for each, quantity in bought.items()}
        return None


_AS_IN_THE_ROW = (
    "dish", "version", "published_on", "costed_on", "printed", "as_printed", "currency",
    "superseded_by", "note", "frozen",
)  # fmt: skip


def _prices(con: Connection, rule: Rule, pairs: Collection[Pair]) -> Prices:
    return {
        (row["ingredient_id"], row["on_date"]): row["unit_price"]
        for row in grid_rows(con, rule, ask_pairs(pairs))
    }


def _percent(cost: float | None, printed: float) -> float | None:
    return None if cost is None else (cost / printed - 1) * 100


def _cost(taken: Quantities | None, prices: Prices) -> float | None:
    if taken is None:
        return None
    total = 0.0
    for pair, bought in taken.items():
        price = prices[pair]
        if bought is None or price is None:
            return None
        total += bought * price
    return total
