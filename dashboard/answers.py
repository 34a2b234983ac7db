"""Answers as a cook reads them in a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from dashboard.line_costs import Shown, shown_costs
from dashboard.text_table import text_table
from dashboard.words import (
    amount_words,
    evidence_words,
    figure,
    plain_number,
    quantity_words,
    work_words,
)
from pricing.change.records import Comparison
from pricing.days import day_words, month_words
from pricing.dishes.cost import DishCost
from pricing.dishes.drift import DishDrift, Drift
from pricing.measures.unit_price import unit_price_words
from pricing.money import apportion, round_money, show_fine, show_money
from pricing.prices.bridge_error import CostBand
from pricing.prices.price_line import CostLine
from pricing.series.rebase import Rebased


def percent(share: float | None) -> str:
    """Return a share of 1 as "12 %"."""
    return "—" if share is None else f"{100 * share:.0f} %"


def signed_percent(share: float | None) -> str:
    """Return a change as "+12 %" or "−3 %"."""
    if share is None:
        return "—"
    rounded = round(100 * share)
    return f"{'−' if rounded < 0 else '+'}{abs(rounded)} %"


def signed_tenths(share: float) -> str:
    """Return a change as "+12 %", and one under a percent as "+0.3 %"; nothing as a dash."""
    if abs(share) < 1e-9:
        return "—"
    if abs(share) >= 0.00995:
        return signed_percent(share)
    return f"{'−' if share < 0 else '+'}{abs(100 * share):.1g} %"


def signed_money(amount: float, currency: str) -> str:
    """Return a change of money with its sign: +$0.31, −$0.20."""
    shown = show_money(abs(amount), currency)
    return f"{'−' if round_money(amount, currency) < 0 else '+'}{shown}"


def signed_fine(amount: float, currency: str) -> str:
    """Return a change of money, with two figures of it where whole cents would say nothing.

    >>> signed_fine(0.31, "USD"), signed_fine(-0.0031, "USD"), signed_fine(0.0, "USD")
    ('+$0.31', '−$0.0031', '—')
    """
    if abs(amount) < 1e-9:
        return "—"
    if round_money(amount, currency):
        return signed_money(amount, currency)
    return f"{'−' if amount < 0 else '+'}{show_fine(abs(amount), currency)}"


def signed_parts(amounts: Sequence[float], currency: str) -> list[str]:
    """Return parts of a change, signed, rounded so that they add up to the rounded change."""
    return [signed_money(float(part), currency) for part in apportion(amounts, currency)]


def rounded_change(found: Comparison) -> tuple[Decimal, Decimal, Decimal]:
    """Return the change and its two parts, by prices and by the recipe, as a reader adds them up.

    The change is the difference of the two figures as they are shown, and the parts add up to it:
    at most a cent from each one's own rounding.
    """
    money, corners = found.currency, found.corners
    change = round_money(corners.now_recipe_now, money) - round_money(
        corners.then_recipe_then, money
    )
    by_price, by_recipe = apportion([found.price_effect, found.recipe_effect], money, change)
    return change, by_price, by_recipe


def shown_change(found: Comparison) -> tuple[str, str, str]:
    """Return `rounded_change` as signed amounts of money."""
    change, by_price, by_recipe = (
        signed_money(float(each), found.currency) for each in rounded_change(found)
    )
    return change, by_price, by_recipe


def cost_text(cost: DishCost, measures: str) -> str:
    """Return a costing: the figure first, then its lines, then what to know about it."""
    version = f"version {cost.version}"
    if not cost.version_in_force:
        version += ", not the one in force on that day"
    batch = show_money(cost.cost_per_batch, cost.currency)
    head = [
        f"{cost.dish}, {version}, at prices of {day_words(cost.on)}",
        f"{_per_portion(cost)}   "
        f"({batch if cost.complete else 'at least ' + batch} for "
        f"{plain_number(cost.portions)} portions; "
        f"pantry lines {show_money(cost.pantry_per_portion, cost.currency)} per portion)",
        "",
    ]
    shown = shown_costs(cost)
    rows = [
        row for line in cost.lines for row in _cost_rows(line, cost.currency, measures, 0, shown)
    ]
    table = text_table(
        ["Ingredient", "Recipe", "As purchased", "Unit price", "Cost", "Share", "Price evidence"],
        rows,
        right=(2, 3, 4, 5),
    )
    tail = [] if cost.band is None else ["", band_words(cost.band, cost.currency)]
    tail += ["", work_words(cost)] if cost.minutes is not None else []
    tail += [] if cost.complete else ["", *_gaps(cost)]
    return "\n".join([*head, table, *tail])


def _per_portion(cost: DishCost) -> str:
    if all(line.basis == "missing" for line in cost.ingredient_lines()):
        return "No figure: no line has a price"
    return f"{cost.display['cost_per_portion']} per portion"


def band_words(band: CostBand, currency: str) -> str:
    """Return what bridging leaves open in a cost per portion, in one sentence."""
    whose = "this book's own prices" if band.from_book else "national indices"
    if round_money(band.typical_error, currency) == 0:  # "within £0.00" would read as exact
        return (
            f"{percent(band.share_bridged)} of it rests on prices moved by a series. By {whose}, "
            "that typically puts it off by less than half of the smallest coin."
        )
    return (
        f"{percent(band.share_bridged)} of it rests on prices moved by a series. By {whose}, "
        f"such a cost is typically within {show_money(band.typical_error, currency)} "
        f"({band.typical_error_pct:.1f} %)."
    )


def _cost_rows(
    line: CostLine, currency: str, measures: str, depth: int, shown: Shown
) -> Iterator[list[str]]:
    name = "  " * depth + line.ingredient.removeprefix("dish:")
    marks = [
        mark for mark, on in (("edible", line.state == "edible"), ("pantry", line.pantry)) if on
    ]
    if line.lines:
        marks.append(f"version {line.version}")
    yield [
        f"{name} ({', '.join(marks)})" if marks else name,
        quantity_words(line.quantity, line.unit),
        amount_words(line.as_purchased, line.base),
        "" if line.lines else unit_price_words(line.unit_price, line.base, currency, measures),
        show_money(shown.get(id(line)), currency),
        percent(line.share),
        evidence_words(line),
    ]
    for inside in line.lines:
        yield from _cost_rows(inside, currency, measures, depth + 1, shown)


def _gaps(cost: DishCost) -> list[str]:
    missing = [line for line in cost.ingredient_lines() if line.basis == "missing"]
    return [
        "At least, because these lines have no price:",
        *(f"  {line.ingredient}: {line.reason}" for line in missing),
    ]


def drift_text(found: Drift) -> str:
    """Return one dish month by month, or several dishes by their first and last month."""
    if not found.dishes:
        return "No month to show."
    if len(found.dishes) == 1:
        return _one_drift(found.dishes[0], found.currency)
    rows = []
    for dish in found.dishes:
        first, last = dish.points[0], dish.points[-1]
        whole = first.complete and last.complete and first.cost_per_portion > 0
        change = last.cost_per_portion / first.cost_per_portion - 1 if whole else None
        rows.append(
            [
                dish.dish,
                figure(first.cost_per_portion, first.complete, found.currency),
                figure(last.cost_per_portion, last.complete, found.currency),
                signed_percent(change),
                percent(last.share_bridged),
            ]
        )
    first, last = found.dishes[0].points[0].month, found.dishes[0].points[-1].month
    return text_table(
        ["Dish", f"on {first}-15", f"on {last}-15", "Change", "Moved by an index"],
        rows,
        right=(1, 2, 3, 4),
    )


def _one_drift(dish: DishDrift, currency: str) -> str:
    rows = [
        [
            point.month,
            point.version,
            figure(point.cost_per_portion, point.complete, currency),
            percent(point.share_observed),
            percent(point.share_bridged),
        ]
        for point in dish.points
    ]
    headings = ["Month", "Version", "Cost per portion", "Observed", "Moved by an index"]
    return f"{dish.dish}, on the 15th of each month\n\n" + text_table(
        headings, rows, right=(2, 3, 4)
    )


def rebase_text(found: Rebased, currency: str) -> str:
    """Return an amount then and now, and the index behind it."""
    marks = []
    if found.held_at:
        marks.append(f"The series is held at its last month, {month_words(found.held_at)}.")
    marks += [
        f"{month_words(each)} was not published; the month before stands in."
        for each in found.filled
    ]
    if found.frequency == "quarterly":
        marks.append("The office publishes by the quarter: each month carries its quarter's value.")
    if found.approximate:
        marks.append("An approximate link: the two series do not cover the same goods.")
    if found.note:
        marks.append(f"Made of: {found.note}.")
    return "\n".join(
        [
            f"{show_money(found.amount, currency)} of {month_words(found.from_month)} is "
            f"{show_money(found.result, currency)} in {month_words(found.to_month)}",
            f"by {found.title or found.series} ({found.series}): "
            f"{found.index_from:g} → {found.index_to:g}, ×{found.factor:.4f}",
            *marks,
        ]
    )


def listing(pairs: Sequence[tuple[str, str]]) -> str:
    """Return "name   value" lines, aligned."""
    width = max(len(name) for name, _ in pairs)
    return "\n".join(f"{name:<{width}}  {value}" for name, value in pairs)
