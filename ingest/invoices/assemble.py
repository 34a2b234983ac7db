"""Puts an invoice together from what a syntax's reader found, and holds it against its own sums."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from ingest.invoices.document import Invoice, InvoiceLine, SharedAmount
from ingest.invoices.elements import Elements
from ingest.text.gtin import is_gtin
from ingest.text.sentences import counted, quoted
from pricing.money import minor_units

# The codes of UNTDID 1001 that EN 16931 takes for credit notes (its code lists, BT-3).
CREDIT_NOTES = frozenset(
    {"81", "83", "261", "262", "296", "308", "381", "396", "420", "458", "502", "503", "532"}
)
_MOST_RATES = 50  # of tax, in the allowances and charges of a document: no country has so many
_MOST_SAID = 5  # lines of which the same is said
GTIN_SCHEMES = ("0160", "0088", None)  # ISO 6523: GTIN; GS1's places, often written for it; none


@dataclass(kw_only=True)
class Totals:
    """The sums at the foot of a document, as written."""

    lines_net: Decimal
    allowances: Decimal
    charges: Decimal
    net: Decimal
    tax: Decimal
    total: Decimal
    payable: Decimal


@dataclass(kw_only=True)
class Head:
    """What stands at the top of a document."""

    number: str
    date: date
    supplier: str
    currency: str
    type_code: str | None
    no_gtins: list[str] = field(default_factory=list)  # sentences on numbers that are none
    remarks: list[str] = field(default_factory=list)


def assemble(
    elements: Elements,
    head: Head,
    totals: Totals,
    lines: Sequence[InvoiceLine],
    shared: Sequence[SharedAmount],
) -> Invoice:
    """Return the invoice without its costs; sums that do not add up are problems."""
    elements.line = None
    if not lines:
        elements.wrong("lines", "an invoice without lines", "what was bought, line by line")
    else:
        _few_enough(elements, shared)
        _add_up(elements, totals, lines, shared, head)
        _say(head, head.no_gtins)
        _say_odd(head, lines)
    credit_note = head.type_code in CREDIT_NOTES
    return Invoice(
        number=head.number,
        date=head.date,
        supplier=head.supplier,
        currency=head.currency,
        credit_note=credit_note,
        **_turned(vars(totals), credit_note),
        lines=tuple(map(_turned_line, lines)) if credit_note else tuple(lines),
        shared=tuple(
            replace(each, amount=_turn(each.amount)) if credit_note else each for each in shared
        ),
        remarks=tuple(head.remarks),
    )


def checked_gtin(head: Head, number: str | None, scheme: str | None, line: str) -> str | None:
    """Return a line's GTIN; one with a wrong check digit is left out, with a remark."""
    if number is None or scheme not in GTIN_SCHEMES:
        return None
    if is_gtin(number):
        return number
    if scheme == "0160":
        head.no_gtins.append(
            f"Line {line}: the item number {quoted(number)} is no GTIN, or its check digit is "
            "wrong; it is left out."
        )
    return None


def not_billed(head: Head, many: int) -> None:
    """Say how many lines were left out because they only inform or group others."""
    if many:
        head.remarks.append(
            f"{counted(many, 'line')} only for information or to group others: left out."
        )


def _few_enough(elements: Elements, shared: Sequence[SharedAmount]) -> None:
    """Note a document with more rates of tax than there are: sharing each takes its time."""
    many = len({(each.charge, each.vat) for each in shared})
    if many > _MOST_RATES:
        elements.wrong(
            "AllowanceCharge", f"{many:,} rates of tax", f"at most {_MOST_RATES} in a document"
        )


def _turned(amounts: Mapping[str, Decimal], credit_note: bool) -> dict[str, Decimal]:
    return {name: _turn(value) if credit_note else value for name, value in amounts.items()}


def _turned_line(line: InvoiceLine) -> InvoiceLine:
    return replace(
        line,
        quantity=_turn(line.quantity),
        allowances=_turn(line.allowances),
        charges=_turn(line.charges),
        net=_turn(line.net),
    )


def _turn(amount: Decimal) -> Decimal:
    """Return what a credit note gives back, which it writes without a minus; 0 stays 0, not −0."""
    return amount.copy_negate() if amount else amount


def _say_odd(head: Head, lines: Sequence[InvoiceLine]) -> None:
    """Say where quantity × price is not the line's net, to a minor unit; the net was paid."""
    _say(
        head,
        [
            f"Line {line.line}: {line.quantity:f} × {line.price:f} for {line.base_quantity:f} is "
            f"not {line.net:f}, what the document says that the line comes to; that counts."
            for line in lines
            if abs(_worked_out(line) - Fraction(line.net)) >= _least(head)
        ],
    )


def _say(head: Head, sentences: Sequence[str]) -> None:
    """Say the same of some lines, and of how many others."""
    head.remarks += sentences[:_MOST_SAID]
    if len(sentences) > _MOST_SAID:
        head.remarks.append(f"{counted(len(sentences) - _MOST_SAID, 'more line')} like that.")


def _worked_out(line: InvoiceLine) -> Fraction:
    if line.base_quantity <= 0:  # a problem already
        return Fraction(line.net)
    price = Fraction(line.price) / Fraction(line.base_quantity)
    own = Fraction(line.charges) - Fraction(line.allowances)
    return Fraction(line.quantity) * price + own


def _least(head: Head) -> Decimal:
    return Decimal(1).scaleb(-minor_units().get(head.currency, 2))


def _add_up(
    elements: Elements,
    totals: Totals,
    lines: Sequence[InvoiceLine],
    shared: Sequence[SharedAmount],
    head: Head,
) -> None:
    """Note each sum of the document that is off by a minor unit or more.

    Source: EN 16931-1, rules BR-CO-10 to BR-CO-13 and BR-CO-15.
    """
    for what, column, ours, its in _sums(totals, lines, shared):
        if abs(ours - its) >= _least(head):
            elements.wrong(
                column, f"{its:f} {head.currency} for {what}", f"{ours:f}, what they add up to"
            )


def _sums(
    totals: Totals, lines: Sequence[InvoiceLine], shared: Sequence[SharedAmount]
) -> Iterable[tuple[str, str, Decimal, Decimal]]:
    """Yield in words what is summed, our column, our sum and the document's."""
    zero = Decimal(0)
    yield "its lines", "lines_net", sum((line.net for line in lines), zero), totals.lines_net
    less = -sum((each.amount for each in shared if not each.charge), zero)
    yield "its allowances", "allowances", less, totals.allowances
    more = sum((each.amount for each in shared if each.charge), zero)
    yield "its charges", "charges", more, totals.charges
    net = totals.lines_net - totals.allowances + totals.charges
    yield "lines less allowances and with charges", "net", net, totals.net
    yield "all of it with tax", "total", totals.net + totals.tax, totals.total
