"""The headline of a report in words: the kitchen's index beside official ones, what drove it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from dashboard.words.document import Chart, Line, Section, Table
from dashboard.words.figures import (
    counted,
    listed,
    signed_fine,
    signed_money,
    signed_number,
    signed_percent,
    signed_rate,
)
from dashboard.words.inflation import (
    NO_INDEX,
    left_out_sentence,
    level_words,
    nameless,
    not_worked_out,
    official_end,
    settled_markets,
)
from dashboard.words.series import office_words
from pricing.days import DAY_OF_MONTH, day_words, month_words
from pricing.inflation.records import GroupIndex
from pricing.money import show_money
from pricing.report.records import Report

MOST_DRIVERS = 12  # ingredients told one by one


def headline(found: Report, months: str) -> Section:
    index = found.inflation
    if index.change_pct is None:
        return Section(title="Headline", says=[NO_INDEX])
    cost = (show_money(each, found.currency) for each in (index.cost_from, index.cost_to))
    says = [
        f"From {months}, what the kitchen cooks changed by {signed_rate(index.change_pct)} at "
        f"fixed recipes: a mean portion went from {' to '.join(cost)}."
    ]
    if index.rate_12_pct is not None:
        says.append(f"Over the last twelve months: {signed_rate(index.rate_12_pct)}.")
    told = (official_end(index), not_worked_out(index), settled_markets(index))
    says += [each for each in told if each]
    says += [left_out_sentence(index)] if index.left_out else []
    return Section(
        title="Headline",
        says=says,
        chart=_index_chart(found, months),
        tables=[_official_table(found), _months_table(found)],
    )


def _official_table(found: Report) -> Table:
    """Return the kitchen's index beside the official ones, each at its last month."""
    index = found.inflation
    released = {each.series: each for each in found.series}
    rows = [
        ["This kitchen", level_words(index.months[-1].index), month_words(index.to_month),
         signed_rate(index.change_pct), "this report", "—"]
    ]  # fmt: skip
    for series, field in (
        (index.food_series, "official_food"),
        (index.all_items_series, "official_all"),
    ):
        own = [each for each in index.months if each[field] is not None]
        if series is None or not own:
            continue
        used = released.get(series)
        title = used.title if used and used.title else series
        day = day_words(used.released_on) if used and used.released_on else "day not stated"
        rows.append(
            [
                title,
                level_words(own[-1][field]),
                month_words(own[-1].month),
                signed_rate(own[-1][field] - 100),
                f"{office_words(series)}, {series}",
                day,
            ]
        )
    headings = ["Index", f"{month_words(index.from_month)} = 100", "In", "Change", "Source",
                "Released"]  # fmt: skip
    return Table(headings=headings, rows=rows, right=(1, 3), says="Indices side by side")


def _months_table(found: Report) -> Table:
    """Return the index of the first month, of each December, and of the last month."""
    months = found.inflation.months
    kept = [m for m in months if m.month.endswith("-12") or m in (months[0], months[-1])]
    rows = [
        [month_words(m.month), level_words(m.index), level_words(m.official_food),
         level_words(m.official_all), signed_rate(m.rate_12_pct)]
        for m in kept
    ]  # fmt: skip
    headings = ["Month", "Kitchen", "Food", "All items", "Kitchen, 12 months"]
    return Table(headings=headings, rows=rows, right=(1, 2, 3, 4), says="The index by year")


def _index_chart(found: Report, months: str) -> Chart:
    fields = (("index", "this kitchen"), ("official_food", "food"), ("official_all", "all items"))
    lines = [
        Line(
            name=name,
            points=[(_costed(each.month), each[field]) for each in found.inflation.months],
        )
        for field, name in fields
        if any(each[field] is not None for each in found.inflation.months)
    ]
    ends = []
    for line in lines:
        own = [(day, value) for day, value in line.points if value is not None]
        ends.append(f"{line.name} {level_words(own[-1][1])} in {month_words(own[-1][0])}")
    first = month_words(found.inflation.from_month)
    return Chart(
        title=f"Kitchen, food and all items, {first} = 100",
        says=f"Lines over {months}, {first} = 100: {listed(ends)}.",
        lines=lines,
    )


def _costed(month: str) -> date:
    return date.fromisoformat(f"{month}-{DAY_OF_MONTH}")


def what_drove_it(found: Report, months: str) -> Section:
    """Return what drove the mean cost of a portion, ingredient by ingredient."""
    driven, money = found.drivers, found.currency
    told = driven.ingredients[:MOST_DRIVERS]
    rest = driven.ingredients[MOST_DRIVERS:]
    rows = [
        [
            each.ingredient,
            signed_fine(each.contribution, money),
            signed_fine(each.price_effect, money),
            signed_fine(each.recipe_effect, money),
            signed_percent(None if each.price_relative is None else each.price_relative - 1),
            signed_percent(None if each.official_relative is None else each.official_relative - 1),
            each.series_title or each.series or "—",
        ]
        for each in told
    ]
    sums = [
        signed_fine(sum(e[key] for e in rest), money)
        for key in ("contribution", "price_effect", "recipe_effect")
    ]
    rows += [[f"{counted(len(rest), 'other')}", *sums, "", "", ""]] if rest else []
    whole = (driven.change, driven.price_effect, driven.recipe_effect)
    rows.append(["All", *(signed_fine(each, money) for each in whole), "", "", ""])
    headings = ["Ingredient", "Change", "Prices", "Recipe", "Its price", "Official", "Series"]
    says = [
        f"A mean portion cost {show_money(driven.mean_then, money)} on {day_words(driven.then)} "
        f"and {show_money(driven.mean_now, money)} on {day_words(driven.now)}, each dish in the "
        f"version in force: {signed_money(driven.price_effect, money)} by prices, "
        f"{signed_money(driven.recipe_effect, money)} by recipes."
    ]
    if driven.left_out:
        says.append(
            "Not compared, for want of a price: "
            + "; ".join(f"{e.ingredient} ({e.reason.rstrip('.')})" for e in driven.left_out)
            + "."
        )
    by = [_groups("Category", found.inflation.by_category)]
    by += [_groups("Group of dishes", found.inflation.by_group)] if found.inflation.by_group else []
    table = Table(headings=headings, rows=rows, right=(1, 2, 3, 4, 5),
                  says=f"What drove the mean cost per portion, {months}")  # fmt: skip
    return Section(title="What drove it", says=says, tables=[table, *by])


def _groups(title: str, groups: Sequence[GroupIndex]) -> Table:
    rows = [
        [each.name or nameless(title), level_words(each.index), signed_number(each.contribution)]
        for each in groups
    ]
    whole = sum(each.contribution for each in groups)
    rows.append(["All", "", signed_number(whole)])
    return Table(
        headings=[title, "Index", "Points of the kitchen's index"],
        rows=rows,
        right=(1, 2),
        says=f"{title}: contributions to the kitchen's index",
    )
