"""The price rule once more, slowly and in plain Python, written from the rule's text.

It stands against prices/which_price_counts.sql in property tests. It shares no code with it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import median


@dataclass(frozen=True, kw_only=True)
class Seen:
    """One observation of one ingredient."""

    day: date
    unit_price: float
    supplier: str = ""
    product: str = ""


@dataclass(frozen=True, kw_only=True)
class Priced:
    unit_price: float | None
    basis: str
    series: str | None = None


Months = Mapping[tuple[int, int], float]  # (year, month) → value


def _number(day: date | tuple[int, int]) -> int:
    year, month = (day.year, day.month) if isinstance(day, date) else day
    return 12 * year + month - 1


def typical(seen: Sequence[Seen], day: date, fresh: int) -> float | None:
    """The median over streams of the median of each one's latest day, if that day is fresh."""
    streams: dict[tuple[str, str], list[Seen]] = {}
    for each in seen:
        if each.day <= day:
            streams.setdefault((each.supplier, each.product), []).append(each)
    prices = []
    for rows in streams.values():
        latest = max(each.day for each in rows)
        if (day - latest).days <= fresh:
            prices.append(median(each.unit_price for each in rows if each.day == latest))
    return median(prices) if prices else None


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


def price_on(
    seen: Sequence[Seen],
    day: date,
    ladder: Sequence[tuple[str, Months]],
    *,
    fresh: int = 45,
    bridging: bool = True,
) -> Priced:
    """Unit price on a day; `ladder` holds the ingredient's series, narrowest first."""
    earlier = [each.day for each in seen if each.day <= day]
    later = [each.day for each in seen if each.day > day]
    d0 = max(earlier) if earlier else None
    d1 = min(later) if later else None
    if d0 is not None and (day - d0).days <= fresh:
        return Priced(unit_price=typical(seen, day, fresh), basis="observed")
    u0 = None if d0 is None else typical(seen, d0, fresh)
    if bridging:
        for way in ([d0, d1], [d0], [d1]):
            anchors = [each for each in way if each is not None]
            if len(anchors) != len(way):
                continue
            rung = _rung(ladder, day, anchors)
            if rung is None:
                continue
            name, values = rung
            found, *ends = (index(values, each) for each in (day, *anchors))
            assert found is not None
            prices = [typical(seen, each, fresh) for each in anchors]
            moved = [
                p * found[0] / end[0] for p, end in zip(prices, ends, strict=True) if p and end
            ]
            if len(anchors) == 1:
                return Priced(unit_price=moved[0], basis="bridged", series=name)
            # the same path written the other way: a weighted geometric mean of both moves
            share = (day - anchors[0]).days / (anchors[1] - anchors[0]).days
            unit_price = moved[0] ** (1 - share) * moved[1] ** share
            return Priced(unit_price=unit_price, basis="bridged", series=name)
    if d0 is not None:
        return Priced(unit_price=u0, basis="observed")
    return Priced(unit_price=None, basis="missing")


def _rung(
    ladder: Sequence[tuple[str, Months]], day: date, anchors: Sequence[date]
) -> tuple[str, Months] | None:
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
