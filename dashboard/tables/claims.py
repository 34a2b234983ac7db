"""The table, the correction list and the evidence of the page of published figures."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

import pandas as pd

from dashboard.words.figures import signed_money, signed_rate
from dashboard.words.markdown import link, plain, unbroken
from dashboard.words.printed import correction, evidence_side
from pricing.days import day_words
from pricing.money import round_money, show_money
from pricing.printed.check import ClaimCheck, Claims
from pricing.printed.said_and_known import SaidAndKnown

SYMBOLS = {"was wrong": "✗", "drifted": "↕", "cannot price": "?", "holds": "✓"}
MEANINGS = {
    "was wrong": "off at its own date already: correct it",
    "drifted": "right when printed, off now",
    "cannot price": "a line has no price on one of the two days",
    "holds": "right when printed, and right now",
}
TO_CORRECT = ("was wrong", "drifted")


def status_words(status: str) -> str:
    """Return a status with its symbol: "✗ was wrong"."""
    return f"{SYMBOLS[status]} {status}"


def claim_rows(found: Sequence[ClaimCheck]) -> pd.DataFrame:
    """Return the figures as a table of Markdown, each with a way to then and now."""
    return pd.DataFrame(
        [
            {
                "Status": unbroken(status_words(claim.status)),
                "Dish": link(
                    claim.dish, "then_and_now", dish=claim.dish,
                    then=claim.published_on.isoformat(), then_version=claim.version,
                ),
                "Version": plain(claim.version),
                "Published": f"{claim.published_on:%Y-%m-%d}".replace("-", "\u2011"),
                "Printed": unbroken(show_money(claim.claimed, claim.currency)),
                "Costed then": unbroken(show_money(claim.recosted_then, claim.currency)),
                "Costs now": unbroken(show_money(claim.recosted_now, claim.currency)),
                "Off now": unbroken(signed_rate(claim.drift_pct)),
                "By food": unbroken(show_money(claim.rebased_food, claim.currency)),
                "By all items": unbroken(show_money(claim.rebased_all, claim.currency)),
            }
            for claim in found
        ]
    )  # fmt: skip


def correction_frame(found: Claims) -> pd.DataFrame:
    """Return the figures to correct, those that mislead most first; money in `currency`."""
    columns = [
        "dish", "version", "published_on", "where", "status", "claimed", "recosted_then",
        "recosted_now", "currency", "drift_pct",
    ]  # fmt: skip
    rows = [[claim[column] for column in columns] for claim in to_correct(found)]
    return pd.DataFrame(rows, columns=columns)


def to_correct(found: Claims) -> list[ClaimCheck]:
    """Return the figures that were wrong or have drifted."""
    return [claim for claim in found.claims if claim.status in TO_CORRECT]


def correction_list(found: Claims) -> str:
    """Return the list of corrections to print, in Markdown."""
    title = f"# Published figures to correct, {day_words(found.on)}"
    parts = [title, f"More than {found.tolerance_pct:g} % of the printed figure off."]
    for status, heading in (("was wrong", "Wrong when printed"), ("drifted", "Drifted since")):
        lines = [f"- {plain(correction(each))}" for each in found.claims if each.status == status]
        if lines:
            parts.append("\n".join([f"## {heading}", "", *lines]))
    return "\n\n".join(parts) + "\n"


def said_rows(found: SaidAndKnown) -> pd.DataFrame:
    """Return what changed behind a figure since it was recorded, as a table of Markdown."""
    return pd.DataFrame(
        [
            {
                "What changed": link(line.ingredient, "prices", ingredient=line.ingredient),
                "What we said": plain(evidence_side(line.said, line.base, found.currency)),
                "What we know now": plain(evidence_side(line.known, line.base, found.currency)),
                "Per portion": unbroken(signed_money(line.change, found.currency)),
            }
            for line in found.lines
        ]
    )


def kept_rows(found: SaidAndKnown) -> pd.DataFrame:
    """Return the prices that were kept when the figure was recorded, as a table."""
    columns = {
        "ingredient": "Ingredient", "observed_on": "Seen on", "price": "Price", "pack": "Pack",
        "supplier": "Supplier", "product": "Product", "kind": "Kind", "source": "Source",
    }  # fmt: skip
    kept = pd.DataFrame(found.evidence["prices"], columns=[*columns, "currency"])
    kept["price"] = [
        _as_paid(price, money) for price, money in zip(kept["price"], kept["currency"], strict=True)
    ]
    return kept[list(columns)].rename(columns=columns)


def _as_paid(price: str, currency: str) -> str:
    """Return a kept price with its currency; one that rounding would change to the digit."""
    exact = Decimal(price)
    if round_money(exact, currency) == exact:
        return show_money(exact, currency)
    return f"{currency} {price}"
