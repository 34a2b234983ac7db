"""The command that measures the kitchen's own inflation."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from dashboard.terminal.named_dishes import HalfProducts, named_dishes
from dashboard.terminal.options import ChartFile, Dishes, From, Json, Market, NotSupplier, To
from dashboard.terminal.output import answer, refuse_chart, remark, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.figures import (
    counted,
    half_products_words,
    percent,
    signed_number,
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
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.inflation.records import GroupIndex, Inflation, MonthIndex


def inflation(
    start: From,
    end: To,
    dishes: Dishes = None,
    market: Market = None,
    not_supplier: NotSupplier = None,
    half_products: HalfProducts = False,
    chart: ChartFile = None,
    json: Json = False,
) -> None:
    """The kitchen's own index at fixed recipes, beside the official ones."""
    from pricing.inflation.measure import measure_inflation

    refuse_chart(chart)
    book = the_book()
    found = measure_inflation(
        book,
        named_dishes(book, dishes, half_products=half_products),
        start=start,
        end=end,
        market=market,
        not_supplier=not_supplier or (),
    )
    for sentence in found.remarks:
        remark(sentence)
    if chart is not None and found.change_pct is not None:
        from dashboard.terminal.chart_file import save_inflation_chart

        save_inflation_chart(found, chart)
        remark(f"Drew {chart}.")
    answer(found, lambda: inflation_text(found), as_json=json)
    if not found.complete:
        stop(1)


MOST_SHOWN = 15  # ingredients, dishes in a terminal; --json lists all


def inflation_text(found: Inflation) -> str:
    """Return the index by month, its parts by category, dish, ingredient, and what is left out."""
    if found.change_pct is None:
        return "\n".join([wrapped(NO_INDEX), *_not_counted(found)])
    rate, dishes = found.rate_12_pct, counted(found.dishes, "dish", "dishes")
    year = "" if rate is None else f"; {signed_rate(rate)} in the last 12 months"
    head = (
        f"The kitchen's own index: one portion of each of {dishes}, recipes of {found.from_month}\n"
        f"{found.from_month} = 100, {found.to_month} = {100 + found.change_pct:.1f}{year}\n"
        f"Mean cost per portion {show_money(found.cost_from, found.currency)} → "
        f"{show_money(found.cost_to, found.currency)}\n"
    )
    months = found.months if len(found.months) <= 25 else _yearly(found)
    table = text_table(
        [
            "Month", "Fixed recipes", "Recipes of the month", "Fisher", "Törnqvist", "12 months",
            "Food prices", "All items", "Seen", "Estimated", "Held",
        ],
        [
            [
                month.month,
                level_words(month.index),
                level_words(month.paasche),
                level_words(month.fisher),
                level_words(month.tornqvist),
                "" if month.rate_12_pct is None else signed_rate(month.rate_12_pct),
                level_words(month.official_food),
                level_words(month.official_all),
                str(month.observed),
                str(month.bridged),
                str(month.held),
            ]
            for month in months
        ],
        right=range(1, 11),
    )  # fmt: skip
    parts = [
        *_group("By category", found.by_category),
        *(_group("By group of dishes", found.by_group) if found.by_group else []),
        *_group("By dish", found.by_dish),
        *_group("By ingredient", found.by_ingredient),
    ]
    return "\n".join([head, table, *_remarks(found), *parts, *_not_counted(found)])


def _yearly(found: Inflation) -> list[MonthIndex]:
    """Return every twelfth month back from the last, and the first."""
    kept = list(found.months[::-12])[::-1]
    return kept if kept[0] is found.months[0] else [found.months[0], *kept]


def _group(title: str, groups: Sequence[GroupIndex]) -> list[str]:
    rows = [
        [
            (group.name or nameless(title)) + ("" if group.complete else " (not complete)"),
            level_words(group.index),
            percent(group.share_from),
            signed_number(group.contribution),
            "" if group.rate_12_pct is None else signed_rate(group.rate_12_pct),
            "" if group.contribution_12 is None else signed_number(group.contribution_12, 2),
        ]
        for group in groups[:MOST_SHOWN]
    ]
    rest = groups[MOST_SHOWN:]
    if rest:
        year = [group.contribution_12 for group in rest if group.contribution_12 is not None]
        rows.append(
            [
                f"… and {len(rest)} more",
                "",
                percent(sum(group.share_from for group in rest)),
                signed_number(sum(group.contribution for group in rest)),
                "",
                signed_number(sum(year), 2) if year else "",
            ]
        )
    headings = [title, "Index", "Share", "Points", "12 months", "Points of it"]
    return ["", text_table(headings, rows, right=range(1, 6))]


def _remarks(found: Inflation) -> list[str]:
    """Return what is to be said below the months."""
    told = (official_end(found), not_worked_out(found), settled_markets(found))
    said = [each for each in told if each]
    return ["", *map(wrapped, said)] if said else []


def _not_counted(found: Inflation) -> list[str]:
    """Return which dishes and ingredients the index does without."""
    said = [half_products_words(found.half_products)] if found.half_products else []
    said += [left_out_sentence(found)] if found.left_out else []
    return ["", *map(wrapped, said)] if said else []
