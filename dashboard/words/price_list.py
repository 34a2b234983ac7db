"""The prices worth checking, to take along: a list a shop to tick, and a file to fill in."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from dashboard.words.reprint import last_words
from ingest.text.left_empty import TO_CHECK
from pricing.days import day_words
from pricing.names import guarded

if TYPE_CHECKING:
    from pricing.reprint.records import PriceToCheck, Reprint

MOST_LISTED = 40  # prices on a page
NO_SHOP = "No shop named"
_COLUMNS = (
    "ingredient", "date", "price", "currency", "pack", "supplier", "kind", "tax_pct", "region",
    "product", "note",
)  # fmt: skip


def price_list(found: Reprint) -> str:
    """Return the list to print, in Markdown: the prices worth most, by the shop they were seen in.

    Shops with most to gain come first, and so do prices in each.
    """
    listed = found.check[:MOST_LISTED]
    shops: dict[str, list[PriceToCheck]] = {}
    for price in listed:
        shops.setdefault(price.supplier or NO_SHOP, []).append(price)
    due = f", to print by {day_words(found.by)}" if found.by else ""
    parts = [f"# Prices to check, {day_words(found.on)}{due}"]
    for shop in sorted(shops, key=lambda name: -sum(each.worth for each in shops[name])):
        lines = [f"- [ ] {plain(_line(each))}" for each in shops[shop]]
        parts.append("\n".join([f"## {plain(shop)}", "", *lines]))
    if not listed:
        parts.append("Nothing to check: every price behind these figures is of today.")
    if more := len(found.check) - len(listed):
        parts.append(f"{counted(more, 'other price')} would change less; the file has all of them.")
    return "\n\n".join(parts) + "\n"


def _line(price: PriceToCheck) -> str:
    what = f"{price.ingredient}{f', {price.product}' if price.product else ''}"
    return f"{what}, {price.pack or 'any pack'}: ________ (last {last_words(price)})"


def price_file(found: Reprint) -> str:
    """Return a file of kind prices with the price left empty: what is filled in can be loaded."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_COLUMNS)
    for each in found.check:
        cells = [
            each.ingredient, found.on.isoformat(), "", each.currency, each.pack, each.supplier,
            each.kind, None if each.tax_pct is None else f"{each.tax_pct.normalize():f}",
            each.region, each.product, TO_CHECK,
        ]  # fmt: skip
        writer.writerow([guarded(cell or "") for cell in cells])
    return out.getvalue()
