"""Works out what a line of a costed dish says a thing cost: a pack of it, or what the dish took."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from ingest.tables.cells import Amount, Count, unit_of
from ingest.tables.headings import heading_says
from ingest.tables.layout import Layout
from ingest.tables.packs import per_unit
from ingest.tables.words import MEASURED
from pricing.errors import MeasureRefused
from pricing.measures.read import read_pack
from pricing.money import minor_units

COARSE = Decimal("0.05")  # of a cost: more than this its rounding must not move
_FINEST = Decimal("0.0001")  # of a stored price
_PER = ("1 kg", "1 g", "100 g", "1 lb", "1 oz", "1 l", "1 ml", "100 ml", "1 each", "1 dozen")
_AMOUNT = re.compile(r"([0-9]+)(?:/([0-9]+)|[.,]([0-9]+))?\s*([^\W\d_].*)?")


@dataclass(frozen=True, kw_only=True)
class Took:
    """How much of a thing the dish took."""

    number: Decimal
    unit: str | None  # as written; None for a bare number
    size: tuple[Decimal, str]  # in g, ml, each, or the unit itself

    @property
    def measured(self) -> bool:
        """Tell whether the unit is a weight or a volume."""
        return self.unit in MEASURED


@dataclass(frozen=True, kw_only=True)
class CostedPrice:
    """What was paid for `count` packs."""

    price: Decimal
    count: Decimal = Decimal(1)
    pack: str | None = None
    unit: str | None = None  # what `count` counts


def took(values: Mapping[str, Any], raw: str | None) -> Took | None:
    """Return what the dish took of a line; `raw`: a quantity that is no plain number, as written.

    >>> took({}, "1/2 bunch")
    Took(number=Decimal('0.5'), unit='bunch', size=(Decimal('0.5'), 'bunch'))
    """
    count: Count | None = values.get("count")
    if count is not None:
        number, unit = count.value, count.unit or values.get("unit")
    else:
        found = _AMOUNT.fullmatch((raw or "").strip())
        if found is None:
            return None
        number = Decimal(f"{found[1]}.{found[3] or 0}") / Decimal(found[2] or 1)
        unit = found[4] or values.get("unit")
    if number <= 0 or number != round(number, 6):
        return None
    named = unit_of(unit)[0] or unit
    return Took(number=number, unit=named, size=_size(f"{number:f} {named or 'each'}", named))


def costs_at(amount: Amount, pack: str, quantity: Took, kept: Decimal) -> Decimal | None:
    """Return what the quantity costs at a price for a pack; None where they do not compare.

    `kept`: the share of what is bought that the quantity is.
    """
    size, dimension = _size(pack, None)
    if dimension != quantity.size[1] or not size:
        return None
    return amount.value * quantity.size[0] / size / kept


def packs_that_agree(
    amount: Amount, quantity: Took, cost: Amount, shares: Iterable[Decimal], currency: str
) -> frozenset[str]:
    """Return what a price may be for, so that the quantity costs what the line says."""
    within = _last_digit(cost, currency)
    own = () if quantity.unit is None or quantity.measured else (f"1 {quantity.unit}",)
    found: dict[Decimal, str] = {}
    for share in shares:
        for pack in (*_PER, *own):
            costs = costs_at(amount, pack, quantity, share)
            if costs is not None and abs(costs - cost.value) <= within:
                found.setdefault(_size(pack, None)[0], pack)
    return frozenset(found.values())


def price_of_pack(values: Mapping[str, Any], layout: Layout) -> CostedPrice | None:
    """Return the price of a pack, where the line says what it is for; None where it does not."""
    price: Amount | None = values.get("price")
    rate: Amount | None = values.get("unit_price")
    if price is not None and price.per:
        price, rate = None, price
    pack = _pack(values)
    if price is not None and pack is not None:
        return CostedPrice(price=stored(price.value), pack=pack)
    if rate is None:
        return None
    heading = layout.heading_of("unit_price") or layout.heading_of("price")
    per = rate.per or (heading_says(heading).per if heading else None) or layout.unit or pack
    return None if per is None else CostedPrice(price=stored(rate.value), pack=per)


def price_of_quantity(
    quantity: Took, cost: Amount, times: Decimal, currency: str
) -> CostedPrice | None:
    """Return the cost, `times` over, as the quantity's price; None where it is rounded too much.

    Half a cent of 9 cents is 5.6 %, and might move any other quantity by as much.
    """
    if cost.value <= 0 or _last_digit(cost, currency) / 2 > COARSE * cost.value:
        return None
    price = stored(cost.value * times)
    if quantity.measured:
        return CostedPrice(price=price, pack=f"{quantity.number:f} {quantity.unit}")
    unit = "each" if quantity.unit is None else quantity.unit
    return CostedPrice(price=price, count=quantity.number, unit=unit)


def stored(amount: Decimal) -> Decimal:
    """Return an amount with the places that the book keeps; a workbook's cell may have more."""
    return amount if amount == round(amount, 4) else amount.quantize(_FINEST)


def rounding(amounts: Iterable[Amount], currency: str) -> Decimal:
    """Return how far the sum of amounts may be off because each is rounded, half a digit each."""
    return sum((_last_digit(each, currency) for each in amounts), Decimal(0)) / 2


def _last_digit(amount: Amount, currency: str) -> Decimal:
    """Return the last digit that is shown of an amount; a workbook's 1.5 may be a 1.50."""
    exponent = amount.value.as_tuple().exponent
    places = minor_units().get(currency, 2)
    shown = -exponent if isinstance(exponent, int) else 0
    return Decimal(1).scaleb(-max(places, min(shown, 9)))


def _pack(values: Mapping[str, Any]) -> str | None:
    held, unit = values.get("pack"), values.get("pack_unit")
    if held is None:
        return None if unit is None else per_unit(unit)
    if isinstance(held, Decimal):
        named = unit_of(unit)[0] or unit
        return f"{held:f} {named}" if named and held > 0 else None
    return per_unit(held) or str(held)


def _size(text: str, unit: str | None) -> tuple[Decimal, str]:
    """Return an amount in g, ml or each; in its own word where it is measured in none of them."""
    try:
        read = read_pack(text, "metric")
    except MeasureRefused:
        number, _, word = text.partition(" ")
        return (Decimal(number), unit or word) if number.replace(".", "").isdigit() else (
            Decimal(0), text
        )  # fmt: skip
    return Decimal(read.amount), read.dimension
