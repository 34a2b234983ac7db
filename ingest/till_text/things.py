"""Puts a receipt's lines together: a thing, how many or how much of it, what lowered its price."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from ingest.text.sentences import quoted
from ingest.till_text.entry import Entry
from ingest.till_text.words import CHARGES
from pricing.errors import Problem
from pricing.money import minor_units, round_money
from pricing.names import name_key


@dataclass(kw_only=True)
class Thing:
    """A thing that was paid for."""

    entry: Entry  # that names it
    amount: Decimal  # paid for all of it
    measured: Entry | None  # the line that says how many or how much
    lowered: list[str] = field(default_factory=list)


@dataclass(kw_only=True)
class Receipt:
    """What its lines come to."""

    things: list[Thing] = field(default_factory=list)
    beside: Decimal = Decimal(0)  # bags, deposits, vouchers: in the total, no ingredient
    tax: Decimal = Decimal(0)  # printed above the total
    total: Decimal | None = None
    problems: list[Problem] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    @property
    def read_sum(self) -> Decimal:
        return sum((thing.amount for thing in self.things), self.beside)


class Reader:
    """Reads the entries of a receipt one after the other, until its total."""

    def __init__(self, entries: Sequence[Entry], currency: str, *, reductions: bool) -> None:
        self.entries, self.currency = entries, currency
        self.reductions = reductions  # a line such as "Offer 0.50" lowers; else it is a thing
        self.found = Receipt()
        self._used: set[int] = set()  # places of lines that were read with another
        self._behind_subtotal = False
        self._smallest = Decimal(1).scaleb(-minor_units().get(currency, 2))

    def read(self) -> Receipt:
        below = self._measures_below()
        for at, entry in enumerate(self.entries):
            if entry.kind == "total" and self._total(at):
                break
            if at not in self._used:
                self._take(at, entry, below)
        self.found.things = [thing for thing in self.found.things if self._is_paid(thing)]
        return self.found

    def _take(self, at: int, entry: Entry, below: bool) -> None:
        kind, amount = entry.kind, entry.amount
        if kind == "maybe reduction":
            kind = "reduction" if self.reductions else "item"
        if kind == "quantity":
            self._measure(at, entry, below)
        elif kind == "subtotal":
            self._behind_subtotal = True
        elif amount is None and kind != "item":
            return
        elif kind == "item":
            self._thing(entry)
        elif kind == "reduction" and amount:
            self._lower(entry, abs(amount))
        elif kind == "void" and amount:
            self._take_back(entry, abs(amount))
        elif kind in CHARGES and amount is not None:
            lowers = kind in ("voucher", "loyalty") and amount > 0
            self._beside(entry, -amount if lowers else amount)
        elif kind == "tax" and amount is not None:
            self.found.tax += amount

    def _total(self, at: int) -> bool:
        """Take the total, from its own line or from the next; tell whether there is one."""
        amount = self.entries[at].amount
        after = self.entries[at + 1] if at + 1 < len(self.entries) else None
        if amount is None and after and after.kind == "amount":
            amount = after.amount
        self.found.total = amount
        return amount is not None

    def _thing(self, entry: Entry, amount: Decimal | None = None, by: Entry | None = None) -> None:
        measured = by or (entry if entry.count or entry.weight else None)
        paid = amount if amount is not None else entry.amount
        if paid is None:  # "Bananas 0.843 kg @ 1.20/kg", without what that comes to
            paid = self._product(entry)
        if paid is not None:
            self.found.things.append(Thing(entry=entry, amount=paid, measured=measured))

    def _product(self, entry: Entry) -> Decimal | None:
        many = entry.weight.amount if entry.weight else entry.count
        if many is None or entry.each is None:
            return None
        return round_money(many * entry.each, self.currency)

    def _fits(self, entry: Entry, amount: Decimal | None) -> bool:
        """Tell whether a line "2 x 1.25" comes to an amount, to the smallest coin."""
        product = entry.amount if entry.amount is not None else self._product(entry)
        return None not in (product, amount) and abs(product - amount) <= self._smallest  # type: ignore[operator]

    def _belongs(self, at: int, entry: Entry) -> tuple[str, str]:
        """Return what the lines above and below are to "2 x 1.25": its thing, words, or nothing."""
        above = self.entries[at - 1] if at and at - 1 not in self._used else None
        below = self.entries[at + 1] if at + 1 < len(self.entries) else None
        told = []
        for other in (above, below):
            if other is None or other.count or other.weight:
                told.append("")
            elif self._is_thing(other) and self._fits(entry, other.amount):
                told.append("thing")
            elif other.kind == "words" and other.words:
                told.append("words")
            else:
                told.append("")
        return told[0], told[1]

    def _is_thing(self, entry: Entry) -> bool:
        return entry.kind == "item" or (entry.kind == "maybe reduction" and not self.reductions)

    def _measures_below(self) -> bool:
        """Tell the till's habit: "2 x 1.25" stands below its thing (or above it)."""
        places = [at for at, entry in enumerate(self.entries) if entry.kind == "quantity"]
        beside = [self._belongs(at, self.entries[at]) for at in places]
        below = sum(over == "thing" != under for over, under in beside)
        above = sum(under == "thing" != over for over, under in beside)
        if below == above and beside:  # all names stand alone: is there one below the last?
            return beside[-1][1] != "words"
        return below >= above

    def _measure(self, at: int, entry: Entry, stands_below: bool) -> None:
        over, under = self._belongs(at, entry)
        places = [(over, at - 1), (under, at + 1)]
        if not stands_below:
            places.reverse()
        for wanted in ("thing", "words"):
            for how, place in places:
                if how != wanted:
                    continue
                other = self.entries[place]
                amount = other.amount if how == "thing" else entry.amount
                if place < at and how == "thing":
                    self.found.things = [it for it in self.found.things if it.entry is not other]
                self._used.add(place)
                self._thing(other, self._product(entry) if amount is None else amount, entry)
                return
        self.found.problems.append(
            Problem(
                line=entry.line,
                column=None,
                found=quoted(entry.raw),
                expected="above or below it the thing that was counted or weighed, at its price",
                remedy="Write the thing and its price on the line above.",
            )
        )

    def _lower(self, entry: Entry, amount: Decimal) -> None:
        if self._behind_subtotal:
            self._beside(entry, -amount)
            return
        thing = self._named(entry)
        if thing is None or thing.amount < amount:
            over = f"under {quoted(thing.entry.raw)}" if thing else "with nothing above it"
            self.found.problems.append(
                Problem(
                    line=entry.line,
                    column=None,
                    found=f"a reduction, {quoted(entry.raw)}, {over}",
                    expected="a reduction below the thing whose price it lowers",
                    remedy="Move the line there, or write the price that was paid.",
                )
            )
            return
        thing.amount -= amount
        thing.lowered.append(" ".join(entry.raw.split()))

    def _named(self, entry: Entry) -> Thing | None:
        """Return the thing that a reduction names, else the last."""
        words = f" {name_key(entry.words)} "
        named = [each for each in self.found.things if f" {name_key(each.entry.words)} " in words]
        among = named or self.found.things
        return among[-1] if among else None

    def _take_back(self, entry: Entry, amount: Decimal) -> None:
        alike = [thing for thing in self.found.things if thing.amount == amount]
        named = [each for each in alike if name_key(each.entry.words) in name_key(entry.words)]
        if not alike:
            self._lower(entry, amount)
            return
        self.found.things.remove((named or alike)[-1])

    def _beside(self, entry: Entry, amount: Decimal) -> None:
        self.found.beside += amount
        self.found.remarks.append(
            f"line {entry.line}: {quoted(entry.raw)} is no ingredient; it counts in the total alone"
        )

    def _is_paid(self, thing: Thing) -> bool:
        if thing.amount > 0:
            return True
        self.found.remarks.append(
            f"line {thing.entry.line}: {quoted(thing.entry.raw)} cost nothing; it is left out"
        )
        return False
