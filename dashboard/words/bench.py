"""Recipes side by side in words: the rows of their table, and what a difference in cost buys."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING

from dashboard.words.allergens import allergen_words, dish_allergens_words
from dashboard.words.figures import NOTHING, counted, listed, plain_number, signed_money
from dashboard.words.waiting import waiting_name
from pricing.days import day_words
from pricing.money import round_money, show_money

if TYPE_CHECKING:
    from pricing.bench.records import BenchColumn, Difference, Marks, SideBySide, Stated

_NONE = "—"


def title_words(found: SideBySide) -> str:
    """Return what is laid side by side, and when."""
    return f"{len(found.columns)} recipes side by side, at prices of {day_words(found.on)}"


def column_name(column: BenchColumn) -> str:
    """Return the heading of a column: the dish, its version, and what is otherwise in it."""
    changed = f", {column.change}" if column.change else ""
    return f"{column.dish}, version {column.version}{changed}"


def bench_rows(found: SideBySide) -> list[list[str]]:
    """Return the rows of figures: what the row is, then one text for each column."""
    columns = found.columns
    rows = [
        ["Cost per portion", *(each.display["cost_per_portion"] for each in columns)],
        ["Against the first", *(_against(each, columns[0], found.currency) for each in columns)],
        ["Portions of a batch", *(plain_number(each.portions) for each in columns)],
        ["Minutes at hand", *(_stated(each.minutes) for each in columns)],
        ["Minutes waiting", *(_stated(each.minutes_waiting) for each in columns)],
        ["Energy, kWh", *(_stated(each.energy_kwh) for each in columns)],
        ["Pots to wash up", *(_stated(each.pots) for each in columns)],
        ["Tasters' marks", *(_marks(each.marks) for each in columns)],
    ]
    return rows


def _against(column: BenchColumn, first: BenchColumn, currency: str) -> str:
    if column is first:
        return _NONE
    more = shown_more(column, first, currency)
    if more is None:
        return "unknown"
    return signed_money(more, currency) if more else _NONE


def shown_more(column: BenchColumn, first: BenchColumn, currency: str) -> Decimal | None:
    """Return how much more a portion costs, as a reader subtracts it from the costs as shown."""
    if not (column.complete and first.complete):
        return None
    costs = (round_money(each.cost_per_portion, currency) for each in (column, first))
    return next(costs) - next(costs)


def _stated(figure: Stated) -> str:
    if figure.amount is None:
        return "not stated"
    return f"{'at least ' if figure.unstated else ''}{plain_number(figure.amount)}"


def _marks(marks: Marks | None) -> str:
    if marks is None:
        return "not stated"
    given = "; ".join(map(plain_number, marks.given))
    return f"{given} (mean {plain_number(marks.mean, 2)})"


def allergens_words(column: BenchColumn) -> str:
    """Return what the records say of a column, and what of it the first does not have."""
    named = dish_allergens_words(column.allergens)
    if (more := column.against_first) is None:
        return named
    said = allergen_words(
        more.allergens_added, more.allergens_removed, column.allergens.allergen_list
    )
    return f"{named} Against the first: {said}."


def note_words(column: BenchColumn) -> str | None:
    """Return what the tasters said."""
    return f"Tasting note: {column.tasting_note}" if column.tasting_note else None


def unstated_words(found: SideBySide) -> list[str]:
    """Return which dishes leave a figure open, so that it is only at least."""
    open_in: dict[str, dict[str, None]] = {}
    for column in found.columns:
        for name, figure in _figures(column):
            for dish in figure.unstated if figure.amount is not None else ():
                open_in.setdefault(dish, {})[name] = None
    return [f"{dish} does not state its {listed(list(of))}." for dish, of in open_in.items()]


def missing_words(found: SideBySide) -> list[str]:
    """Return why a cost is only at least."""
    return [
        f"{column_name(column)}: no price of {listed(list(map(waiting_name, column.missing)))}."
        for column in found.columns
        if column.missing
    ]


def _figures(column: BenchColumn) -> Iterator[tuple[str, Stated]]:
    yield "minutes at hand", column.minutes
    yield "minutes waiting", column.minutes_waiting
    yield "energy", column.energy_kwh
    yield "pots", column.pots


def buys_words(found: SideBySide) -> list[str]:
    """Return for each column after the first what its difference in cost buys."""
    first = found.columns[0]
    return [
        _buys(each, first, each.against_first, found.currency)
        for each in found.columns
        if each.against_first is not None
    ]


def _buys(column: BenchColumn, first: BenchColumn, more: Difference, currency: str) -> str:
    """Return the sentence of one column; every difference stands beside the others, unweighed."""
    bought, unknown = _bought(column, first, more)
    said = f"{column_name(column)}, {_extra(column, first, currency)}: "
    said += ", ".join(bought) or "no difference that is stated"
    if column.portions != first.portions:
        said += (
            f" (a batch gives {counted(column.portions, 'portion')}, "
            f"of the first {plain_number(first.portions)})"
        )
    return f"{said}.{f' Not known: {listed(unknown)}.' if unknown else ''}"


def _extra(column: BenchColumn, first: BenchColumn, currency: str) -> str:
    more = shown_more(column, first, currency)
    if more is None:
        names = dict.fromkeys(map(waiting_name, (*first.missing, *column.missing)))
        return f"whose cost cannot be compared without a price of {listed(list(names))}"
    if not more:
        return "at the same cost a portion"
    amount = show_money(abs(more), currency)
    if more > 0:
        return f"what the extra {amount} a portion buys"
    return f"what {amount} less a portion comes with"


def _marks_beside(marks: Marks, of_first: Marks) -> str:
    tasters = f"{len(marks.given)} and {counted(len(of_first.given), 'taster')}"
    mean, before = (plain_number(each.mean, 2) for each in (marks, of_first))
    if mean == before:
        return f"the same marks on average, {mean} ({tasters})"
    return f"marks of {mean} in place of {before} on average ({tasters})"


def _bought(
    column: BenchColumn, first: BenchColumn, more: Difference
) -> tuple[list[str], list[str]]:
    """Return the differences in words, and the names of those that are not known."""
    amounts = (
        ("minutes at hand", more.minutes, "minute at hand", "minutes at hand"),
        ("minutes waiting", more.minutes_waiting, "minute waiting", "minutes waiting"),
        ("washing-up", more.pots, "pot to wash up", "pots to wash up"),
    )
    unknown = [name for name, amount, _, _ in amounts if amount is None]
    bought = [
        f"{plain_number(abs(amount))} {'more' if amount > 0 else 'fewer'} "
        f"{one if abs(amount) == 1 else many}"
        for _, amount, one, many in amounts
        if amount is not None and abs(amount) > NOTHING
    ]
    if more.energy_kwh is None:
        unknown.append("energy")
    elif abs(more.energy_kwh) > NOTHING:
        more_or_less = "more" if more.energy_kwh > 0 else "less"
        bought.append(f"{plain_number(abs(more.energy_kwh))} kWh {more_or_less}")
    if more.mark is None:
        unknown.append("tasters' marks")
    elif column.marks is not None and first.marks is not None:
        bought.append(_marks_beside(column.marks, first.marks))
    return bought, unknown
