"""Published figures and what became of them, in words."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from dashboard.words.evidence import MOVED
from dashboard.words.figures import amount_words, signed_rate
from pricing.days import day_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.printed.check import ClaimCheck
    from pricing.printed.publish import Recorded
    from pricing.printed.said_and_known import AsCosted


def correction(claim: ClaimCheck) -> str:
    """Return one line of the list of corrections."""
    where = f" ({claim.where})" if claim.where else ""
    money = claim.currency
    printed = f"{claim.dish}{where}: printed {show_money(claim.claimed, money)}"
    now = f"costs {show_money(claim.recosted_now, money)} now"
    if claim.status == "was wrong":
        return (
            f"{printed} on {day_words(claim.published_on)}, but by that day's prices a portion "
            f"cost {show_money(claim.recosted_then, money)}; it {now}."
        )
    off = signed_rate(claim.drift_pct)
    return f"{printed} on {day_words(claim.published_on)}; it {now} ({off})."


def recorded_text(made: Recorded) -> str:
    """Return what was recorded."""
    where = f" in {made.where}" if made.where else ""
    return (
        f"Recorded {show_money(made.claimed, made.currency)} a portion of {made.dish}, version "
        f"{made.version}, published on {day_words(made.published_on)}{where}. Its evidence is kept "
        f"(SHA-256 {made.evidence_sha256[:12]}…)."
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
