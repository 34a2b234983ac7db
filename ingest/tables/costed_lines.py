"""Turns a table that costs a dish into lines with a price, and checks its sums."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from fractions import Fraction

from ingest.brought import PriceLine
from ingest.tables.cells import Amount, columns_of
from ingest.tables.costed_price import (
    CostedPrice,
    Took,
    packs_that_agree,
    price_of_pack,
    price_of_quantity,
    rounding,
    stored,
    took,
)
from ingest.tables.costed_rows import MONEY, CostedRow, CostedRows, costed_rows, sum_of
from ingest.tables.grid import as_written
from ingest.tables.layout import Layout
from ingest.tables.table import Table
from ingest.text.sentences import counted
from pricing.errors import Problem
from pricing.money import round_money
from pricing.names import name_key

_ALL = Decimal(100)


@dataclass(kw_only=True)
class CostedDish:
    """What a costing says: prices, and what a portion cost."""

    lines: list[PriceLine] = field(default_factory=list)
    portion: Decimal | None = None  # what one cost; None where neither it nor its parts are said
    portion_line: int = 1  # where that stands
    has_sum: bool = False  # a total, or a cost in every line
    problems: list[Problem] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def dish_of_table(
    table: Table,
    layout: Layout,
    *,
    day: date,
    portions: Fraction | None = None,
    dishes: Collection[str] = (),
) -> CostedDish:
    """Return the prices of a costing and what a portion cost, with what does not add up.

    `portions`: as told, else what the sheet says. `dishes`: of the book, whose lines are no prices.
    """
    rows = costed_rows(table.banner, table.rows, columns_of(table, layout))
    portions = portions or rows.portions
    scale = _scale(layout, portions)
    reading = _Reading(layout, day, rows, {name_key(each) for each in dishes}, scale)
    found = CostedDish(problems=rows.problems)
    for line in rows.lines:
        reading.take(line)
    found.lines = reading.lines
    found.remarks = reading.remarks()
    _sums(found, rows, layout, portions)
    return found


def _scale(layout: Layout, portions: Fraction | None) -> Decimal | None:
    """Return how many times its stated cost a line's quantity cost; None where nobody knows."""
    if layout.quantity_of != "the batch":
        return Decimal(1)
    return None if portions is None else Decimal(portions.numerator) / portions.denominator


class _Reading:
    """The lines of one sheet."""

    def __init__(
        self, layout: Layout, day: date, rows: CostedRows, dishes: set[str],
        scale: Decimal | None,
    ) -> None:  # fmt: skip
        self._layout, self._day, self._dishes, self._scale = layout, day, dishes, scale
        self._own = layout.currency or ""
        self._agreed = self._packs_of_all(rows.lines)
        self.lines: list[PriceLine] = []
        self._left_out: dict[str, list[int]] = {}

    def take(self, line: CostedRow) -> None:
        """Take what a line says that a thing cost."""
        if name_key(line.words) in self._dishes:
            self._leave(line, "for a dish of the book, which is no price")
            return
        price = price_of_pack(line.values, self._layout)
        if price is None:
            quantity = took(line.values, line.raw_quantity)
            price = None if quantity is None else self._by_quantity(line, quantity)
        if price is None or price.price <= 0:
            self._leave(line, self._why_none(line))
            return
        value = line.values.get
        self.lines.append(
            PriceLine(
                line=line.row.line,
                raw=as_written(line.row),
                words=line.words,
                day=value("date") or self._day,
                price=price.price,
                currency=self._currency(line),
                count=price.count,
                pack=price.pack,
                unit=price.unit,
                supplier=value("supplier") or self._layout.sender,
                kind=value("kind") or self._layout.price_kind or "shelf",
                tax_pct=self._tax(line),
                region=value("region"),
                note=value("note"),
                item_number=value("item_number"),
                gtin=value("gtin"),
            )
        )

    def _by_quantity(self, line: CostedRow, quantity: Took) -> CostedPrice | None:
        """Return a price for what the costs of the sheet show, else the cost of the quantity."""
        money = line.values.get("price") or line.values.get("unit_price")
        packs = self._agreeing(line)
        settled = self._agreed.get(quantity.size[1], frozenset())
        one = packs & settled or packs
        if money is not None and len(one) == 1:
            return CostedPrice(price=stored(money.value), pack=next(iter(one)))
        cost, kept = cost_of(line), kept_share(line)
        if cost is None or self._scale is None:
            return None
        if kept != 1 and self._layout.state is None:
            return None
        edible = self._layout.state == "edible"
        times = self._scale * (kept if edible else Decimal(1))
        return price_of_quantity(quantity, cost, times, self._own)

    def _why_none(self, line: CostedRow) -> str:
        cost = cost_of(line)
        if took(line.values, line.raw_quantity) is None or cost is None:
            return "without a quantity and its cost: no price"
        if kept_share(line) != 1 and self._layout.state is None and self._scale is not None:
            return "with a yield: no price, unless --answer state=as_purchased or edible is told"
        return "whose cost is too small for its rounding: no price"

    def _packs_of_all(self, lines: Sequence[CostedRow]) -> dict[str, frozenset[str]]:
        """Return, for weights, volumes and pieces, what every price of the sheet may be for."""
        settled: dict[str, frozenset[str]] = {}
        for line in lines:
            packs = self._agreeing(line)
            quantity = took(line.values, line.raw_quantity)
            if quantity is not None and packs:
                dimension = quantity.size[1]
                settled[dimension] = settled.get(dimension, packs) & packs
        return settled

    def _agreeing(self, line: CostedRow) -> frozenset[str]:
        money = line.values.get("price") or line.values.get("unit_price")
        quantity, cost = took(line.values, line.raw_quantity), cost_of(line)
        if money is None or quantity is None or cost is None:
            return frozenset()
        shares = {Decimal(1), kept_share(line)}
        return packs_that_agree(money, quantity, cost, shares, self._own)

    def _currency(self, line: CostedRow) -> str:
        amounts = [line.values[each] for each in MONEY if each in line.values]
        named = next((each.currency for each in amounts if each.currency), None)
        return named or line.values.get("currency") or self._own

    def _tax(self, line: CostedRow) -> Decimal | None:
        if self._layout.tax != "net":
            return None
        told = None if self._layout.tax_rate is None else Decimal(self._layout.tax_rate)
        rate: Decimal | None = line.values.get("tax_pct")
        return told if rate is None else rate

    def _leave(self, line: CostedRow, why: str) -> None:
        self._left_out.setdefault(why, []).append(line.row.line)

    def remarks(self) -> list[str]:
        return [
            f"{counted(len(lines), 'line')} {why} (line{'s' if len(lines) > 1 else ''} "
            f"{', '.join(map(str, lines))})."
            for why, lines in self._left_out.items()
        ]


def cost_of(line: CostedRow) -> Amount | None:
    """Return what a line cost: of the batch, or of a portion where only that is stated."""
    cost: Amount | None = line.values.get("total") or line.values.get("amount")
    return cost


def kept_share(line: CostedRow) -> Decimal:
    """Return the share of what is bought that a line's yield, or its trim, leaves; 1 without."""
    left, lost = line.values.get("yield_pct"), line.values.get("trim_pct")
    if left is not None:
        share = left / _ALL if left > 1 else left
    elif lost is not None:
        share = 1 - (lost / _ALL if lost >= 1 else lost)
    else:
        return Decimal(1)
    return share if 0 < share <= 1 else Decimal(1)


def _sums(found: CostedDish, rows: CostedRows, layout: Layout, portions: Fraction | None) -> None:
    """Find what a portion cost, and say which sums differ by more than rounding explains."""
    own = layout.currency or ""
    costs = [cost for line in rows.lines if (cost := cost_of(line)) is not None]
    by_portion = bool(costs) and layout.heading_of("total") is None
    whole = len(costs) == len(rows.lines) and bool(costs)
    totals = rows.totals[-1:]
    portion = rows.portion[:1] or (totals if by_portion else [])
    if found.problems:  # a line that cannot be read is lacking in the sum
        costs = []
    if by_portion:
        _hold(found, costs, portion, "cost of a portion", own)
        totals = []
    else:
        _hold(found, costs, totals, "total", own)
    total = totals[0][1].value if totals else sum_of(costs) if whole and not by_portion else None
    found.has_sum = total is not None
    if portion:
        row, amount = portion[0]
        found.portion, found.portion_line = round_money(amount.value, own), row.line
        if total is not None and portions:
            _hold_portions(found, total, amount, portions, own)
    elif by_portion and whole:
        found.portion = round_money(sum_of(costs), own)
        found.remarks.append(f"Nothing states what a portion cost: the lines add up to "
                             f"{found.portion:f} {own}.")  # fmt: skip
    elif total is not None and portions:
        each = total / (Decimal(portions.numerator) / portions.denominator)
        found.portion = round_money(each, own)
        found.portion_line = totals[0][0].line if totals else 1
        what = "total" if totals else "sum of the lines"
        found.remarks.append(
            f"A portion cost {found.portion:f} {own}: the {what}, {total:f}, for {portions}."
        )


def _hold(
    found: CostedDish, costs: Sequence[Amount], stated: Sequence[tuple[object, Amount]],
    what: str, own: str,
) -> None:  # fmt: skip
    """Hold the sum of the lines against the sheet's own."""
    if not stated or not costs:
        if not costs and not found.problems:
            found.remarks.append("No column holds what each line cost: no sum was held against it.")
        return
    amount, added = stated[0][1], sum_of(costs)
    if abs(added - amount.value) > rounding([*costs, amount], own):
        found.remarks.append(
            f"Its lines add up to {_shown(added, own)} {own}, and its {what} says "
            f"{_shown(amount.value, own)}: that is {_shown(abs(added - amount.value), own)} apart, "
            "more than rounding explains."
        )


def _hold_portions(
    found: CostedDish, total: Decimal, portion: Amount, portions: Fraction, own: str
) -> None:
    many = Decimal(portions.numerator) / portions.denominator
    if abs(total / many - portion.value) > rounding([portion], own) * 2:
        found.remarks.append(
            f"Its total, {_shown(total, own)} {own}, for {portions} portions is "
            f"{_shown(total / many, own)} a portion, and it says {_shown(portion.value, own)}: the "
            "figure is taken as it says."
        )


def _shown(amount: Decimal, own: str) -> str:
    return f"{round_money(amount, own):f}"
