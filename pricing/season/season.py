"""The pattern of the year in a price: in which months it is cheapest, and how strong that is."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date

from pricing.answer import Answer
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings
from pricing.clock import refuse_future, today
from pricing.contents.choices import ListedIngredient, find_ingredient, ingredients_in
from pricing.days import costing_days, month_range
from pricing.dishes.cost import cost_in
from pricing.errors import SeriesRefused
from pricing.prices.rule import Rule, ask_cross, grid_rows
from pricing.season.year_pattern import YearPattern, year_pattern
from pricing.series.many_months import usable_months

YEARS = 10  # of history looked at: what the season was a generation ago says little


@dataclass(frozen=True, kw_only=True)
class SeasonPart(Answer):
    """What one ingredient brings to the pattern of a dish."""

    ingredient: str
    share: float  # of the cost of the dish on the day
    source: str | None  # official or own; None: no pattern is known, so it counts as even
    series_title: str | None
    cheapest: int | None  # month, 1 to 12
    spread_pct: float | None  # (dearest ÷ cheapest − 1) × 100
    strength: float | None


@dataclass(frozen=True, kw_only=True)
class Season(Answer):
    """The pattern of the year of an ingredient or a dish."""

    name: str
    source: str  # official: by its series; own: by the kitchen's prices; mixed: of a dish
    series: str | None
    series_title: str | None
    first_month: str
    last_month: str
    relatives: tuple[float, ...]  # January to December; 1 = the year's geometric mean
    strength: float  # 0 = no pattern of the year, 1 = nothing but the pattern
    cheapest: int  # month, 1 to 12
    dearest: int
    spread_pct: float  # (dearest ÷ cheapest − 1) × 100
    complete: bool = True  # of a dish: every line has a price, so that it has its weight
    parts: tuple[SeasonPart, ...] = ()  # of a dish: its ingredients, largest share first


def season_of_ingredient(book: Book, ingredient: str) -> Season:
    """Return the season of an ingredient over the last ten years that there are.

    By the kitchen's own prices where the last three years at least were seen in every month,
    without a bridge; else by its official series. Raises UnknownName, SeriesRefused (neither has
    three years without a gap), BookUnreadable.
    """
    with reading(book) as con:
        settings = read_settings(con)
        facts = find_ingredient(con, ingredient)
        rule = Rule.of(settings)
        found = _seasons(con, rule, [facts])[facts.ingredient]
    if found is None:
        raise SeriesRefused(
            f"Found neither three years of own prices of {facts.ingredient} seen every month nor "
            "an official series of three years without a gap; expected one of them. Name a series "
            "for it in an ingredients file, and load it with --replace."
        )
    return found


def season_of_dish(book: Book, dish: str, *, on: date | None = None) -> Season:
    """Return the season of a dish: that of its ingredients, weighted by their cost on a day.

    Ingredients without a pattern count as even over the year; strength is the weighted mean. A
    line without a price has no weight, and `complete` is then false.
    Raises UnknownName, DateRefused, SeriesRefused (no ingredient has a pattern), BookUnreadable.
    """
    on = today() if on is None else on
    refuse_future(on)
    weights: dict[str, float] = {}
    with reading(book) as con:
        settings = read_settings(con)
        rule = Rule.of(settings)
        cost = cost_in(con, rule, dish, on=on)
        for line in cost.ingredient_lines():
            weights[line.ingredient] = weights.get(line.ingredient, 0.0) + (line.cost or 0.0)
        facts = [each for each in ingredients_in(con) if each.ingredient in weights]
        seasons = dict.fromkeys(weights) | _seasons(con, rule, facts)  # lines that wait: no facts
    whole = sum(weights.values())
    known = [season for name in weights if (season := seasons[name]) is not None]
    if not known or whole <= 0:
        raise SeriesRefused(
            f"Found no ingredient of '{cost.dish}' with a price and a pattern of the year; "
            "expected one at least. Name official series for them in an ingredients file, and log "
            "their prices."
        )
    parts = [
        _part(name, weight / whole, seasons[name])
        for name, weight in sorted(weights.items(), key=lambda item: (-item[1], item[0]))
    ]
    relatives = [
        sum(
            part.share * (season.relatives[m] if (season := seasons[part.ingredient]) else 1.0)
            for part in parts
        )
        for m in range(12)
    ]
    pattern = YearPattern(
        relatives=tuple(relatives),
        strength=sum(part.share * (part.strength or 0.0) for part in parts),
        first_month=min(season.first_month for season in known),
        last_month=max(season.last_month for season in known),
    )
    found = _season(cost.dish, "mixed", pattern)
    return replace(found, complete=cost.complete, parts=tuple(parts))


def _part(name: str, share: float, season: Season | None) -> SeasonPart:
    return SeasonPart(
        ingredient=name,
        share=share,
        source=season.source if season else None,
        series_title=season.series_title if season else None,
        cheapest=season.cheapest if season else None,
        spread_pct=season.spread_pct if season else None,
        strength=season.strength if season else None,
    )


def _seasons(
    con: Connection, rule: Rule, facts: Sequence[ListedIngredient]
) -> dict[str, Season | None]:
    """Return the season of each ingredient; None where neither prices nor series tell one."""
    own = _own(con, rule, [each.ingredient_id for each in facts])
    found: dict[str, Season | None] = {}
    official: dict[str, dict[date, float]] = {}
    for each in facts:
        name = each.ingredient
        found[name] = None
        if (pattern := year_pattern(own[each.ingredient_id])) is not None:
            found[name] = _season(name, "own", pattern)
        elif each.series is not None:
            if each.series not in official:
                official[each.series] = _official(con, each.series)
            if (pattern := year_pattern(official[each.series])) is not None:
                season = _season(name, "official", pattern)
                found[name] = replace(season, series=each.series, series_title=each.series_title)
    return found


def _own(con: Connection, rule: Rule, ids: Collection[int]) -> dict[int, dict[date, float]]:
    """Return each ingredient's typical price on the 15th of the months of the last ten years.

    Only months in which it was seen within the fresh limit, without a bridge.
    """
    found: dict[int, dict[date, float]] = {each: {} for each in ids}
    for row in grid_rows(con, rule, ask_cross(ids, _days())):
        day = row["on_date"]
        if row["basis"] == "observed" and (day - row["d0"]).days <= rule.fresh_days:
            found[row["ingredient_id"]][day.replace(day=1)] = row["unit_price"]
    return found


def _days() -> list[date]:
    now = today()
    months = month_range(date(now.year - YEARS, now.month, 1), date(now.year, now.month, 1))
    return costing_days(months, now)


def _official(con: Connection, series: str) -> dict[date, float]:
    """Return the last ten years of a series; a month it did not publish takes the one before."""
    ends = con.execute(
        "SELECT min(month), max(month) FROM series_value_now WHERE series = $series",
        {"series": series},
    ).fetchone()
    if ends is None or ends[1] is None:
        return {}
    first = max(ends[0], date(ends[1].year - YEARS, ends[1].month, 1))
    usable = usable_months(con, [series], month_range(first, ends[1]))
    return {month: each.value for (_, month), each in usable.items()}


def _season(name: str, source: str, pattern: YearPattern) -> Season:
    low, high = min(pattern.relatives), max(pattern.relatives)
    return Season(
        name=name,
        source=source,
        series=None,
        series_title=None,
        first_month=pattern.first_month,
        last_month=pattern.last_month,
        relatives=pattern.relatives,
        strength=pattern.strength,
        cheapest=pattern.relatives.index(low) + 1,
        dearest=pattern.relatives.index(high) + 1,
        spread_pct=100 * (high / low - 1),
    )
