"""What the last price of a description comes to, were it this ingredient in that pack."""

from __future__ import annotations

from dataclasses import dataclass
from dataclasses import replace as changed
from datetime import date

from ingest.kinds.kitchen import Kitchen
from ingest.kinds.pack_reader import PackReader
from ingest.kinds.unusual import market_of
from ingest.matching.packs import is_bare, pack_in_words
from ingest.tray.listing import expected_on
from pricing.book import tray
from pricing.book.connect import Book, reading
from pricing.errors import MeasureRefused
from pricing.names import name_key


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
        words, sender = described
        key = (name_key(sender or ""), name_key(words))
        last = tray.last_seen(
            each for each in tray.waiting_prices(con) if key == (each.sender_key, each.words_key)
        )
        market = market_of(None if last is None else last.price_kind)
        expected = expected_on(con, [chosen.ingredient_id], today, market)
        found = ByPack(
            ingredient=chosen.name,
            base=chosen.base,
            unit_price=None,
            expected=expected.get(chosen.ingredient_id),
        )
        stated = last.pack if last else None
        size = pack if is_bare(stated) else stated or pack
        if not size and (in_words := pack_in_words(words, kitchen.system)):
            size = in_words.pack
        if not size and is_bare(stated) and chosen.base == "each":
            size = f"{stated} each"
        if not size:
            return found
        read = PackReader(kitchen).read(chosen, size)
        if isinstance(read, MeasureRefused):
            return changed(found, refused=str(read))
        if last is None:
            return found
        return changed(found, unit_price=float(last.paid_each) / read.in_base)
