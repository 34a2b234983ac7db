"""The pattern of the year in a price, in words."""

from __future__ import annotations

import calendar
from typing import TYPE_CHECKING

from dashboard.words.figures import percent, signed_rate
from pricing.days import month_words

if TYPE_CHECKING:
    from pricing.season.season import Season, SeasonPart

STRONG, WEAK = 0.6, 0.3  # strength from which a pattern is called so: common practice, no source
MOST_CHEAP = 3  # months named as the cheap ones
LEAST_BELOW = 0.0005  # of the year's mean: a month of −0.0 % is not a cheap one


def cheap_months(found: Season) -> list[int]:
    """Return the cheapest months (1 to 12), cheapest first; none where there is hardly a pattern.

    Three at most, and only months under the year's mean.
    """
    if found.strength < WEAK:
        return []
    order = sorted(range(12), key=lambda m: found.relatives[m])
    return [m + 1 for m in order[:MOST_CHEAP] if found.relatives[m] < 1 - LEAST_BELOW]


def season_sentence(found: Season) -> str:
    """Return in which months it is cheap, and by how much it is dearer in the dearest."""
    cheap = [calendar.month_name[m] for m in cheap_months(found)]
    if not cheap:
        return (
            f"No season to speak of for {found.name}: the cheapest month, "
            f"{calendar.month_name[found.cheapest]}, and the dearest, "
            f"{calendar.month_name[found.dearest]}, are {found.spread_pct:.1f} % apart."
        )
    names = cheap[0] if len(cheap) == 1 else f"{cheap[0]}, then {' and '.join(cheap[1:])}"
    return (
        f"Cheapest month for {found.name}: {names}. {calendar.month_name[found.dearest]}, the "
        f"dearest, is {found.spread_pct:.1f} % above {cheap[0]}."
    )


def strength_words(found: Season) -> str:
    """Return how far a pattern of the year is to be trusted."""
    share = percent(found.strength)
    mean = ", on the mean of its ingredients" if found.source == "mixed" else ""
    if found.strength >= WEAK:
        return (
            f"A {strength_word(found.strength)} pattern: it explains {share} of the swings about "
            f"the trend{mean}."
        )
    return f"Hardly a pattern: it explains only {share} of the swings about the trend{mean}."


def strength_word(strength: float) -> str:
    """Return a strength in one word: strong, weak, hardly any."""
    return "strong" if strength >= STRONG else "weak" if strength >= WEAK else "hardly any"


def rests_on(found: Season) -> str:
    """Return what the pattern was read from, and over which months."""
    months = f"{month_words(found.first_month)} to {month_words(found.last_month)}"
    if found.source == "own":
        return f"Read from this kitchen's own prices, seen every month, {months}."
    if found.source == "official":
        return f"Read from the official series {found.series_title or found.series}, {months}."
    even = sum(part.share for part in found.parts if part.source is None)
    words = (
        f"Read from the patterns of its ingredients, each weighted by what it costs now, {months}."
    )
    if even > 0:
        words += (
            f" Ingredients without a known pattern, {percent(even)} of the cost, count as even."
        )
    return words if found.complete else f"{words} A line has no price, so it has no weight here."


def pattern_cells(part: SeasonPart) -> list[str]:
    """Return the cheapest month, the swing, the strength and the source of an ingredient."""
    if part.cheapest is None or part.spread_pct is None or part.strength is None:
        return ["—", "—", "not known", "—"]
    source = "own prices" if part.source == "own" else part.series_title or "official series"
    return [
        calendar.month_name[part.cheapest],
        f"{part.spread_pct:.1f} %",
        f"{strength_word(part.strength)} ({percent(part.strength)})",
        source,
    ]


def against_year(relative: float) -> str:
    """Return a relative as a change against the year: "+1.2 %", "−0.3 %", "0.0 %"."""
    change = 100 * (relative - 1)
    return signed_rate(change) if round(change, 1) else "0.0 %"
