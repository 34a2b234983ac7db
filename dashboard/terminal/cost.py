"""The command that costs a dish."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dashboard.terminal.named_dishes import HalfProducts
from dashboard.terminal.options import Json, Market, NotSupplier, RecipeDay, Supplier
from dashboard.terminal.output import answer, read_date, read_day, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.allergens import dish_allergens_words
from dashboard.words.change import compared_words
from dashboard.words.dish import (
    gaps,
    line_marks,
    portions_words,
    recipe_day_words,
    work_words,
)
from dashboard.words.evidence import band_words, evidence_words
from dashboard.words.figures import (
    amount_words,
    figure,
    half_products_words,
    listed,
    percent,
    quantity_words,
    signed_percent,
    version_words,
)
from dashboard.words.house_rules import to_print_words
from dashboard.words.line_costs import Shown, shown_costs
from pricing.days import day_words
from pricing.errors import InputRefused, UnknownName
from pricing.measures.unit_price import unit_price_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.book.read import Settings
    from pricing.dishes.cost import DishCost
    from pricing.dishes.on_a_day import DishesOnADay, DishOnDay
    from pricing.prices.price_line import CostLine

OneOrMany = Annotated[
    list[str] | None, typer.Argument(help="One in full; several, or none for all, a line each.")
]
NoPantry = Annotated[bool, typer.Option("--no-pantry", help="Leave the lines marked pantry out.")]
Portions = Annotated[
    float | None, typer.Option("--portions", help="Scale the recipe to so many portions.")
]


def cost(
    dishes: OneOrMany = None,
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    version: Annotated[str | None, typer.Option("--version")] = None,
    recipe_day: RecipeDay = "",
    basis: Annotated[str, typer.Option("--basis", help="bridged or observed.")] = "bridged",
    market: Market = None,
    supplier: Supplier = None,
    not_supplier: NotSupplier = None,
    region: Annotated[str | None, typer.Option("--region")] = None,
    offers: Annotated[bool, typer.Option("--offers", help="Let offers count.")] = False,
    no_pantry: NoPantry = False,
    portions: Portions = None,
    since: Annotated[str, typer.Option("--since", help="Hold many dishes against this date.")] = "",
    by: Annotated[str, typer.Option("--by", help="name, cost, change or group.")] = "name",
    half_products: HalfProducts = False,
    json: Json = False,
) -> None:
    """Cost a dish at the prices of a date, line by line; or many dishes, a line each."""
    from pricing import cost_dish, cost_dishes
    from pricing.contents.settings import book_settings

    book, day, without = the_book(), read_day(on), not_supplier or ()
    whose = suppliers_words(supplier, without)
    if dishes is None or len(dishes) != 1:
        if any((version, recipe_day, region, offers, no_pantry, portions, basis != "bridged")):
            raise InputRefused(NOT_OF_MANY)
        found = cost_dishes(
            book, dishes, on=day, since=read_date(since) if since else None,
            half_products=half_products, market=market, supplier=supplier, not_supplier=without,
        )  # fmt: skip
        answer(found, lambda: many_text(found, by, whose), as_json=json)
        complete = all(dish.complete for dish in found.dishes)
    else:
        costing = cost_dish(
            book, dishes[0], on=day, version=version, basis=basis, market=market, region=region,
            recipe_day=read_date(recipe_day) if recipe_day else None, supplier=supplier,
            not_supplier=without, offers=offers, pantry=not no_pantry, scaled_to=portions,
        )  # fmt: skip
        answer(costing, lambda: cost_text(costing, book_settings(book), whose), as_json=json)
        complete = costing.complete
    if not complete:
        stop(1)


NOT_OF_MANY = (
    "Found options that one dish takes, and not one dish; expected them beside one name. Name one "
    "dish, or leave them out."
)
MARKET_WORDS = {
    "trade": " (trade prices: invoices and quotes)",
    "any": " (shop and trade prices together)",
}
ORDERS: dict[str, Callable[[DishOnDay], tuple[Any, ...]]] = {
    "name": lambda dish: (dish.dish.casefold(),),
    "cost": lambda dish: (-dish.cost_per_portion, dish.dish.casefold()),
    "change": lambda dish: (
        dish.change_pct is None, -abs(dish.change_pct or 0.0), dish.dish.casefold(),
    ),
    "group": lambda dish: (dish.group is None, dish.group or "", dish.dish.casefold()),
}  # fmt: skip


def many_text(found: DishesOnADay, by: str, whose: str = "") -> str:
    """Return a line for each dish, in the order asked for. Raises UnknownName."""
    if by not in ORDERS:
        raise UnknownName("order", by, remedy=f"Ask for {', '.join(ORDERS)}.")
    if not found.dishes:
        return "No dish to show. Load dishes with `portiondrift load dishes FILE`."
    headings = ["Dish", "Group", "Version", "Cost per portion", "Moved by an official series"]
    headings += [f"Since {day_words(found.since)}"] if found.since else []
    rows = []
    for dish in sorted(found.dishes, key=ORDERS[by]):
        row = [
            dish.dish,
            dish.group or "",
            version_words(dish.version, dish.version_in_force).removeprefix("version "),
            figure(dish.cost_per_portion, dish.complete, found.currency),
            percent(dish.share_bridged),
        ]
        if found.since:
            change = None if dish.change_pct is None else dish.change_pct / 100
            row.append(signed_percent(change))
        rows.append(row)
    tail = [
        f"{compared_words(each.ingredient, each.market_then, each.market_now)}."
        for each in found.settled
    ]
    if found.half_products:
        tail.append(half_products_words(found.half_products))
    if found.drafts:
        tail.append(f"Left out, as they begin later: {', '.join(found.drafts)}.")
    table = text_table(headings, rows, right=(3, 4, 5))
    market = MARKET_WORDS.get(found.market, "")
    head = f"At prices of {day_words(found.on)}{whose}{market}, per portion\n\n"
    return "\n".join([head + table, *(["", *map(wrapped, tail)] if tail else [])])


def suppliers_words(only: str | None, without: Sequence[str]) -> str:
    """Return whose prices alone count, or whose do not, to follow the day of the prices."""
    words = f" (only those of {only})" if only else ""
    return f"{words} (without those of {listed(without)})" if without else words


def cost_text(cost: DishCost, settings: Settings, whose: str = "") -> str:
    """Return a costing: the figure first, then its lines, then what to know about it.

    `whose` follows the day of the prices: `suppliers_words`.
    """
    version = version_words(cost.version, cost.version_in_force)
    batch = figure(cost.cost_per_batch, cost.complete, cost.currency)
    head = [
        f"{cost.dish}, {version}, at prices of {day_words(cost.on)}{whose}"
        f"{recipe_day_words(cost)}{MARKET_WORDS.get(cost.market, '')}",
        f"{_per_portion(cost)}   "
        f"({batch} for {portions_words(cost)}; "
        f"pantry lines {show_money(cost.pantry_per_portion, cost.currency)} per portion)",
        *filter(None, [to_print_words(cost, settings)]),
        "",
    ]
    measures = settings.measures
    shown = shown_costs(cost)
    rows = [row for line in cost.lines for row in _cost_rows(line, cost, measures, 0, shown)]
    table = text_table(
        ["Ingredient", "Recipe", "As purchased", "Unit price", "Cost", "Share", "Price evidence"],
        rows,
        right=(2, 3, 4, 5),
    )
    tail = []
    if cost.band is not None:
        tail += ["", wrapped(band_words(cost.band, cost.currency, complete=cost.complete))]
    tail += ["", work_words(cost)] if cost.minutes is not None else []
    tail += ["", wrapped(dish_allergens_words(cost.allergens))]
    tail += [] if cost.complete else ["", *_gaps(cost)]
    return "\n".join([*head, table, *tail])


def _per_portion(cost: DishCost) -> str:
    if all(line.basis == "missing" for line in cost.ingredient_lines()):
        return "No figure: no line has a price"
    return f"{cost.display['cost_per_portion']} per portion"


def _cost_rows(
    line: CostLine, whole: DishCost, measures: str, depth: int, shown: Shown
) -> Iterator[list[str]]:
    currency = whole.currency
    name = "  " * depth + line.ingredient.removeprefix("dish:")
    yield [
        f"{name}{line_marks(line)}",
        quantity_words(line.quantity, line.unit),
        amount_words(line.as_purchased, line.base),
        "" if line.lines else unit_price_words(line.unit_price, line.base, currency, measures),
        show_money(shown.get(id(line)), currency),
        percent(line.share),
        evidence_words(line, whole.market),
    ]
    for inside in line.lines:
        yield from _cost_rows(inside, whole, measures, depth + 1, shown)


def _gaps(cost: DishCost) -> list[str]:
    return [
        "At least, because these lines have no price:",
        *(f"  {ingredient}: {reason}" for ingredient, reason in gaps(cost).items()),
    ]
