"""Which ingredients lean on each official series, and whose price it moves on a day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.clock import refuse_future
from pricing.contents.choices import ingredients_in
from pricing.prices.evidence import grid_prices
from pricing.prices.rule import Rule
from pricing.series.ladder import read_ladder


@dataclass(frozen=True, kw_only=True)
class SeriesUse(Answer):
    """What a book has of an official series, by names of ingredients in their order."""

    named_by: tuple[str, ...]  # ingredients that name this series
    climbing: tuple[str, ...]  # that name a narrower one, from which the ladder leads here
    moved: tuple[str, ...]  # whose price on the day is an older one, moved by this series
    held: tuple[str, ...]  # of these, moved no further than the last month of the series


NO_USE = SeriesUse(named_by=(), climbing=(), moved=(), held=())


def series_uses(book: Book, *, on: date) -> dict[str, SeriesUse]:
    """Return the use of each series that any ingredient leans on, by id.

    `moved` and `held` are of the prices of `on`, in the book's currency and by the default rule.
    Raises DateRefused (a date after today), BookUnreadable.
    """
    refuse_future(on)
    with reading(book) as con:
        settings = read_settings(con)
        known = ingredients_in(con)
        rule = Rule.of(settings)
        prices = grid_prices(con, rule, {(each.ingredient_id, on) for each in known})
        ladder = read_ladder(con)
    found: dict[str, dict[str, list[str]]] = {}

    def note(series: str, how: str, ingredient: str) -> None:
        lists = found.setdefault(series, {name: [] for name in NO_USE})
        lists[how].append(ingredient)

    for each in known:
        for step, series in enumerate(ladder.rungs(each.series)):
            note(series, "climbing" if step else "named_by", each.ingredient)
        price = prices.get((each.ingredient_id, on))
        if price is not None and price.basis == "bridged" and price.series is not None:
            note(price.series, "moved", each.ingredient)
            if price.held_at is not None:
                note(price.series, "held", each.ingredient)
    return {
        series: SeriesUse(**{how: tuple(names) for how, names in lists.items()})
        for series, lists in found.items()
    }
