"""Printed figures and what became of them, in words."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from dashboard.words.dish import LOCAL_LAW
from dashboard.words.evidence import MOVED
from dashboard.words.figures import amount_words, counted, plain_number, signed_rate
from dashboard.words.house_rules import PANTRY_LEFT_OUT
from pricing.days import day_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.printed.gaps import Gap
    from pricing.printed.publish import Recorded
    from pricing.printed.records import CheckedFigure, CheckedFigures
    from pricing.printed.said_and_known import AsCosted

SYMBOLS = {
    "agrees": "✓", "differs": "✗", "holds": "✓", "stale": "↕", "cannot price": "?",
}  # fmt: skip
COLUMNS_MEAN = (
    "Cost then: for the day it was costed for, by the prices seen by then. Costs now: the recipe "
    "as printed, at prices of the day asked about. By food, by all items: the printed figure moved "
    "by the official series."
)


def verdict_words(verdict: str) -> str:
    """Return a verdict with its symbol: "✗ differs"."""
    return f"{SYMBOLS[verdict]} {verdict}"


def printed_words(amount: float, as_printed: str | None, currency: str) -> str:
    """Return a printed amount with its currency, and the words it was printed in, if any."""
    words = f" (“{as_printed}”)" if as_printed else ""
    return f"{show_money(amount, currency)}{words}"


def out_words(published_on: date, on: date) -> str:
    """Return "" for a figure that is out on a day, else that it is not."""
    return "" if published_on <= on else ", not out yet"


def many_words(found: CheckedFigures) -> str:
    """Return how many figures there are, and how they stand."""
    force = found.in_force
    many = {
        verdict: sum(verdict == each.now for each in force)
        for verdict in ("holds", "stale", "cannot price")
    }
    wrong = sum(each.then == "differs" for each in force)
    said = [f"{number} {_today(verdict, number)}" for verdict, number in many.items() if number]
    if wrong:
        said.append(f"{wrong} differed on {'its' if wrong == 1 else 'their'} own day")
    superseded = f"; {len(found.superseded)} superseded" if found.superseded else ""
    without = "" if found.pantry_counted else f", {PANTRY_LEFT_OUT}"
    return (
        f"{counted(len(found.figures), 'printed figure')} on {day_words(found.on)}, tolerance "
        f"{plain_number(found.tolerance_pct)} %{without}. "
        f"In force: {', '.join(said) or 'none'}{superseded}"
    )


def _today(verdict: str, number: int) -> str:
    one = number == 1
    return {
        "holds": "holds" if one else "hold",
        "stale": "is stale" if one else "are stale",
        "cannot price": "cannot be priced",
    }[verdict]


def correction(figure: CheckedFigure, on: date) -> str:
    """Return one line of the list of corrections of a day."""
    money = figure.currency
    amount = printed_words(figure.printed, figure.as_printed, money)
    where = f" ({figure.where})" if figure.where else ""
    verb = "printed" if figure.published_on <= on else "to be printed"
    start = f"{figure.dish}{where}: {verb} at {amount} on {day_words(figure.published_on)}"
    now = f"costs {show_money(figure.recosted_now, money)} now"
    if figure.then == "differs":
        return (
            f"{start}, but by what was known on {day_words(figure.costed_on)} a portion cost "
            f"{show_money(figure.known_then, money)}; it {now}."
        )
    return f"{start}; it {now} ({signed_rate(figure.off_now_pct)})."


def lacking_words(figure: CheckedFigure) -> str:
    """Return which figure cannot be priced, to head the reasons."""
    return f"{figure.dish}, published on {day_words(figure.published_on)}, cannot be priced"


def gap_words(gap: Gap) -> str:
    """Return what lacks a price on which day, and why."""
    return f"on {day_words(gap.on)}, {gap.ingredient or 'the recipe'}: {gap.reason}"


def recorded_text(made: Recorded, rules: str = "") -> str:
    """Return what was recorded, by which `rules_sentence`, and that local law rules on prices."""
    where = f" in {made.where}" if made.where else ""
    cost = show_money(made.cost_per_portion, made.currency)
    return (
        f"Recorded {printed_words(float(made.printed), made.as_printed, made.currency)} a portion "
        f"of {made.dish}, version {made.version}, published on {day_words(made.published_on)}"
        f"{where}. Costed for {day_words(made.costed_on)} it is {cost}; that evidence is kept "
        f"(SHA-256 {made.evidence_sha256[:12]}…). {rules}{' ' if rules else ''}{LOCAL_LAW}"
    )


def instant_words(text: str) -> str:
    """Return an instant of ISO 8601 in full: "3 May 2026, 14:05 UTC"."""
    at = datetime.fromisoformat(text)
    return f"{day_words(at.date())}, {at:%H:%M} UTC"


def evidence_side(side: AsCosted | None, base: str | None, currency: str) -> str:
    """Return an ingredient as it was said, or is known: how much, its cost, what it rests on."""
    if side is None:
        return "not in the recipe"
    if side.cost is None:
        return "no price"
    return (
        f"{amount_words(side.as_purchased, base)}, {show_money(side.cost, currency)}, "
        f"{MOVED if side.basis == 'bridged' else 'seen'}"
    )
