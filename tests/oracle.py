"""The price rule once more, slowly and in plain Python, written from its text (design §4, §5).

It stands against queries/prices/which_price_counts.sql in property tests, and in the simulation of
tests/benchmarks/price_rule.py. It shares no code with the product.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import median

TRADE = ("invoice", "quote")


@dataclass(frozen=True, kw_only=True)
class Seen:
    """One observation of one ingredient."""

    day: date
    unit_price: float
    supplier: str = ""
    product: str = ""
    kind: str = "shelf"


@dataclass(frozen=True, kw_only=True)
class Priced:
    unit_price: float | None
    basis: str
    series: str | None = None
    market: str | None = None
    moved_share: float = 0.0  # of the price, by value


Months = Mapping[tuple[int, int], float]  # (year, month) → value
Ladder = Sequence[tuple[str, Months]]  # narrowest first


def _number(day: date | tuple[int, int]) -> int:
    year, month = (day.year, day.month) if isinstance(day, date) else day
    return 12 * year + month - 1


def index(series: Months, day: date) -> tuple[float, str] | None:
    """Value at a day's month and how it stands: usable, or late (after the end, over 3 months)."""
    wanted = _number(day)
    known = {_number(month): value for month, value in series.items()}
    before = [month for month in known if month <= wanted]
    if not before:
        return None
    own, last = max(before), max(known)
    if wanted - own <= 3:
        return known[own], "usable"
    return (known[own], "late") if wanted > last else None


def rung(ladder: Ladder, day: date, anchors: Sequence[date]) -> tuple[str, Months] | None:
    """The narrowest series usable in every month; failing that, the one that ended last, held."""
    held = []
    for position, (name, values) in enumerate(ladder):
        found = [index(values, each) for each in (day, *anchors)] if values else [None]
        if any(each is None for each in found):
            continue
        kinds = [each[1] for each in found if each is not None]
        if all(kind == "usable" for kind in kinds):
            return name, values
        if "usable" in kinds:
            held.append((-max(_number(month) for month in values), position, name, values))
    if not held:
        return None
    _, _, name, values = min(held, key=lambda each: each[:2])
    return name, values


def moved(price: float, start: date, end: date, ladder: Ladder) -> tuple[float, str] | None:
    """A price of one day at another day's month, and the series that moved it."""
    found = rung(ladder, end, [start])
    if found is None:
        return None
    name, values = found
    there, here = index(values, start), index(values, end)
    assert there is not None
    assert here is not None
    return price * here[0] / there[0], name


def market_of(seen: Sequence[Seen], day: date, asked: str) -> str:
    """Which market's prices count: shop, trade, or any (both as one)."""
    if asked == "any":
        return asked
    other = "trade" if asked == "shop" else "shop"
    days = {asked: [], other: []}
    for each in seen:
        days["trade" if each.kind in TRADE else "shop"].append(each.day)
    past = [each for each in days["shop"] + days["trade"] if each <= day]
    if past:
        last = max(past)
        if any(0 <= (last - each).days <= 365 for each in days[asked]):
            return asked
        return other
    return asked if days[asked] or not days[other] else other


def typical(
    seen: Sequence[Seen], day: date, ladder: Ladder, *, fresh: int, half_life: float, bridging: bool
) -> tuple[float, float]:
    """The weighted mean of the sources' prices on a day, and the part of it that was moved."""
    sources: dict[tuple[str, str], list[Seen]] = {}
    for each in seen:
        if each.day <= day:
            sources.setdefault((each.supplier, each.product), []).append(each)
    weights = total = of_moved = 0.0
    for rows in sources.values():
        latest = max(each.day for each in rows)
        price = median(each.unit_price for each in rows if each.day == latest)
        age = (day - latest).days
        weight = 2 ** (-age / half_life)
        carried = moved(price, latest, day, ladder) if bridging and age > fresh else None
        if carried is not None:
            price = carried[0]
            of_moved += weight * price
        weights += weight
        total += weight * price
    return total / weights, of_moved / total


def price_on(
    seen: Sequence[Seen],
    day: date,
    ladder: Ladder,
    *,
    fresh: int = 45,
    half_life: float = 180,
    bridging: bool = True,
    known: bool = False,
    market: str = "shop",
) -> Priced:
    """Unit price on a day; `ladder` holds the series of the ingredient, then the food series."""
    counted = market_of(seen, day, market)
    if counted != "any":
        seen = [each for each in seen if (each.kind in TRADE) == (counted == "trade")]
    earlier = [each.day for each in seen if each.day <= day]
    later = [each.day for each in seen if each.day > day]
    d0 = max(earlier) if earlier else None
    d1 = min(later) if later and not (known and earlier) else None

    def at(when: date) -> tuple[float, float]:
        return typical(seen, when, ladder, fresh=fresh, half_life=half_life, bridging=bridging)

    if d0 is not None and (day - d0).days <= fresh:
        price, share = at(d0)
        return Priced(unit_price=price, basis="observed", market=counted, moved_share=share)
    if bridging:
        for way in ([d0, d1], [d0], [d1]):
            anchors = [each for each in way if each is not None]
            if len(anchors) != len(way):
                continue
            found = rung(ladder, day, anchors)
            if found is None:
                continue
            name, values = found
            here, *ends = (index(values, each) for each in (day, *anchors))
            assert here is not None
            prices = [
                at(each)[0] * here[0] / end[0]
                for each, end in zip(anchors, ends, strict=True)
                if end
            ]
            price = prices[0]
            if len(anchors) == 2:
                # the same path written the other way: a weighted geometric mean of both moves
                share = ((day - anchors[0]).days - fresh) / ((anchors[1] - anchors[0]).days - fresh)
                price = prices[0] ** (1 - share) * prices[1] ** share
            return Priced(
                unit_price=price, basis="bridged", series=name, market=counted, moved_share=1.0
            )
    if d0 is not None:
        price, share = at(d0)
        return Priced(unit_price=price, basis="observed", market=counted, moved_share=share)
    return Priced(unit_price=None, basis="missing", market=counted)
