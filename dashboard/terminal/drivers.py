"""The command that ranks ingredients by what they added to the mean cost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.named_dishes import HalfProducts, named_dishes
from dashboard.terminal.options import ChartFile, Dishes, Json, Market, NotSupplier
from dashboard.terminal.output import answer, read_date, refuse_chart, remark, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.drivers import (
    driver_cells,
    driver_remark,
    left_out_of_words,
    pack_sentence,
    shown_means,
    what_if_cells,
    what_if_words,
)
from dashboard.words.figures import (
    counted,
    signed_mean,
    signed_money,
)
from pricing.days import day_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.book.connect import Book
    from pricing.change.drivers import Driver, Drivers
    from pricing.change.what_if import WhatIf
    from pricing.prices.swings import Swing


def drivers(
    then: Annotated[str, typer.Option("--then", help="Date, YYYY-MM-DD.")],
    now: Annotated[str, typer.Option("--now", help="Date, YYYY-MM-DD.")],
    dishes: Dishes = None,
    monthly: Annotated[
        bool, typer.Option("--monthly", help="Also how each price swings from month to month.")
    ] = False,
    what_if: Annotated[
        list[str] | None,
        typer.Option("--what-if", help="NAME=+20%: an ingredient or a category. Repeatable."),
    ] = None,
    market: Market = None,
    not_supplier: NotSupplier = None,
    half_products: HalfProducts = False,
    chart: ChartFile = None,
    json: Json = False,
) -> None:
    """Ingredients ranked by what they added to the mean cost per portion."""
    from pricing.change.drivers import rank_drivers
    from pricing.change.what_if import cost_if

    refuse_chart(chart)
    book, first, last = the_book(), read_date(then), read_date(now)
    without = not_supplier or ()
    named = named_dishes(book, dishes, half_products=half_products)
    found = rank_drivers(book, named, then=first, now=last, market=market, not_supplier=without)
    swings = _swings(book, found) if monthly else {}
    supposed = (
        cost_if(book, what_if, named, on=last, market=market, not_supplier=without)
        if what_if
        else None
    )
    _draw(found, chart)
    whole = found.as_json()
    if monthly:
        whole["swings"] = [each.as_json() for each in swings.values()]
    if supposed is not None:
        whole["what_if"] = supposed.as_json()
    more = "" if supposed is None else f"\n\n{what_if_text(supposed)}"
    answer(whole, lambda: drivers_text(found, swings) + more, as_json=json)
    if not found.complete:
        stop(1)


def _draw(found: Drivers, chart: Path | None) -> None:
    if chart is None or not found.ingredients:
        return
    from dashboard.terminal.chart_file import save_drivers_chart

    save_drivers_chart(found, chart)
    remark(f"Drew {chart}.")


def _swings(book: Book, found: Drivers) -> dict[str, Swing]:
    from pricing.days import month_text
    from pricing.prices.swings import price_swings

    names = [each.ingredient for each in found.ingredients]
    start, end = sorted((found.then, found.now))
    if not names:
        return {}
    listed = price_swings(book, names, start=month_text(start), end=month_text(end))
    return {each.ingredient: each for each in listed}


MOST_SHOWN = 25  # ingredients in a terminal; --json lists all


def drivers_text(found: Drivers, swings: Mapping[str, Swing]) -> str:
    """Return the mean cost then and now, the ingredients ranked, the packs that changed."""
    if not found.dishes:
        none = "The book has no dishes. Load them with `portiondrift load dishes FILE`."
        return "\n".join(left_out_of_words(found)) or none
    money = found.currency
    means = shown_means(found)
    change, by_price, by_recipe = (
        signed_money(each, money) for each in (means.change, means.by_price, means.by_recipe)
    )
    head = (
        f"{counted(found.dishes, 'dish', 'dishes')}, mean cost per portion: "
        f"{show_money(means.then, money)} on {day_words(found.then)}, "
        f"{show_money(means.now, money)} on {day_words(found.now)}\n"
        f"{change}: {by_price} by prices, {by_recipe} by recipes\n"
    )
    headings = [
        "Ingredient", "Change", "By price", "By recipe", "Dishes", "Share now", "Price",
        "Official",
    ]  # fmt: skip
    if swings:
        headings += ["Swing", "Estimated"]
    headings.append("Remark")
    table = text_table(
        headings,
        [
            [each.ingredient, *_cells(each, swings, money), driver_remark(each)]
            for each in found.ingredients[:MOST_SHOWN]
        ],
        right=range(1, len(headings) - 1),
    )
    left = found.ingredients[MOST_SHOWN:]
    tail = []
    if left:
        rest = sum(each.contribution for each in left)
        tail.append(
            f"… and {counted(len(left), 'more ingredient')}, together {signed_mean(rest, money)}; "
            "--json lists all."
        )
    return "\n".join([head, table, *tail, "", *_notes(found)]).rstrip()


def _cells(each: Driver, swings: Mapping[str, Swing], currency: str) -> list[str]:
    cells = driver_cells(each, swings.get(each.ingredient), currency)
    return cells if swings else cells[:-2]


def _notes(found: Drivers) -> Iterator[str]:
    for each in found.ingredients:
        for change in each.packs_changed:
            yield wrapped(pack_sentence(change, found.currency))
    for sentence in left_out_of_words(found):
        yield wrapped(sentence)
    if found.incomplete_dishes:
        names = ", ".join(found.incomplete_dishes[:5])
        more = " and others" if len(found.incomplete_dishes) > 5 else ""
        yield wrapped(f"Not complete, for that: {names}{more}.")


def what_if_text(found: WhatIf) -> str:
    """Return what some changes of price would do to every dish."""
    money = found.currency
    asked = " and ".join(what_if_words(change) for change in found.changes)
    touched = [dish for dish in found.dishes if abs(dish.change) > 1e-9]
    rows = [
        [
            dish.dish,
            *what_if_cells(dish, money),
        ]
        for dish in touched
    ]
    head = f"If {asked} from the prices of {day_words(found.on)}"
    if not rows:
        return f"{head}: no dish takes it."
    table = text_table(
        ["Dish", "Now", "Then it would be", "Change", "in %"], rows, right=(1, 2, 3, 4)
    )
    mean = (
        f"Mean over {counted(len(found.dishes), 'dish', 'dishes')}: "
        f"{show_money(found.mean_now, money)} → {show_money(found.mean_if, money)}"
    )
    return f"{head}\n\n{table}\n\n{mean}"
