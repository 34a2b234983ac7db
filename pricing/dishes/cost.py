"""The cost of one dish on one date, line by line, with the evidence of every price."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import settings
from pricing.clock import refuse_future
from pricing.contents.choices import find_supplier
from pricing.days import month_text
from pricing.dishes.recipes import Line, Recipes, Version, find_dish, read_recipes, refuse_path
from pricing.errors import UnknownName
from pricing.money import show_money
from pricing.prices.bridge_error import (
    CostBand,
    Key,
    TypicalError,
    cost_band,
    typical_error,
    typical_errors,
)
from pricing.prices.evidence import GridPrice, Pair, grid_prices
from pricing.prices.price_line import CostLine, SeenPrice
from pricing.prices.reasons import Held, what_is_held, why_held, why_missing
from pricing.prices.rule import Rule

_WEAKEST = ("missing", "bridged", "observed")


@dataclass(frozen=True, kw_only=True)
class DishCost(Answer):
    """A dish costed on a date (contract §3)."""

    dish: str
    version: str
    version_in_force: bool  # is the version used the one in force on `on`
    on: date
    currency: str
    portions: float
    complete: bool  # false: the costs are "at least", the sum of the priced lines
    cost_per_batch: float
    cost_per_portion: float
    pantry_per_portion: float  # the part of it from lines marked pantry
    display: dict[str, str]
    lines: tuple[CostLine, ...]
    basis: str  # the basis asked for
    band: CostBand | None = None  # per portion, what bridging leaves open; None: nothing bridged
    minutes: float | None = None  # of work per batch, as the dish states; without sub-recipes'
    work_per_portion: float | None = None  # priced by the book's rate; never part of the costs

    def as_json(self) -> dict[str, object]:
        answer = super().as_json()
        if self.work_per_portion is None:  # a key only where the book prices work
            del answer["work_per_portion"]
        return answer

    def ingredient_lines(self) -> Iterator[CostLine]:
        """Yield the ingredient lines, those of sub-recipes in their place."""
        for line in self.lines:
            yield from line.ingredient_lines()


def cost_dish(
    book: Book,
    dish: str,
    *,
    on: date,
    version: str | None = None,
    basis: str = "bridged",
    supplier: str | None = None,
    region: str | None = None,
    offers: bool = False,
) -> DishCost:
    """Cost a dish at the prices of a date.

    `version` defaults to the one in force on `on`; sub-recipes are always in the version in force.
    `basis` is "bridged" (an old price may be moved by its official series) or "observed".
    `supplier` and `region` keep only prices from there; `offers` lets offers count.
    Raises UnknownName, DateRefused (a date after today), RecipeRefused, BookUnreadable.
    """
    if basis not in ("bridged", "observed"):
        raise UnknownName("basis", basis, remedy="Ask for bridged or observed.")
    refuse_future(on)
    with reading(book) as con:
        held = settings(con)
        if supplier is not None:
            supplier = find_supplier(con, supplier)
        rule = Rule(
            currency=held.currency,
            fresh_days=held.fresh_days,
            basis=basis,
            supplier=supplier,
            region=region,
            offers=offers,
        )
        return cost_in(con, rule, dish, on=on, version=version)


def cost_in(
    con: Connection, rule: Rule, dish: str, *, on: date, version: str | None = None
) -> DishCost:
    """`cost_dish` by a rule, in an open book. Raises UnknownName, RecipeRefused."""
    dish_id = find_dish(con, dish)
    return _cost(con, rule, read_recipes(con, [dish_id]), dish_id, on, version)


def _cost(
    con: Connection,
    rule: Rule,
    recipes: Recipes,
    dish_id: int,
    on: date,
    label: str | None,
) -> DishCost:
    current, started = recipes.in_force(dish_id, on)
    version = current if label is None else recipes.named(dish_id, label)
    ids = {line.ingredient_id for line, _ in recipes.unfold(version, on)} - {None}
    pairs: set[Pair] = {(each, on) for each in ids if each is not None}
    prices = grid_prices(con, rule, pairs)
    missing = [pair[0] for pair, price in prices.items() if price.basis == "missing"]
    bridging = any(price.basis == "bridged" for price in prices.values())
    work = _Work(
        rule=rule,
        recipes=recipes,
        on=on,
        prices={pair[0]: price for pair, price in prices.items()},
        held=what_is_held(con, missing, rule),
        errors=typical_errors(con) if bridging else {},
        titles=dict(con.execute("SELECT series, title FROM series_now").fetchall()),
        mapped=dict(con.execute("SELECT ingredient_id, series FROM ingredient_now").fetchall()),
    )
    lines = work.lines(version, 1.0, pantry=False, path=())
    total = sum(line.cost or 0.0 for line in lines)
    flat = [each for line in lines for each in line.ingredient_lines()]
    per_portion = total / version.portions
    complete = all(line.basis != "missing" for line in flat)
    shown = show_money(per_portion, rule.currency)
    return DishCost(
        dish=version.dish,
        version=version.version,
        version_in_force=started and version.row == current.row,
        on=on,
        currency=rule.currency,
        portions=version.portions,
        complete=complete,
        cost_per_batch=total,
        cost_per_portion=per_portion,
        pantry_per_portion=sum(line.cost or 0.0 for line in flat if line.pantry) / version.portions,
        display={"cost_per_portion": shown if complete else f"at least {shown}"},
        lines=tuple(_shared(line, total) for line in lines),
        basis=rule.basis,
        band=cost_band(per_portion, _bridged(flat, version.portions)),
        minutes=version.minutes,
        work_per_portion=_work_per_portion(con, rule, version),
    )


def _work_per_portion(con: Connection, rule: Rule, version: Version) -> float | None:
    """Return what the stated minutes of work cost a portion; None without minutes or a rate."""
    held = settings(con)
    if version.minutes is None or held.rate_per_hour is None or held.currency != rule.currency:
        return None
    return version.minutes / 60 * held.rate_per_hour / version.portions


@dataclass(frozen=True, kw_only=True)
class _Work:
    """What building the lines of one costing needs at hand."""

    rule: Rule
    recipes: Recipes
    on: date
    prices: dict[int, GridPrice]
    held: Held
    errors: dict[Key, TypicalError]  # of bridges, by ends and gap; empty when nothing is bridged
    titles: dict[str, str | None]
    mapped: dict[int, str | None]

    def lines(
        self, version: Version, times: float, *, pantry: bool, path: tuple[Version, ...]
    ) -> tuple[CostLine, ...]:
        """Return the lines of a version taken `times` over; `pantry` marks all of them."""
        refuse_path(version, path)
        made = []
        for line in self.recipes.lines.get(version.row, []):
            if line.sub_dish_id is None:
                made.append(self._ingredient(line, times, pantry))
            else:
                made.append(self._sub_recipe(line, version, times, pantry, path))
        return tuple(made)

    def _sub_recipe(
        self, line: Line, version: Version, times: float, pantry: bool, path: tuple[Version, ...]
    ) -> CostLine:
        assert line.sub_dish_id is not None
        sub, started = self.recipes.in_force(line.sub_dish_id, self.on)
        taken = times * self.recipes.batches_taken(line, sub, version.dish)
        quantity, unit = line.written()
        inside = self.lines(sub, taken, pantry=pantry or line.pantry, path=(*path, version))
        bases = {each.basis for each in inside}
        gaps = [each.ingredient for each in inside if each.basis == "missing"]
        return CostLine(
            ingredient=f"dish:{sub.dish}",
            quantity=quantity * times,
            unit=unit,
            state=line.state,
            as_purchased=None,
            base=None,
            unit_price=None,
            cost=sum(each.cost or 0.0 for each in inside),
            share=None,
            pantry=pantry or line.pantry,
            basis=next(basis for basis in _WEAKEST if basis in bases),
            reason=f"Without a price inside: {', '.join(gaps)}." if gaps else None,
            version=sub.version,
            version_in_force=started,
            lines=inside,
        )

    def _ingredient(self, line: Line, times: float, pantry: bool) -> CostLine:
        assert line.ingredient_id is not None
        price = self.prices[line.ingredient_id]
        quantity, unit = line.written()
        bought = None if line.as_purchased is None else line.as_purchased * times
        known = bought is not None and price.unit_price is not None
        error = typical_error(self.errors, price.anchors, self.on)
        reason = why_held(price, self.rule, self.mapped.get(line.ingredient_id))
        if bought is None:
            reason = (
                f"{line.quantity} {line.unit} cannot be turned into {line.base}: a density, grams "
                "each, a measure or a yield is missing. Load the ingredient's facts again."
            )
        elif price.unit_price is None:
            reason = why_missing(line.name, price, self.rule, self.held.get(line.ingredient_id))
        return CostLine(
            ingredient=line.name,
            quantity=quantity * times,
            unit=unit,
            state=line.state,
            as_purchased=bought,
            base=line.base,
            unit_price=price.unit_price,
            cost=bought * price.unit_price if known else None,  # type: ignore[operator]
            share=None,
            pantry=pantry or line.pantry,
            basis=price.basis if known else "missing",
            observed=tuple(
                SeenPrice(
                    date=seen.date,
                    supplier=seen.supplier,
                    product=seen.product,
                    unit_price=seen.unit_price,
                )
                for seen in price.observed
            ),
            age_days=price.age_days,
            series=price.series,
            series_title=self.titles.get(price.series) if price.series else None,
            months=tuple(month_text(month) for month in price.months),
            filled=tuple(month_text(month) for month in price.filled),
            held_at=month_text(price.held_at) if price.held_at else None,
            factor=price.factor,
            typical_error_pct=error.pct if error else None,
            typical_error_from=error.source if error else None,
            anchors=price.anchors,
            reason=reason,
        )


def _bridged(
    lines: Sequence[CostLine], portions: float
) -> Iterator[tuple[str, float, float, bool]]:
    """Yield ingredient, cost per portion, typical error in %, and if it is of the book's own."""
    for line in lines:
        if line.cost is not None and line.typical_error_pct is not None:
            own = line.typical_error_from == "book"
            yield line.ingredient, line.cost / portions, line.typical_error_pct, own


def _shared(line: CostLine, total: float) -> CostLine:
    """Return the line with its share of `total`, and those inside it."""
    return replace(
        line,
        share=line.cost / total if line.cost is not None and total > 0 else None,
        lines=tuple(_shared(inside, total) for inside in line.lines),
    )
