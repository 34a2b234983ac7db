"""What a line cost: its net, with its share of what the whole document takes off or adds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction

from ingest.invoices.document import Invoice, InvoiceLine, SharedAmount, Vat

FINEST = Decimal("0.0001")  # the finest price, and the finest percentage of tax, of a prices file


def with_costs(invoice: Invoice) -> Invoice:
    """Return the invoice with the cost and the tax of each line.

    An allowance lessens the lines of its own rate of tax, so that the tax of each rate stays what
    the document says (EN 16931-1, rule BR-S-08); where no line has that rate, all lines. A charge,
    such as delivery, is for all that came. Each is shared by the lines' nets; lines that cost
    nothing, and returns, have no share. Where a share has another rate of tax than its line, the
    tax of the line is what both come to.

    A line of 60.00 and one of 40.00, both at 20 %, with 5.00 for delivery at 20 %: 63.00 and 42.00.
    """
    sign = -1 if invoice.credit_note else 1
    costs = [Fraction(line.net) for line in invoice.lines]
    taxes = [Fraction(line.net) * Fraction(line.vat.percent) for line in invoice.lines]
    for each in _merged(invoice.shared):
        for place, part in _parts(each, invoice.lines, sign):
            costs[place] += part
            taxes[place] += part * Fraction(each.vat.percent)
    return replace(
        invoice,
        lines=tuple(
            replace(line, cost=_rounded(cost), tax_pct=_tax(line.vat, cost, tax))
            for line, cost, tax in zip(invoice.lines, costs, taxes, strict=True)
        ),
    )


def _merged(shared: Sequence[SharedAmount]) -> list[SharedAmount]:
    """Return one amount for each rate of tax, allowances and charges apart: they share alike."""
    merged: dict[tuple[bool, Vat], SharedAmount] = {}
    for each in shared:
        held = merged.get((each.charge, each.vat))
        amount = each.amount + held.amount if held else each.amount
        merged[each.charge, each.vat] = replace(each, amount=amount)
    return list(merged.values())


def _parts(
    shared: SharedAmount, lines: Sequence[InvoiceLine], sign: int
) -> list[tuple[int, Fraction]]:
    """Return the place of each line that has a share, and its share."""
    bought = [place for place, line in enumerate(lines) if line.net * sign > 0]
    same = [place for place in bought if lines[place].vat == shared.vat]
    places = bought if shared.charge or not same else same
    whole = sum((Fraction(lines[place].net) for place in places), Fraction(0))
    return [
        (place, Fraction(shared.amount) * Fraction(lines[place].net) / whole) for place in places
    ]


def _tax(vat: Vat, cost: Fraction, tax: Fraction) -> Decimal:
    if not cost or tax == cost * Fraction(vat.percent):
        return vat.percent
    return _rounded(tax / cost)


def _rounded(amount: Fraction) -> Decimal:
    with localcontext() as context:
        context.prec = 60
        exact = Decimal(amount.numerator) / Decimal(amount.denominator)
        return exact.quantize(FINEST, ROUND_HALF_UP)
