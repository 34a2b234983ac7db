"""Published figures and what became of them, as a cook reads it in a terminal."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from dashboard.answers import signed_money
from dashboard.text_table import text_table, wrapped
from dashboard.words import amount_words, counted, plain_number
from pricing.days import day_words
from pricing.money import show_money
from pricing.printed.check import ClaimCheck, Claims
from pricing.printed.publish import Recorded
from pricing.printed.said_and_known import AsCosted, SaidAndKnown


def claims_text(found: Claims) -> str:
    """Return every figure, those that mislead most first, then what to correct and what lacks."""
    if not found.claims:
        return (
            f"The book has no figure published on or before {day_words(found.on)}. Load them with "
            "`portiondrift load claims FILE`, or record one with `portiondrift publish`."
        )
    rows = [
        [
            claim.dish,
            claim.version,
            str(claim.published_on),
            show_money(claim.claimed, claim.currency),
            show_money(claim.recosted_then, claim.currency),
            show_money(claim.recosted_now, claim.currency),
            claim_percent(claim.drift_pct),
            show_money(claim.rebased_food, claim.currency),
            show_money(claim.rebased_all, claim.currency),
            claim.status,
        ]
        for claim in found.claims
    ]
    table = text_table(
        [
            "Dish", "Version", "Published", "Printed", "Costed then", "Costs now", "Off now",
            "By food", "By all items", "Status",
        ],
        rows,
        right=(3, 4, 5, 6, 7, 8),
    )  # fmt: skip
    return "\n".join([_head(found), "", table, *_wrong(found), *_lacking(found)])


def _head(found: Claims) -> str:
    many = {
        status: sum(claim.status == status for claim in found.claims)
        for status in ("was wrong", "drifted", "cannot price", "holds")
    }
    said = ", ".join(f"{number} {status}" for status, number in many.items() if number)
    return (
        f"{counted(len(found.claims), 'published figure')} on {day_words(found.on)}, tolerance "
        f"{plain_number(found.tolerance_pct)} %: {said}"
    )


def _wrong(found: Claims) -> list[str]:
    return [
        line
        for claim in found.claims
        if claim.status == "was wrong"
        for line in ("", wrapped(correction(claim)))
    ]


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
    off = claim_percent(claim.drift_pct)
    return f"{printed} on {day_words(claim.published_on)}; it {now} ({off})."


def _lacking(found: Claims) -> list[str]:
    lines = []
    for claim in found.claims:
        if claim.status == "cannot price":
            day = day_words(claim.published_on)
            lines += ["", f"{claim.dish}, printed on {day}, cannot be priced:"]
            lines += [
                f"  on {day_words(gap.on)}, {gap.ingredient or 'the recipe'}: {gap.reason}"
                for gap in claim.gaps
            ]
    return lines


def claim_percent(value: float | None) -> str:
    """Return how far a figure is off, in percent: +12.3 %."""
    if value is None:
        return "—"
    rounded = round(value, 1) + 0.0
    return f"{'−' if rounded < 0 else '+'}{abs(rounded):.1f} %"


def recorded_text(made: Recorded) -> str:
    """Return what was recorded."""
    where = f" in {made.where}" if made.where else ""
    return (
        f"Recorded {show_money(made.claimed, made.currency)} a portion of {made.dish}, version "
        f"{made.version}, published on {day_words(made.published_on)}{where}. Its evidence is kept "
        f"(SHA-256 {made.evidence_sha256[:12]}…)."
    )


def evidence_text(found: Sequence[SaidAndKnown]) -> str:
    """Return what we said beside what we know now, of each figure with kept evidence."""
    if not found:
        return (
            "No figure here has kept evidence. `portiondrift publish DISH --on DATE` records a "
            "figure and keeps what it rests on."
        )
    return "\n\n".join(_one(each) for each in found)


def _one(found: SaidAndKnown) -> str:
    money = found.currency
    where = f", {found.where}" if found.where else ""
    day = day_words(found.published_on)
    seen = counted(len(found.evidence["prices"]), "price")
    head = (
        f"{found.dish}, version {found.version}, published on {day}{where}\n"
        f"We said:       {show_money(found.claimed, money)} a portion, recorded "
        f"{instant_words(found.recorded_at)}, on {seen}"
    )
    if found.known is None:
        return f"{head}\nWe know now:   it cannot be costed any more: {found.reason}"
    at_least = "" if found.known_complete else "at least "
    change = found.change or 0.0
    same = abs(change) < 1e-9 and not found.lines
    known = (
        f"\nWe know now:   {at_least}{show_money(found.known, money)} a portion for that same day"
    )
    if same:
        return f"{head}{known}: nothing behind it has changed."
    rows = [
        [
            line.ingredient,
            evidence_side(line.said, line.base, money),
            evidence_side(line.known, line.base, money),
            signed_money(line.change, money),
        ]
        for line in found.lines
    ]
    table = text_table(["What changed", "Said", "Known now", "Per portion"], rows, right=(3,))
    return f"{head}{known} ({signed_money(change, money)})\n\n{table}"


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
        f"{'moved by an index' if side.basis == 'bridged' else 'seen'}"
    )
