"""How it is said whose prices count."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

MARKETS: Mapping[str, str] = {
    "shop": "shops (shelf prices, receipts)",
    "trade": "the trade (invoices, quotes)",
    "any": "shops and the trade alike",
}


def whose_words(market: str | None, without: Sequence[str]) -> str:
    """Return what was chosen, "" where the book's own choice stands.

    >>> whose_words("trade", ["Mill"])
    'At prices of the trade (invoices, quotes) where there are some, without those of Mill'
    """
    parts = []
    if market is not None:
        rest = "" if market == "any" else " where there are some"
        parts.append(f"At prices of {MARKETS[market]}{rest}")
    if without:
        names = ", ".join(without)
        parts.append(f"without those of {names}" if parts else f"Without prices of {names}")
    return ", ".join(parts)
