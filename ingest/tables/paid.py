"""Works out what a row's price, count, weight and total say was paid, and for what."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Any

from ingest.tables.cells import Amount, Count, unit_of
from ingest.tables.headings import heading_says
from ingest.tables.layout import Layout
from ingest.tables.words import MEASURED
from pricing.money import minor_units, round_money

_ONE = Decimal(1)


@dataclass(kw_only=True, slots=True)
class Paid:
    """What was paid for `count` packs."""

    price: Decimal
    count: Decimal = _ONE
    pack: str | None = None
    unit: str | None = None  # what the count counts: each, or a package as written
    with_tax: bool = False  # the total has the tax in it, though the prices are net
    note: str | None = None
    said: str | None = None  # why the row is named in a remark
    more_words: str | None = None  # a pack in words that are not read here


def paid_for(values: dict[str, Any], layout: Layout) -> Paid:
    """Return what was paid: the total where there is one, else count × price.

    Weighed goods are one pack of what they weighed. A price per kg alone is that of 1 kg.
    """
    total: Amount | None = values.get("total")
    price: Amount | None = values.get("price")
    rate: Amount | None = values.get("unit_price")
    count: Count | None = values.get("count")
    unit, one = unit_of(values.get("unit"))
    pack, more = _pack(values.get("pack"), unit)
    if count is not None and count.unit:
        unit, one = unit_of(count.unit)
    if price is not None and price.per:
        price, rate = None, price
    per = _per(rate, layout, one)
    if count is not None and unit in MEASURED and pack is None:
        return _weighed(total, rate or price, count, f"{count.value:f} {unit}", layout)
    if pack is None and values.get("unit") and unit is None and one:
        pack, one = one, None  # the column of units holds packs: "500 g"
    if total is None and price is None:
        assert rate is not None
        return _by_rate(rate, per, count, pack, more, layout)
    number = count.value if count is not None and count.value > 0 else _ONE
    if price is None and total is not None and rate is not None and pack is None and per:
        return Paid(price=rate.value, pack=per, more_words=more)
    paid = _checked(total, price, number, values, layout)
    paid.pack = pack or (one if one in _PER_UNIT and price is not None else None)
    paid.pack = paid.pack or _bare(values.get("pack"))
    paid.more_words = more
    if unit == "each" or (unit == "" and values.get("unit")):
        paid.unit = unit or values["unit"]
    if rate is not None and per:
        paid.note = f"{rate.value:f} for {per}, as listed"
    return paid


_PER_UNIT = frozenset(f"1 {unit}" for unit in MEASURED)


def _pack(held: Any, unit: str | None) -> tuple[str | None, str | None]:
    """Return the pack, and words for it that are not read here."""
    if held is None:
        return None, None
    if isinstance(held, Decimal):  # a number, whose unit stands in a column beside it
        return (f"{held:f} {unit}", None) if unit and held > 0 else (None, None)
    text = str(held)
    return (
        (text, None) if text[:1].isdigit() and text.rpartition(" ")[2] in _UNITS else (None, text)
    )


def _bare(held: Any) -> str | None:
    """Return the number of a pack without its unit: what it counts is decided with the words."""
    if not isinstance(held, Decimal) or held <= 0 or held == 1:
        return None
    return f"{held.normalize():f}"


_UNITS = MEASURED | {"each", "dozen"}


def _per(rate: Amount | None, layout: Layout, one: str | None) -> str | None:
    if rate is None:
        return None
    heading = layout.heading_of("unit_price") or layout.heading_of("price")
    return rate.per or (heading_says(heading).per if heading else None) or layout.unit or one


def _weighed(
    total: Amount | None, rate: Amount | None, count: Count, pack: str, layout: Layout
) -> Paid:
    """Return what weighed goods cost; `rate` is the price of one unit they are counted in."""
    if count.value <= 0:
        amount = total or rate
        assert amount is not None
        return Paid(price=amount.value)
    if total is None:
        assert rate is not None
        currency = rate.currency or layout.currency or ""
        return Paid(price=_rounded(count.value * rate.value, currency), pack=pack)
    paid = Paid(price=total.value, pack=pack)
    if rate is not None and not _agree(count.value * rate.value, total.value, total, layout):
        paid.said = "whose total is not weight × price: the total counts"
    return paid


def _by_rate(
    rate: Amount, per: str | None, count: Count | None, pack: str | None, more: str | None,
    layout: Layout,
) -> Paid:  # fmt: skip
    """Return the price of one unit of weight or volume, where only that is known."""
    number = count.value if count is not None and count.value > 0 else None
    if number is not None and pack is None and per and per.startswith("1 "):
        currency = rate.currency or layout.currency or ""
        return Paid(
            price=_rounded(number * rate.value, currency),
            pack=f"{number:f} {per.removeprefix('1 ')}",
            more_words=more,
        )
    note = f"in packs of {pack}" if pack and per else None
    return Paid(price=rate.value, pack=per or pack, note=note, more_words=more)


def _checked(
    total: Amount | None, price: Amount | None, number: Decimal, values: dict[str, Any],
    layout: Layout,
) -> Paid:  # fmt: skip
    if total is None:
        assert price is not None
        return Paid(price=price.value * number, count=number)
    paid = Paid(price=total.value, count=number)
    if price is None or _agree(price.value * number, total.value, total, layout):
        return paid
    rate: Decimal | None = values.get("tax_pct")
    if rate is None and layout.tax_rate is not None:
        rate = Decimal(layout.tax_rate)
    if rate is not None and layout.tax == "net":
        gross = price.value * number * (1 + rate / 100)
        if _agree(gross, total.value, total, layout):
            paid.with_tax = True
            return paid
    paid.said = "whose total is not count × price: the total counts"
    return paid


def _agree(sum_: Decimal, total: Decimal, amount: Amount, layout: Layout) -> bool:
    """Tell whether two amounts are one to the currency's minor unit."""
    return abs(sum_ - total) <= _smallest(amount.currency or layout.currency or "")


@cache
def _smallest(currency: str) -> Decimal:
    return Decimal(1).scaleb(-minor_units().get(currency, 2))


def _rounded(amount: Decimal, currency: str) -> Decimal:
    return round_money(amount, currency)
