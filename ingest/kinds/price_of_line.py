"""Writes a line of a list or an invoice as a row of prices, once its ingredient is known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from ingest.brought import PriceLine
from ingest.kinds.decided import Decided
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.pack_reader import PackReader
from ingest.matching.packs import is_bare, pack_in_words, times
from pricing.errors import MeasureRefused
from pricing.measures.quantities import missing_fact
from pricing.measures.read import read_pack

COLUMNS = (
    "ingredient", "date", "price", "currency", "pack", "supplier", "kind", "tax_pct", "region",
    "product", "source", "note",
)  # fmt: skip
_PLACES = Decimal("0.0001")  # of a stored price


def cells_of(
    line: PriceLine, ingredient: str, price: Decimal, pack: str, product: str | None = None
) -> Sequence[str]:
    """Return the cells of COLUMNS."""
    return (
        ingredient,
        line.day.isoformat(),
        f"{price:f}",
        line.currency,
        pack,
        line.supplier or "",
        line.kind,
        "" if line.tax_pct is None else f"{line.tax_pct:f}",
        line.region or "",
        product or line.product or line.words,
        line.source or "",
        line.note or "",
    )


class PriceOfLine:
    """Finds the pack of each line, and writes what was paid for it."""

    def __init__(self, kitchen: Kitchen) -> None:
        self._kitchen = kitchen
        self._packs = PackReader(kitchen)
        self._in_words: dict[str, tuple[str, ...]] = {}

    def cells(self, line: PriceLine, decided: Decided) -> Sequence[str] | None:
        """Return the cells of COLUMNS; None where no pack is known that the ingredient can use."""
        pack = self._pack(line, decided)
        ingredient = decided.ingredient
        if pack is None or ingredient is None:
            return None
        price = line.price
        if line.count != 1:
            each = price / line.count
            if each == each.quantize(_PLACES) and each > 0:
                price = each
            else:
                own = self._kitchen.facts(ingredient).grams_by_measure
                try:
                    pack = times(pack, line.count, self._kitchen.system, list(own))
                except MeasureRefused:
                    return None
        return cells_of(line, ingredient.name, price, pack, decided.product)

    def lacking(self, line: PriceLine, decided: Decided) -> str | None:
        """Say what fact the pack that a line states lacks before it is one of the ingredient.

        None where the line states no pack that can be read.
        """
        if decided.ingredient is None:
            return None
        facts = self._kitchen.facts(decided.ingredient)
        for pack in self._candidates(line, decided):
            try:
                held = read_pack(pack, self._kitchen.system, facts.grams_by_measure)
            except MeasureRefused:
                continue
            missing = missing_fact(held, facts)
            if missing:
                return f"{pack} of {decided.ingredient.name} needs its {missing}"
        return None

    def _pack(self, line: PriceLine, decided: Decided) -> str | None:
        """Return the first pack that the ingredient's base unit can be made of."""
        if decided.ingredient is None:
            return None
        for pack in self._candidates(line, decided):
            if not isinstance(self._packs.read(decided.ingredient, pack), MeasureRefused):
                return pack
        return None

    def _candidates(self, line: PriceLine, decided: Decided) -> Iterator[str]:
        counted = decided.ingredient is not None and decided.ingredient.base == "each"
        if line.pack is not None and not is_bare(line.pack):
            yield line.pack
        if decided.pack is not None:
            yield decided.pack
        if is_bare(line.pack):  # "12" of eggs is 12 of them; of flour it may be anything
            yield from self._packs_in(line.words)
            if counted:
                yield f"{line.pack} each"
        elif line.pack is None:
            yield from self._packs_in(line.words)
            if line.unit is not None:
                yield f"1 {line.unit}"
            elif counted:
                yield "1 each"

    def _packs_in(self, words: str) -> tuple[str, ...]:
        if words not in self._in_words:
            found = pack_in_words(words, self._kitchen.system)
            self._in_words[words] = () if found is None else (
                (found.pack,) if found.pieces is None else (found.pack, found.pieces)
            )  # fmt: skip
        return self._in_words[words]
