"""Random comparisons in memory: recipes with yields and sub-recipes, prices with gaps and packs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from random import Random

from pricing.change.effects import effects
from pricing.change.records import IngredientChange
from pricing.change.split import Compared, split_effects
from pricing.dishes.recipes import Line, Recipes, Version
from pricing.prices.evidence import GridPrice, Pair, SeenPrice

THEN, NOW = date(2013, 5, 4), date(2024, 9, 30)
START = date(2010, 1, 1)
REWORKED = date(2018, 6, 1)
INGREDIENTS = {number: (f"ingredient {number}", "g") for number in range(1, 11)}
DISH, PART = 1, 2
Packs = dict[tuple[int, str, str, date], float]


@dataclass(frozen=True, kw_only=True)
class Case(Compared):
    """A comparison ready to be worked out."""

    def parts(self) -> list[IngredientChange]:
        """Return the effects with their parts."""
        taken = [self.recipes.per_portion(*side) for side in self.sides]
        unit_prices = {pair: price.unit_price for pair, price in self.prices.items()}
        found = effects(INGREDIENTS, (taken[0], taken[1]), unit_prices, self.on)
        ids = sorted(taken[0].keys() | taken[1].keys())
        return split_effects(found, ids, self)

    def turned(self) -> Case:
        """Return the same comparison from now to then."""
        return replace(self, sides=(self.sides[1], self.sides[0]), on=(self.on[1], self.on[0]))

    def cost(self, side: int, prices_of: int) -> float:
        """Return what a portion of one side's recipe costs at the prices of a side, by itself.

        What cannot be compared counts as nothing: an amount that is not known on one of the sides,
        an ingredient without a price on a day that it needs one of.
        """
        taken = [self.recipes.per_portion(*each) for each in self.sides]
        total = 0.0
        for ingredient, quantity in taken[side].items():
            other = taken[1 - side].get(ingredient, 0.0)
            then, now = (self.prices[ingredient, day].unit_price for day in self.on)
            needed = [then, now] if ingredient in taken[0] else [now]
            if quantity is None or other is None or None in needed:
                continue
            total += quantity * ((then, now)[prices_of] or 0.0)
        return total


def random_case(chance: Random, *, gaps: bool = True) -> Case:
    """Return a random comparison; `gaps`: prices may be missing and amounts unknown."""
    versions, lines = {}, {}
    row = 0
    for dish in (DISH, PART):
        versions[dish] = []
        for start in (START, REWORKED):
            row += 1
            versions[dish].append(
                Version(
                    row=row,
                    dish_id=dish,
                    dish="pie" if dish == DISH else "pastry",
                    version=str(start.year),
                    effective_from=start,
                    portions=float(chance.randint(1, 12)),
                    batch_weight_g=chance.uniform(100, 5000),
                    group=None,
                    minutes=None,
                    made_per_month=None,
                    target=None,
                )
            )
            lines[row] = [random_line(chance, at, gaps) for at in range(1, chance.randint(2, 9))]
            if dish == DISH and chance.random() < 0.6:
                unit = chance.choice(["portion", "batch", "g"])
                amount = chance.uniform(0.1, 3) * (200 if unit == "g" else 1)
                lines[row].append(sub_line(len(lines[row]) + 1, unit, amount))
    recipes = Recipes(versions=versions, lines=lines)
    sides = tuple((chance.choice(versions[DISH]), day) for day in (THEN, NOW))
    prices: dict[Pair, GridPrice] = {}
    packs: Packs = {}
    for ingredient in INGREDIENTS:
        for day in (THEN, NOW):
            prices[ingredient, day] = random_price(chance, ingredient, day, packs, gaps)
    ratios = {
        (chance.randint(1, 10), chance.randint(1, 10)): chance.uniform(0.2, 3) for _ in range(6)
    }
    return Case(
        recipes=recipes,
        sides=(sides[0], sides[1]),
        on=(THEN, NOW),
        prices=prices,
        packs=packs,
        swap_ratios={pair: ratio for pair, ratio in ratios.items() if pair[0] != pair[1]},
    )


def random_line(chance: Random, position: int, gaps: bool) -> Line:
    ingredient = chance.choice(list(INGREDIENTS))
    bought = chance.uniform(1, 2000)
    trim = 1.0 if chance.random() < 0.6 else 1 / chance.uniform(0.3, 1)
    unknown = gaps and chance.random() < 0.03
    return Line(
        position=position,
        ingredient_id=ingredient,
        sub_dish_id=None,
        name=INGREDIENTS[ingredient][0],
        quantity="1",
        unit="g",
        amount=bought / trim,
        dimension="g",
        state="as_purchased" if trim == 1.0 else "edible",
        pantry=False,
        base="g",
        as_purchased=None if unknown else bought,
        trim=trim,
    )


def sub_line(position: int, unit: str, amount: float) -> Line:
    return Line(
        position=position, ingredient_id=None, sub_dish_id=PART, name="pastry", quantity="1",
        unit=unit, amount=amount, dimension=unit, state="as_purchased", pantry=False, base=None,
        as_purchased=None, trim=1.0,
    )  # fmt: skip


def random_price(chance: Random, ingredient: int, day: date, packs: Packs, gaps: bool) -> GridPrice:
    if gaps and chance.random() < 0.1:
        return grid_price(day, None, None, ())
    factor = chance.uniform(0.5, 2) if chance.random() < 0.4 else None
    seen, typical = [], 0.0
    shops = ("quay", "mill")[: chance.randint(1, 2)]
    first = chance.uniform(0.1, 0.9) if len(shops) == 2 else 1.0
    for shop, share in zip(shops, (first, 1 - first), strict=False):
        when = day - timedelta(days=chance.randint(0, 400))
        product = chance.choice([None, "brand"])
        unit_price = chance.uniform(0.0005, 0.05)
        moved = chance.uniform(0.5, 2) if (day - when).days > 45 else 1.0
        typical += share * unit_price * moved
        seen.append(
            SeenPrice(
                date=when, supplier=shop, product=product, unit_price=unit_price, moved=moved,
                share=share,
            )
        )  # fmt: skip
        if product is not None:
            packs[ingredient, shop, product, when] = chance.choice([500.0, 450.0, 400.0])
    return grid_price(day, typical * (factor or 1.0), factor, tuple(seen))


def grid_price(
    day: date, unit_price: float | None, factor: float | None, seen: tuple[SeenPrice, ...]
) -> GridPrice:
    """Return a price that was seen, or (`factor`) moved by an index from one that was."""
    bridged = factor is not None and unit_price is not None
    basis = "missing" if unit_price is None else "bridged" if bridged else "observed"
    return GridPrice(
        spread=None,
        on_date=day,
        unit_price=unit_price,
        basis=basis,
        market=None if unit_price is None else "shop",
        moved_share=None,
        d0=seen[0].date if seen else None,
        d1=None,
        u0=unit_price / factor if bridged and unit_price and factor else None,
        u1=None,
        series="t:food" if bridged else None,
        series_title=None,
        named_series=None,
        anchors=(),
        months=(),
        filled=(),
        held_at=None,
        observed=seen,
    )
