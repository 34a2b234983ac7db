"""What the last price of a description comes to, were it this ingredient in that pack."""

from __future__ import annotations

from dataclasses import dataclass
from dataclasses import replace as changed
from datetime import date
from decimal import Decimal

from ingest.kinds.kitchen import Kitchen
from ingest.kinds.pack_reader import PackReader
from ingest.matching.packs import pack_in_words
from pricing.book import tray
from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.errors import MeasureRefused
from pricing.names import name_key
from pricing.prices.evidence import market_prices


@dataclass(frozen=True, kw_only=True)
class ByPack:
    """What is known of an ingredient that was chosen for a description."""

    ingredient: str  # as the book writes it
    base: str  # g, ml or each
    unit_price: float | None  # the last price by the pack, per base unit, with its tax
    expected: float | None  # what the book expects per base unit today
    refused: str | None = None  # why the pack is none of this ingredient


def price_by_pack(
    book: Book, described: tuple[str, str | None], ingredient: str, pack: str, *, today: date
) -> ByPack | None:
    """Return what words of a sender cost as an ingredient; None where the book has none so called.

    A pack that a line states goes before `pack`, and that before the one in its words. Raises
    BookUnreadable.
    """
    with reading(book) as con:
        kitchen = Kitchen(con)
        chosen = kitchen.find(ingredient)
        if chosen is None:
            return None
        settings = read_settings(con)
        market = "trade" if settings.market == "trade" else "shop"
        asked = (chosen.ingredient_id, today)
        found = ByPack(
            ingredient=chosen.name,
            base=chosen.base,
            unit_price=None,
            expected=market_prices(con, settings.currency, market, [asked]).get(asked),
        )
        words, sender = described
        key = (name_key(sender or ""), name_key(words))
        lines = [each for each in tray.waiting_prices(con) if key == _key(each)]
        last = max(lines, key=lambda each: (each.observed_on, each.row_id), default=None)
        size = (last.pack if last else None) or pack
        if not size and (in_words := pack_in_words(words, kitchen.system)):
            size = in_words.pack
        if not size:
            return found
        read = PackReader(kitchen).read(chosen, size)
        if isinstance(read, MeasureRefused):
            return changed(found, refused=str(read))
        if last is None:
            return found
        paid = last.price / last.packs * (1 + (last.tax_pct or Decimal(0)) / 100)
        return changed(found, unit_price=float(paid) / read.in_base)


def _key(waiting: tray.WaitingPrice) -> tuple[str, str]:
    return waiting.sender_key, waiting.words_key
