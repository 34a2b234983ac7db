"""Two to four versions or dishes beside each other on one day."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from pricing.bench.changed import Addition, Change, ChangedRecipe, Exchange, changed
from pricing.bench.column import Laid, as_column, stated_of
from pricing.bench.records import CAUTION, SideBySide
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import Settings, read_settings
from pricing.clock import asked_day
from pricing.days import Day
from pricing.dishes.cost import cost_read
from pricing.dishes.cost_lines import PricesKept
from pricing.dishes.recipes import dish_names, read_dish
from pricing.errors import InputRefused
from pricing.names import name_key
from pricing.prices.asked_rule import asked_rule
from pricing.prices.rule import Rule

FEWEST, MOST = 2, 4  # columns that can be read beside each other

Asked = str | tuple[str, str | None]  # "DISH", "DISH@VERSION", or a dish with its version


def side_by_side(
    book: Book,
    dishes: Sequence[Asked],
    *,
    on: Day,
    exchange: Sequence[tuple[str, str]] = (),
    add: Sequence[str | tuple[str, str]] = (),
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> SideBySide:
    """Lay two to four recipes beside each other at the prices of one date.

    `dishes`: each in the version in force on `on`, or in the one named. Each of `exchange` (a dish
    inside the first, and the dish that takes its place in the same amount) and of `add` (a dish
    that goes with every portion of the first: one portion, or such as ("SALAD", "80 g")) makes one
    more column of the first. Every column costs what `cost_dish` says of that dish, version and
    day; the others are told against the first.
    Raises InputRefused, UnknownName, MeasureRefused, DateRefused, RecipeRefused, BookUnreadable.
    """
    on = asked_day(on)
    changes: list[Change] = [Exchange(dish=gone, instead=put) for gone, put in exchange]
    changes += [Addition(dish=each) if isinstance(each, str) else _added(*each) for each in add]
    _refuse_number(len(dishes), len(changes))
    with reading(book) as con:
        settings = read_settings(con)
        rule = asked_rule(con, settings, market=market, not_supplier=not_supplier)
        laid = _laid(con, rule, settings, (_named(con, dishes), changes), on)
        tried = stated_of(con, laid)
    columns = tuple(as_column(each, laid[0], tried, settings.allergen_list) for each in laid)
    return SideBySide(
        on=on,
        currency=rule.currency,
        market=rule.market,
        complete=all(each.complete for each in columns),
        columns=columns,
        caution=CAUTION,
    )


def _added(dish: str, amount: str) -> Addition:
    return Addition(dish=dish, amount=amount)


def _refuse_number(dishes: int, changes: int) -> None:
    if dishes < 1 or not FEWEST <= dishes + changes <= MOST:
        raise InputRefused(
            f"Found {dishes + changes} to lay side by side; expected {FEWEST} to {MOST}: dishes, "
            "versions of them (DISH@VERSION), or changes of the first. Name more or fewer."
        )


def _named(con: Connection, dishes: Iterable[Asked]) -> list[tuple[str, str | None]]:
    """Return each dish with its version; an @ may also be part of a name."""
    names = {name_key(each) for each in dish_names(con)}
    found: list[tuple[str, str | None]] = []
    for each in dishes:
        if not isinstance(each, str):
            found.append(each)
        elif name_key(each) in names or "@" not in each:
            found.append((each, None))
        else:
            dish, _, version = each.rpartition("@")
            found.append((dish, version))
    return found


def _laid(
    con: Connection,
    rule: Rule,
    settings: Settings,
    asked: tuple[Sequence[tuple[str, str | None]], Sequence[Change]],
    on: date,
) -> list[Laid]:
    recipes = []
    for dish, label in asked[0]:
        dish_id, read = read_dish(con, dish)
        version = read.in_force(dish_id, on)[0] if label is None else read.named(dish_id, label)
        recipes.append(ChangedRecipe(recipes=read, version=version, said=None))
    first = recipes[0]
    day = first.recipes.recipe_day(first.version, on)
    recipes += [changed(con, first.version, day, each) for each in asked[1]]
    laid, kept = [], PricesKept()
    for each in recipes:
        day = each.recipes.recipe_day(each.version, on)
        cost = cost_read(
            con, rule, each.recipes, each.version, on=on, recipe_day=day, settings=settings,
            kept=kept,
        )  # fmt: skip
        laid.append(Laid(recipe=each, day=day, cost=cost))
    _refuse_twice(laid)
    return laid


def _refuse_twice(laid: Sequence[Laid]) -> None:
    seen = set()
    for each in laid:
        name = (each.cost.dish, each.cost.version, each.recipe.said)
        if name in seen:
            raise InputRefused(
                f"Found '{each.cost.dish}', version {each.cost.version}, twice; expected different "
                "dishes, versions or changes. Name another, such as DISH@VERSION."
            )
        seen.add(name)
