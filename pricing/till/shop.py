"""What a shop for some dishes costs at the till, in whole packs, beside their cost on the plate."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings, rows
from pricing.clock import asked_day
from pricing.days import Day
from pricing.dishes.cost import DishCost
from pricing.money import show_money
from pricing.names import name_key
from pricing.prices.asked_rule import asked_rule
from pricing.prices.rule import Rule
from pricing.till.needs import Dishes, Need, add_up, cost_dishes, read_dishes
from pricing.till.packs import choose_packs
from pricing.till.records import ItemBought, PackBought, PantryItem, ShopDish, Till


def shop_for(
    book: Book,
    dishes: Dishes,
    *,
    on: Day,
    supplier: str | None = None,
    pantry: bool = True,
    version: str | Mapping[str, str] | None = None,
    offers: bool = False,
    market: str | None = None,
    not_supplier: Sequence[str] = (),
) -> Till:
    """Buy for some dishes on a date, from nothing, in whole packs, as cheaply as it can be done.

    `dishes` maps each dish to how many batches of it are made (any number above 0). What all of
    them need of one ingredient is added up before its packs are chosen, so that one pack can serve
    two dishes. `pantry` false leaves store-cupboard lines out and lists them apart. `version` is
    that of the only dish, or maps dishes to theirs; else each is in the version in force.
    `supplier` keeps to one shop; `offers` lets offers count; `market` and `not_supplier` as in
    `cost_dish`: packs are those of the market whose prices count.

    An ingredient without a price by the rule has no pack. It is named, and the sums are then "at
    least". Left-overs are valued at what their packs cost. Goods sold loose count as the packs they
    were logged in. The till can come out under the plate: a costing takes the typical price of
    several packs and shops, a shopper the cheapest. Which packs can be bought: `_packs_to_buy`.
    Raises InputRefused, UnknownName, DateRefused, RecipeRefused, BookUnreadable.
    """
    on = asked_day(on)
    asked = read_dishes(dishes)
    with reading(book) as con:
        settings = read_settings(con)
        rule = asked_rule(
            con, settings, market=market, supplier=supplier, not_supplier=not_supplier,
            offers=offers,
        )  # fmt: skip
        made = cost_dishes(con, rule, asked, on, version)
        needs = add_up(made)
        counted = {name: need for name, need in needs.items() if pantry or need.other_lines}
        packs = _packs_to_buy(con, rule, counted.values(), on)
    items = tuple(
        _item(need, packs.get(name, []), on, pantry=pantry) for name, need in counted.items()
    )
    apart = [] if pantry else [need for need in needs.values() if need.pantry_lines]
    return _till(made, items, apart, rule, on, pantry=pantry)


def _packs_to_buy(
    con: Connection, rule: Rule, needs: Collection[Need], on: date
) -> dict[str, list[dict[str, Any]]]:
    """Return ingredient → rows of queries/till/packs_to_buy.sql, by the price rule:

    - When the ingredient has been seen within the book's fresh days (45 unless set) up to `on`,
      every supplier, product and size seen in that time can be bought, each at the price of the
      last day on which it was seen, tax included. Packs of several shops may be mixed.
    - When it has not, the packs that were fresh on the last day it was seen can be bought, as the
      typical price of that day rests on them too, at their prices moved by the factor by which the
      rule moves that typical price (marked `moved`, with the series); where nothing can move it, at
      their prices as seen, with their age. A price seen later counts only where the rule itself
      bridges back from it.
    - A named product that changed its pack for good can no longer be bought in the old one.
    """
    names, firsts, lasts, markets = [], [], [], []
    for need in needs:
        age = need.line.age_days
        if age is None or need.line.unit_price is None or not need.known:
            continue
        # the day whose prices the figure rests on: the last day seen, or a later one
        seen_on = need.line.anchors[0] if need.line.anchors else on - timedelta(days=age)
        last = on if 0 <= age <= rule.fresh_days else seen_on
        names.append(need.line.ingredient)
        markets.append(need.line.market or "any")
        firsts.append(last - timedelta(days=rule.fresh_days) if seen_on <= on else seen_on)
        lasts.append(last)
    found: dict[str, list[dict[str, Any]]] = {}
    if not names:
        return found
    parameters = {
        "ingredients": names, "firsts": firsts, "lasts": lasts, "markets": markets,
        "currency": rule.currency, "without": [name_key(each) for each in rule.without],
        "supplier": None if rule.supplier is None else name_key(rule.supplier),
        "offers": rule.offers,
    }  # fmt: skip
    for row in rows(con, "till/packs_to_buy", parameters):
        found.setdefault(row["ingredient"], []).append(row)
    return found


def _item(need: Need, packs: Sequence[dict[str, Any]], on: date, *, pantry: bool) -> ItemBought:
    line, amount = need.line, need.pantry + need.other if pantry else need.other
    counts = choose_packs([(row["size"], row["price"]) for row in packs], amount) if packs else ()
    bought = tuple(
        _pack_bought(row, count, line.factor, on)
        for row, count in zip(packs, counts, strict=True)
        if count
    )
    inside = sum(pack.count * pack.size for pack in bought)
    cost = sum(pack.cost for pack in bought) if bought else None
    left = max(0.0, inside - amount) if bought else None
    return ItemBought(
        ingredient=line.ingredient,
        base=line.base or "",
        needed=amount if need.known else None,
        pantry=need.other_lines == 0,
        pantry_needed=need.pantry if pantry else 0.0,
        plate_cost=need.plate_cost(amount),
        packs=bought,
        bought=inside,
        cost=cost,
        left_over=left,
        left_over_value=None if cost is None or left is None else cost * left / inside,
        left_over_share=None if left is None else left / inside,
        basis=line.basis if bought else "missing",
        series=line.series,
        series_title=line.series_title,
        anchors=line.anchors,
        months=line.months,
        filled=line.filled,
        held_at=line.held_at,
        reason=line.reason if need.reason is None else need.reason,
    )


def _pack_bought(row: Mapping[str, Any], count: int, factor: float | None, on: date) -> PackBought:
    price = row["price"] if factor is None else row["price"] * factor
    return PackBought(
        pack=row["pack"],
        size=row["size"],
        count=count,
        price=price,
        price_seen=row["price"],
        cost=count * price,
        supplier=row["supplier"],
        product=row["product"],
        seen_on=row["seen_on"],
        age_days=(on - row["seen_on"]).days,
        moved=factor is not None,
        factor=factor,
    )


def _till(
    made: Sequence[tuple[DishCost, float]],
    items: tuple[ItemBought, ...],
    apart: Sequence[Need],
    rule: Rule,
    on: date,
    *,
    pantry: bool,
) -> Till:
    cost = sum(item.cost or 0.0 for item in items)
    left = sum(item.left_over_value or 0.0 for item in items)
    plate = sum(item.plate_cost or 0.0 for item in items)
    portions = sum(dish.portions * batches for dish, batches in made)
    without = tuple(item.ingredient for item in items if not item.packs)
    least = "at least " if without else ""
    return Till(
        on=on,
        currency=rule.currency,
        supplier=rule.supplier,
        pantry=pantry,
        complete=not without,
        cost=cost,
        left_over_value=left,
        left_over_share=left / cost if cost > 0 else None,
        plate_cost=plate,
        portions=portions,
        cost_per_portion=cost / portions,
        plate_cost_per_portion=plate / portions,
        display={
            "cost": f"{least}{show_money(cost, rule.currency)}",
            "plate_cost": f"{least}{show_money(plate, rule.currency)}",
        },
        dishes=tuple(_shop_dish(dish, batches) for dish, batches in made),
        ingredients=items,
        not_counted=tuple(
            PantryItem(
                ingredient=need.line.ingredient,
                base=need.line.base or "",
                needed=need.pantry if need.known else None,
                plate_cost=need.plate_cost(need.pantry),
            )
            for need in apart
        ),
        without_pack=without,
    )


def _shop_dish(dish: DishCost, batches: float) -> ShopDish:
    return ShopDish(
        dish=dish.dish,
        version=dish.version,
        version_in_force=dish.version_in_force,
        batches=batches,
        portions=dish.portions * batches,
        complete=dish.complete,
        cost_per_batch=dish.cost_per_batch,
        cost_per_portion=dish.cost_per_portion,
    )
