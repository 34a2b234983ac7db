"""The inflation report in words: its sections, in the order in which they are read."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from dashboard.words.dish import LOCAL_LAW
from dashboard.words.document import Chart, Document, Line, Section, Table
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
from dashboard.words.report_dishes import dish_sections, dishes_table
from dashboard.words.report_evidence import evidence_sections
from dashboard.words.reprint import correction_words
from dashboard.words.series import office_words
from pricing.days import DAY_OF_MONTH, day_words, month_words
from pricing.money import show_money
from pricing.report.records import Report

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pricing.inflation.records import GroupIndex
MOST_DRIVERS = 12  # ingredients told one by one


def report_document(found: Report) -> Document:
    """Return the report, section by section."""
    index = found.inflation
    months = f"{month_words(index.from_month)} to {month_words(index.to_month)}"
    return Document(
        title="Inflation report of the kitchen",
        under=f"{counted(len(found.dishes), 'dish', 'dishes')}, {months}, at prices of "
        f"{day_words(found.on)}, in {found.currency}",
        sections=[
            _headline(found, months),
            _drove(found, months),
            Section(
                title="Each dish, then and now",
                says=[DISHES_MEAN],
                tables=[dishes_table(found)],
                breaks=True,
            ),
            *dish_sections(found),
            *_figures(found),
            _method(found),
            Section(title="Cautions", listed=_cautions(found)),
            *evidence_sections(found),
            Section(title="What this was made from", says=_made_from(found)),
        ],
    )


DISHES_MEAN = (
    "Cost per portion. Then: the recipe of then at the prices of then, on the day the first "
    "printed figure was costed for, else the day the dish began. As printed, today: the same "
    "recipe at the prices of now. Now: the recipe of now at the prices of now. Prices + recipe = "
    "change."
)


def _headline(found: Report, months: str) -> Section:
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


def _drove(found: Report, months: str) -> Section:
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


def _figures(found: Report) -> list[Section]:
    """Return the printed figures in force, and those to correct."""
    rows = [
        [
            each.dish,
            each.where or "—",
            day_words(each.published_on),
            show_money(each.printed, each.currency),
            show_money(each.known_then, each.currency),
            show_money(each.recosted_now, each.currency),
            signed_rate(each.off_now_pct),
            each.now,
        ]
        for each in found.figures
    ]
    headings = ["Dish", "Where", "Published", "Printed", "Cost then", "Costs now", "Off now", ""]
    says = (
        "The recipe as printed, per portion. Cost then: by what was known on the day it was costed "
        "for. A figure "
        f"holds within {found.tolerance_pct:g} % of what was printed."
    )
    if not found.pantry_counted:
        says += " Lines of the store cupboard are not counted, by the house's rules."
    printed = Section(
        title="Printed figures in force",
        says=[says] if rows else ["No dish of this report has a printed figure in force."],
        tables=[Table(headings=headings, rows=rows, right=(3, 4, 5, 6), says="Printed figures")]
        if rows
        else [],
    )
    wrong = [correction_words(each, found.on) for each in found.corrections]  # type: ignore[arg-type]
    return [
        printed,
        Section(
            title="Corrections",
            says=["Figures that were wrong when they were costed:"]
            if wrong
            else ["No printed figure in force was wrong when it was costed."],
            listed=wrong,
        ),
    ]


def _method(found: Report) -> Section:
    index = found.inflation
    return Section(
        title="Method",
        says=[
            "A recipe line is turned into what must be bought (as purchased), in grams, "
            "millilitres or pieces, and multiplied by the price of that unit; the sum over the "
            "lines, divided by the portions, is the cost per portion.",
            f"A price counts on a day as it was seen, up to {found.fresh_days} days after it was "
            "seen; the price of several shops is their mean, and the older a price the less it "
            "counts. An older one is moved by the official series of that food, the narrowest that "
            "has the months, and between two sightings bent so that it meets the next one. What no "
            "series serves is held as it was. Only ratios within one series are used.",
            "Then and now: first the old recipe is taken at the prices of now (prices), then the "
            "recipe is changed at the prices of now (recipe). The two parts add up to the change. "
            "What lacks a price is left out of both sides and named.",
            f"The kitchen's index keeps the recipes in force in {month_words(index.from_month)} "
            "and divides what a portion of every dish costs on the 15th of each month by what it "
            "cost in the first one: a fixed basket (Laspeyres). The drivers take the version in "
            "force on each of the two days.",
            "Amounts are rounded once, when they are shown; parts of a sum are shown as they round "
            "and may differ from it in the last digit.",
        ],
    )


def _cautions(found: Report) -> list[str]:
    said = [
        LOCAL_LAW,
        "This report says nothing of allergens: check the labels of what you buy.",
        "It costs ingredients only: no energy, work, rent or tax on what is sold.",
    ]
    if any(not each.then_and_now.complete for each in found.dishes):
        said.append("Where an ingredient is named as left out, the figures of that dish lack it.")
    if found.drafts:
        said.append(f"Left out, as they begin later: {', '.join(found.drafts)}.")
    return said


def _made_from(found: Report) -> list[str]:
    return [
        f"Made at prices of {day_words(found.on)} from the book whose content has the SHA-256 "
        f"{found.book_sha256}. The same book, day and command give this report again, to the byte."
    ]
