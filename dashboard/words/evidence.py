"""Says what a figure rests on: seen when and where, moved by which series, how far off."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from dashboard.words.figures import (
    counted,
    percent,
)
from pricing.clock import today
from pricing.days import month_words
from pricing.money import least_shown, show_money
from pricing.names import waiting_words

if TYPE_CHECKING:
    from pricing.prices.bridge_error import CostBand
    from pricing.prices.evidence import SeenPrice
    from pricing.prices.price_line import CostLine


LEAST_SHARE = 0.005  # less would read as 0 %
MOVED = "estimated from official prices"
NOWHERE = "a place not stated"
MOST_MOVED = 2  # older prices in a mean that are told one by one


def band_words(band: CostBand, currency: str, *, complete: bool) -> str:
    """Return what its prices leave open in a cost per portion, and by what that was measured."""
    of = "it" if complete else "what has a price"
    rests = [
        f"{'under 1 %' if share < LEAST_SHARE else percent(share)} of {of} rests on {what}"
        for share, what in (
            (band.share_bridged, f"prices {MOVED}"),
            (band.share_spread, "prices of several shops"),
        )
        if share > 0
    ]
    words = f"{'; '.join(rests).capitalize()}."
    if band.typical_error < least_shown(currency):  # "off by £0.00" would read as exact
        return f"{words} That typically puts it off by less than half of the smallest coin."
    whose = (
        ": half of the prices held out of this book were nearer than what is taken here"
        if band.from_book
        else ", by national indices and how far the shops lie apart; the prices of one shop swing "
        "more"
    )
    return (
        f"{words} That typically puts it off by {show_money(band.typical_error, currency)} "
        f"({band.typical_error_pct:.1f} %){whose}."
    )


def age_words(days: int) -> str:
    """Return how long ago: today, 12 days ago, 3 years 4 months ago."""
    if days == 0:
        return "today"
    if days < 60:
        return f"{counted(days, 'day')} ago"
    years, months = divmod(round(days / 30.4375), 12)
    parts = [counted(years, "year")] if years else []
    parts += [counted(months, "month")] if months else []
    return f"{' '.join(parts)} ago"


def seen_words(seen: Sequence[SeenPrice], on: date) -> str:
    """Return when and where the prices behind a figure were seen, and which of them were moved.

    "seen today at A and B", "seen 4 days ago at A and 10 days ago at B", "seen 4 to 10 days ago at
    3 shops"; "seen 12 days ago at A; the price of May 2026 at B, moved ×1.02 by Eggs".
    """
    moved = [each for each in seen if each.series is not None]
    parts = [_as_seen_words([each for each in seen if each.series is None], on)]
    if len(moved) > MOST_MOVED:
        factors = [each.moved for each in moved]
        parts.append(
            f"{counted(len(moved), 'older price')}, {MOVED} (×{min(factors):.2f} to "
            f"×{max(factors):.2f})"
        )
    else:
        parts += [
            f"the price of {month_words(each.date)} at {each.supplier or NOWHERE}, moved "
            f"×{each.moved:.2f} by {each.series_title or each.series}"
            for each in moved
        ]
    return "; ".join(part for part in parts if part)


def _as_seen_words(seen: Sequence[SeenPrice], on: date) -> str:
    if not seen:
        return ""
    places: dict[date, list[str]] = {}
    for price in sorted(seen, key=lambda each: each.date, reverse=True):
        names = places.setdefault(price.date, [])
        name = price.supplier or NOWHERE
        if name not in names:
            names.append(name)
    shops = {name for names in places.values() for name in names}
    if len(shops) <= 2 and len(places) <= 2:
        own_day = "today" if on == today() else "that day"
        parts = [
            f"{own_day if day == on else age_words((on - day).days)} at {' and '.join(names)}"
            for day, names in places.items()
        ]
        return f"seen {' and '.join(parts)}"
    newest, oldest = ((on - day).days for day in (max(places), min(places)))
    when = age_words(oldest)
    if newest != oldest:
        start = age_words(newest).removesuffix(" ago") if oldest >= 60 else str(newest)
        when = f"{start} to {when}"
    return f"seen {when} at {counted(len(shops), 'shop')}"


def evidence_words(line: CostLine, asked: str) -> str:
    """Return what a line's price rests on, in one sentence without a full stop.

    `asked` is the market asked for: "seen 38 days ago at A, a trade price" tells that it has none.
    """
    if line.lines:
        inside = {
            "observed": "all from prices seen",
            "bridged": f"partly {MOVED}",
            "missing": "a price is missing",
        }[line.basis]
        return f"{counted(len(list(line.ingredient_lines())), 'line')} inside, {inside}"
    if line.basis == "missing" and waiting_words(line.ingredient) is not None:
        return "no price: it waits for a decision which ingredient it is"
    if line.basis == "missing":
        reason = (line.reason or "").removesuffix(".")
        return reason if reason.startswith("No price") else f"no price: {reason}"
    other = _other_market_words(line.market, asked)
    if line.basis == "bridged":
        return f"{_bridge_words(line)}{other}"
    on = max(price.date for price in line.observed) + timedelta(days=line.age_days or 0)
    seen = seen_words(line.observed, on)
    return f"{seen}{as_it_was_words(line.reason)}{other}"


def _other_market_words(counted: str | None, asked: str) -> str:
    """Return whose price it is, where that is not the market asked for."""
    pair = {"shop", "trade"}
    return f"; a {counted} price" if {counted, asked} == pair else ""


def as_it_was_words(reason: str | None) -> str:
    """Return why an old price counts unmoved, to follow where it was seen; "" for a fresh one."""
    return f"; held as it was: {reason.split(': ', 1)[-1].rstrip('.')}" if reason else ""


def last_month_words(held_at: date | str | None) -> str:
    """Return that a series stands at its last month, to follow what it moved; "" if it does not."""
    return f", held at its last month, {month_words(held_at)}" if held_at else ""


def _bridge_words(line: CostLine) -> str:
    path = " and ".join(month_words(day) for day in line.anchors)
    title = line.series_title or line.series
    between = len(line.anchors) == 2
    words = f"moved {'between' if between else 'from'} {path} by {title}, ×{line.factor:.2f}"
    words += last_month_words(line.held_at)
    if line.filled:
        gaps = " and ".join(month_words(month) for month in line.filled)
        words += f"; {gaps} was not published, the month before stands in"
    return words


def evidence_share(share_bridged: float | None, complete: bool) -> str:
    """Return how much of a figure was seen and how much was moved."""
    if share_bridged is None:
        return "nothing has a price"
    if share_bridged in (0.0, 1.0):
        words = f"all {MOVED if share_bridged else 'from prices seen'}"
    elif share_bridged < LEAST_SHARE:
        words = f"nearly all from prices seen, a little {MOVED}"
    elif share_bridged > 1 - LEAST_SHARE:
        words = f"nearly all {MOVED}, a little from prices seen"
    else:
        words = f"{percent(1 - share_bridged)} from prices seen, {percent(share_bridged)} {MOVED}"
    return words if complete else f"{words}; a price is missing"
