"""The reprint round: prices to check, then each figure anew and why, then corrections."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings
from pricing.clock import asked_day, today
from pricing.contents.house_rules import HouseRules
from pricing.days import Day, day_words, read_day
from pricing.dishes.counted import half_product_ids
from pricing.dishes.recipes import Recipes, find_dish, read_recipes
from pricing.errors import DateRefused, UnknownName
from pricing.names import find, name_key
from pricing.prices.bridge_error import typical_errors
from pricing.prices.evidence import grid_prices
from pricing.prices.rule import Rule, ask_pairs, grid_rows
from pricing.printed.check import check_in
from pricing.printed.records import CheckedFigure, CheckedFigures
from pricing.printed.verdict import DIFFERS
from pricing.reprint.dish import Sides, sides_of, to_reprint
from pricing.reprint.records import Correction, DishToReprint, PriceToCheck, Reprint
from pricing.reprint.worth import prices_to_check


def reprint_round(
    book: Book,
    dishes: Sequence[str] | None = None,
    *,
    group: str | None = None,
    by: Day | None = None,
    on: Day | None = None,
) -> Reprint:
    """Return what must happen before dishes are printed again, at prices of `on` (None: today).

    Without names and group, every dish with a printed figure in force counts; a dish that is named,
    or is of the group, counts without one too (of the group, no half-product). `by` is the day it
    is to be printed: the version in force then is costed. All prices come from one run of the price
    rule, the figures are those of the house's rules.
    Raises UnknownName, DateRefused (`on` after today, `by` before `on`), RecipeRefused,
    BookUnreadable.
    """
    day = today() if on is None else asked_day(on)
    due = None if by is None else read_day(by)
    if due is not None and due < day:
        raise DateRefused(
            f"Found a reprint by {day_words(due)} at prices of {day_words(day)}; expected it on "
            "that day or later. Correct --by, or name an earlier day of prices with --on."
        )
    with reading(book) as con:
        checked = check_in(con, day)
        recipes = read_recipes(con, None)
        named = _named(con, recipes, dishes, group, due or day)
        asked = _asked(recipes, checked, named, due or day)
        costed = _Costed.of(con, recipes, asked, day)
    return Reprint(
        on=day,
        by=due,
        tolerance_pct=checked.tolerance_pct,
        check=tuple(sorted(costed.check, key=lambda each: (-each.worth, each.ingredient))),
        dishes=tuple(sorted(costed.dishes, key=_moved_most)),
        corrections=_corrections(checked, None if named is None else {s.dish for s in asked}),
    )


def _moved_most(each: DishToReprint) -> tuple[bool, float, str]:
    moved = abs(each.change) / each.printed if each.change is not None and each.printed else 0.0
    return each.recosted_now is not None, -moved, each.dish.casefold()


def _named(
    con: Connection,
    recipes: Recipes,
    dishes: Sequence[str] | None,
    group: str | None,
    on: date,
) -> set[int] | None:
    """Return the dishes asked for; None: all that are in print. Raises UnknownName."""
    if not dishes and group is None:
        return None
    found = {find_dish(con, name) for name in dishes or ()}
    if group is not None:
        groups: dict[str, set[int]] = {}
        halves = half_product_ids(con)
        for dish_id in recipes.versions.keys() - halves:
            own = recipes.in_force(dish_id, on)[0].group
            if own:
                groups.setdefault(name_key(own), set()).add(dish_id)
        if not groups:
            raise UnknownName("group", group, remedy="No dish of the book states a group.")
        found |= find(group, groups, kind="group")
    return found


def _asked(
    recipes: Recipes, checked: CheckedFigures, named: set[int] | None, due: date
) -> list[Sides]:
    """Return the sides of every figure in force, and of every dish named that has none."""
    ids = {name_key(versions[0].dish): each for each, versions in recipes.versions.items()}
    found, printed = [], set()
    for figure in checked.in_force:
        dish_id = ids[name_key(figure.dish)]
        if named is None or dish_id in named:
            printed.add(dish_id)
            found.append(sides_of(recipes, dish_id, figure, due))
    return found + [
        sides_of(recipes, each, None, due) for each in sorted((named or set()) - printed)
    ]


class _Costed:
    """Figures and prices of every currency asked for."""

    def __init__(self) -> None:
        self.check: list[PriceToCheck] = []
        self.dishes: list[DishToReprint] = []

    @classmethod
    def of(cls, con: Connection, recipes: Recipes, asked: Sequence[Sides], on: date) -> _Costed:
        costed, settings = cls(), read_settings(con)
        house, table, names = HouseRules.of(settings), typical_errors(con), recipes.ingredients()
        own = settings.currency
        for currency in dict.fromkeys(each.currency or own for each in asked):
            rule = Rule.of(settings, currency=currency)
            some = [each for each in asked if (each.currency or own) == currency]
            taken = [each.taken(recipes, on, pantry=house.pantry) for each in some]
            pairs = {(i, on) for both in taken for portion in both for i in portion}
            before = {
                (i, each.then_on)
                for each, (then, _) in zip(some, taken, strict=True)
                for i in then
                if each.then_on is not None
            }
            prices = {i: price for (i, _), price in grid_prices(con, rule, pairs).items()}
            rows = grid_rows(con, rule, ask_pairs(before - pairs))
            seen = {
                **{
                    (r["ingredient_id"], r["on_date"]): (r["unit_price"], r["market"]) for r in rows
                },
                **{(i, on): (price.unit_price, price.market) for i, price in prices.items()},
            }
            costed.dishes += [
                to_reprint(each, sides, names, seen, (on, currency, house))
                for each, sides in zip(some, taken, strict=True)
            ]
            costed.check += prices_to_check(
                con, (currency, on), (now for _, now in taken), prices, names, table
            )
        return costed


def _corrections(checked: CheckedFigures, dishes: set[str] | None) -> tuple[Correction, ...]:
    wrong = [
        _correction(each, each.known_then, each.off_then_pct)
        for each in checked.in_force
        if each.then == DIFFERS
        and each.known_then is not None
        and each.off_then_pct is not None
        and (dishes is None or each.dish in dishes)
    ]
    return tuple(sorted(wrong, key=lambda each: (-abs(each.off_then_pct), each.dish)))


def _correction(figure: CheckedFigure, known_then: float, off_then_pct: float) -> Correction:
    told = (
        "dish", "version", "published_on", "costed_on", "where", "currency", "printed",
        "as_printed",
    )  # fmt: skip
    return Correction(
        **{name: figure[name] for name in told}, known_then=known_then, off_then_pct=off_then_pct
    )
