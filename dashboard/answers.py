"""Answers as a cook reads them in a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dashboard.text_table import text_table
from dashboard.words import amount_words, evidence_words, plain_number, unit_price_words
from pricing.change import Comparison
from pricing.costing import CostLine, DishCost
from pricing.indices import Rebased
from pricing.money import apportion, show_money
from pricing.monthly import DishDrift, Drift
from pricing.words import day_words


def percent(share: float | None) -> str:
    """Return a share of 1 as "12 %"."""
    return "—" if share is None else f"{100 * share:.0f} %"


def signed_percent(share: float | None) -> str:
    """Return a change as "+12 %" or "−3 %"."""
    if share is None:
        return "—"
    rounded = round(100 * share)
    return f"{'−' if rounded < 0 else '+'}{abs(rounded)} %"


def signed_money(amount: float, currency: str) -> str:
    """Return a change of money with its sign: +$0.31, −$0.20."""
    shown = show_money(abs(amount), currency)
    return f"{'−' if amount < 0 else '+'}{shown}"


def signed_parts(amounts: Sequence[float], currency: str) -> list[str]:
    """Return parts of a change, signed, rounded so that they add up to the rounded change."""
    return [signed_money(float(part), currency) for part in apportion(amounts, currency)]


def cost_text(cost: DishCost, measures: str) -> str:
    """Return a costing: the figure first, then its lines, then what to know about it."""
    version = f"version {cost.version}"
    if not cost.version_in_force:
        version += " (not the version in force on that day)"
    batch = show_money(cost.cost_per_batch, cost.currency)
    head = [
        f"{cost.dish}, {version}, at prices of {day_words(cost.on)}",
        f"{cost.display['cost_per_portion']} per portion   "
        f"({batch if cost.complete else 'at least ' + batch} for "
        f"{plain_number(cost.portions)} portions; "
        f"pantry lines {show_money(cost.pantry_per_portion, cost.currency)} per portion)",
        "",
    ]
    rows = [row for line in cost.lines for row in _cost_rows(line, cost.currency, measures, 0)]
    table = text_table(
        ["Ingredient", "Recipe", "As purchased", "Unit price", "Cost", "Share", "Price evidence"],
        rows,
        right=(2, 3, 4, 5),
    )
    tail = [] if cost.complete else ["", *_gaps(cost)]
    return "\n".join([*head, table, *tail])


def _cost_rows(line: CostLine, currency: str, measures: str, depth: int) -> Iterator[list[str]]:
    name = "  " * depth + line.ingredient.removeprefix("dish:")
    marks = [
        mark for mark, on in (("edible", line.state == "edible"), ("pantry", line.pantry)) if on
    ]
    if line.lines:
        marks.append(f"version {line.version}")
    yield [
        f"{name} ({', '.join(marks)})" if marks else name,
        f"{plain_number(line.quantity)} {line.unit}",
        amount_words(line.as_purchased, line.base),
        "" if line.lines else unit_price_words(line.unit_price, line.base, currency, measures),
        show_money(line.cost, currency),
        percent(line.share),
        evidence_words(line),
    ]
    for inside in line.lines:
        yield from _cost_rows(inside, currency, measures, depth + 1)


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
                _figure(first.cost_per_portion, first.complete, found.currency),
                _figure(last.cost_per_portion, last.complete, found.currency),
                signed_percent(change),
                percent(last.share_bridged),
            ]
        )
    first, last = found.dishes[0].points[0].month, found.dishes[0].points[-1].month
    return text_table(
        ["Dish", f"15 {first}", f"15 {last}", "Change", "Moved by an index"],
        rows,
        right=(1, 2, 3, 4),
    )


def _figure(amount: float, complete: bool, currency: str) -> str:
    return show_money(amount, currency) if complete else f"at least {show_money(amount, currency)}"


def _one_drift(dish: DishDrift, currency: str) -> str:
    rows = [
        [
            point.month,
            point.version,
            _figure(point.cost_per_portion, point.complete, currency),
            percent(point.share_observed),
            percent(point.share_bridged),
        ]
        for point in dish.points
    ]
    headings = ["Month", "Version", "Cost per portion", "Observed", "Moved by an index"]
    return f"{dish.dish}, on the 15th of each month\n\n" + text_table(
        headings, rows, right=(2, 3, 4)
    )


def compare_text(found: Comparison) -> str:
    """Return then and now: the corners, the two effects, the ingredients, the official figures."""
    then, now, money = found.then, found.now, found.currency
    corners = found.corners
    by_price, by_recipe = signed_parts([found.price_effect, found.recipe_effect], money)
    at_least = "" if found.complete else "At least, because a line has no price on either day.\n"
    head = (
        f"{found.dish}: version {then.version} on {day_words(then.on)}, "
        f"version {now.version} on {day_words(now.on)}\n"
        f"{at_least}{signed_money(found.change, money)} per portion: "
        f"{by_price} by prices, {by_recipe} by the recipe\n\n"
    )
    square = text_table(
        ["Cost per portion", f"prices of {then.on}", f"prices of {now.on}"],
        [
            [
                f"recipe of then, version {then.version}",
                show_money(corners.then_recipe_then, money),
                show_money(corners.then_recipe_now, money),
            ],
            [
                f"recipe of now, version {now.version}",
                show_money(corners.now_recipe_then, money),
                show_money(corners.now_recipe_now, money),
            ],
        ],
        right=(1, 2),
    )
    parts = text_table(
        ["Ingredient", "Then", "Now", "By price", "By recipe", "Remark"],
        [
            [
                part.ingredient,
                amount_words(part.quantity_then, part.base),
                amount_words(part.quantity_now, part.base),
                signed_money(part.price_effect, money),
                signed_money(part.recipe_effect, money),
                _mark(part.marked, part.unit_price_now),
            ]
            for part in found.ingredients
        ],
        right=(1, 2, 3, 4),
    )
    official = [
        f"{show_money(corners.then_recipe_then, money)} moved by {figure.title}: "
        f"{show_money(figure.amount, money)}"
        + (f" (held at {figure.held_at})" if figure.held_at else "")
        if figure.reason is None
        else figure.reason
        for figure in found.rebased
    ]
    return "\n".join([head + square, "", parts, "", *official]).rstrip()


def _mark(marked: bool, unit_price_now: float | None) -> str:
    if not marked:
        return ""
    return "no price on either day" if unit_price_now is None else "priced on one day only"


def rebase_text(found: Rebased, currency: str) -> str:
    """Return an amount then and now, and the index behind it."""
    marks = []
    if found.held_at:
        marks.append(f"The series is held at its last month, {found.held_at}.")
    marks += [f"{month} was not published; the month before stands in." for month in found.filled]
    return "\n".join(
        [
            f"{show_money(found.amount, currency)} of {found.from_month} is "
            f"{show_money(found.result, currency)} in {found.to_month}",
            f"by {found.title or found.series} ({found.series}): "
            f"{found.index_from:g} → {found.index_to:g}, ×{found.factor:.4f}",
            *marks,
        ]
    )


def listing(pairs: Sequence[tuple[str, str]]) -> str:
    """Return "name   value" lines, aligned."""
    width = max(len(name) for name, _ in pairs)
    return "\n".join(f"{name:<{width}}  {value}" for name, value in pairs)
