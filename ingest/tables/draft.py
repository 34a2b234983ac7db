"""Drafts the layout of a table that none was kept for: each part found, told or asked."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from ingest.report import Question
from ingest.tables.banner import Banner
from ingest.tables.columns import MONEY, NUMBERS, Columns
from ingest.tables.grid import text_of
from ingest.tables.layout import PRICE_KINDS, Layout
from ingest.tables.settle import answer, settle_currency, settle_day, settle_decimal, settle_order
from ingest.text.fold import fold
from ingest.text.sentences import quoted

_EACH = re.compile(
    r"unit|einzel|stuck|each|\b(?:per|je|pro|pu|p u|ep|e preis|a pris|pp)\b"
    r"|jedn|styck|stuks|eenheid|pack|piece"
)

TAX_SAID = {"net": "prices are before tax", "gross": "prices include the tax"}


@dataclass(kw_only=True)
class Draft:
    """A layout in the making."""

    columns: Columns
    banner: Banner
    own: str  # the book's currency
    today: date
    told: Mapping[str, str]
    day: date | None = None  # of all rows, where no column holds one

    @property
    def questions(self) -> list[Question]:
        """What has to be asked."""
        return self.columns.questions

    def layout(self) -> Layout:
        """Return the layout, as proposed where it is asked about."""
        table = self.columns.table
        dates = self.columns.place("date")
        if dates is None:
            dates = self.columns.place("published_on")
        held = None if dates is not None else self.banner.labelled.get("date")
        order, doubt = settle_order(table, dates, held, self.told)
        self._ask(doubt)
        day_from = "column"
        if dates is None and self.columns.place("month") is None:
            day_from = "banner" if held is not None and "day" not in self.told else "told"
            self.day, doubt = settle_day(self.told, held, self.banner.dates, order, self.today)
            self._ask(doubt)
        return self._layout(order, day_from)

    def _layout(self, order: str, day_from: str) -> Layout:
        columns, table = self.columns, self.columns.table
        numbers = [place for place, held in columns.meaning.items() if held in NUMBERS]
        decimal, doubt = settle_decimal(table, numbers, self.told)
        self._ask(doubt)
        self._price_for()
        tax, rate = self._tax()
        return Layout(
            fingerprint=table.fingerprint,
            sender=self._sender(),
            kind=columns.kind,
            columns=tuple(
                (columns.heading(p), held) for p, held in sorted(columns.meaning.items())
            ),
            date_order=order,
            decimal=decimal,
            currency=self._currency(),
            tax=tax,
            tax_rate=rate,
            price_kind=self._price_kind(),
            unit=self._unit(),
            state=self._state(),
            quantity_of=self._quantity_of(),
            day_from=day_from,
            sheet=table.sheet,
        )

    def _ask(self, question: Question | None) -> None:
        if question is not None:
            self.columns.questions.append(question)

    def _currency(self) -> str | None:
        columns = self.columns
        held = columns.place("currency")
        if held is not None and columns.contents[held].filled >= len(columns.table.rows):
            return None if "currency" not in self.told else self.told["currency"].upper()
        places = [p for p, meaning in columns.meaning.items() if meaning in NUMBERS]
        signs = [sign for place in places for sign in sorted(columns.contents[place].signs)]
        signs += [said for place in places if (said := columns.says[place].currency)]
        if "currency" in self.banner.labelled and not signs:
            signs.append(text_of(self.banner.labelled["currency"]))
        title = self.banner.currency()
        if title is not None and not signs and held is None:
            signs.append(title[0])
            if "currency" not in self.told:
                self._say(title[1], f"the amounts are in {title[0]}")
        currency, doubt = settle_currency(signs, self.own, self.told)
        if held is None or "currency" in self.told:
            self._ask(doubt)
            return currency
        return currency if signs and doubt is None else None

    def _tax(self) -> tuple[str, str | None]:
        columns = self.columns
        given = answer(self.told, "tax", ("net", "gross"))
        rate = self.told.get("tax_rate")
        places = [p for p, meaning in columns.meaning.items() if meaning in MONEY]
        said = [columns.says[place] for place in places]
        if rate is None:
            rate = next((f"{each.rate:f}" for each in said if each.rate is not None), None)
        taxes = {each.tax for each in said if each.tax}
        if given is not None or len(taxes) == 1:
            return given or taxes.pop(), rate
        title = self.banner.tax()
        if title is not None and not taxes and columns.kind != "printed":
            self._say(title[1], TAX_SAID[title[0]])
            return title[0], rate
        if columns.place("tax_pct") is not None:
            self._ask(
                Question(
                    name="tax",
                    asks="Are the prices net (before tax) or gross (with it)?",
                    choices=("net", "gross"),
                    proposed=None,
                    evidence="A column states the tax, and no heading says whether it is included.",
                )
            )
        return "", rate

    def _say(self, title: str, what: str) -> None:
        self.columns.remarks.append(f"Above the table stands {quoted(title)}: {what}.")

    def _price_kind(self) -> str | None:
        columns = self.columns
        given = answer(self.told, "kind", PRICE_KINDS)
        if given is not None or columns.kind == "printed":
            return given
        if columns.place("kind") is not None:
            return None
        if self.banner.kind is not None:
            return self.banner.kind
        bought = columns.place("total") is not None or columns.place("count") is not None
        bought = bought and columns.kind != "costed"
        proposed = "receipt" if bought else "shelf"
        why = "It has what was bought" if bought else "It has prices and no amounts bought"
        self._ask(
            Question(
                name="kind",
                asks="What kind of prices are these?",
                choices=PRICE_KINDS,
                proposed=proposed,
                evidence=f"{why}; no word in it says whose they are.",
                default=proposed,
            )
        )
        return proposed

    def _sender(self) -> str | None:
        given = self.told.get("sender")
        if given is not None:
            return " ".join(given.split()) or None
        if self.columns.kind == "printed" or self.columns.place("supplier") is not None:
            return None
        if "supplier" in self.banner.labelled:
            return " ".join(text_of(self.banner.labelled["supplier"]).split())
        if self.columns.kind == "costed":
            return None
        first = self._first_words()
        self._ask(
            Question(
                name="sender",
                asks="Whose prices are these: which shop or supplier?",
                choices=(),
                proposed=first,
                evidence="No column and no labelled line above the table names one.",
                default="",
            )
        )
        return None

    def _first_words(self) -> str | None:
        for row in self.columns.table.banner[:1]:
            for cell in row.cells:
                if isinstance(cell, str) and 2 < len(cell) < 60:
                    return cell
        return None

    def _unit(self) -> str | None:
        columns = self.columns
        given = self.told.get("unit")
        place = columns.place("unit_price")
        if given is not None or place is None or columns.says[place].per:
            return given
        if columns.place("unit") is not None or columns.place("price") or columns.place("total"):
            return None
        self._ask(
            Question(
                name="unit",
                asks=f"What is {quoted(columns.heading(place))} the price of?",
                choices=("1 kg", "1 l", "100 g", "100 ml"),
                proposed=None,
                evidence="Neither its heading nor a column of units says so.",
            )
        )
        return None

    def _price_for(self) -> None:
        """Ask whether a price beside a count is of one pack or of all of them."""
        columns = self.columns
        price, count = columns.place("price"), columns.place("count")
        if price is None or count is None or columns.place("total") is not None:
            return
        if columns.contents[count].different < 2 or columns.kind == "printed":
            return
        if columns.kind == "costed" and (columns.place("pack") or columns.place("amount")):
            return
        given = answer(self.told, "price for", ("one pack", "the line"))
        if given == "the line":
            columns.meaning[price] = "total"
        if given is not None or _EACH.search(fold(columns.heading(price))):
            return
        self._ask(
            Question(
                name="price for",
                asks=f"Is {quoted(columns.heading(price))} for one pack or for the whole line?",
                choices=("one pack", "the line"),
                proposed="one pack",
                evidence=f"{quoted(columns.heading(count))} says how many; no total is there.",
            )
        )

    def _state(self) -> str | None:
        """Ask whether costs that a price has to be made of are for what was bought."""
        columns = self.columns
        if columns.kind != "costed":
            return None
        given = answer(self.told, "state", ("as_purchased", "edible"))
        trimmed = columns.place("yield_pct") is not None or columns.place("trim_pct") is not None
        priced = columns.place("price") is not None or columns.place("unit_price") is not None
        if given is None and trimmed and not priced:
            self._ask(
                Question(
                    name="state",
                    asks="Are its quantities as purchased or edible (after trimming)?",
                    choices=("as_purchased", "edible"),
                    proposed=None,
                    evidence="A column states what trimming leaves, and none the price of a pack.",
                )
            )
        return given

    def _quantity_of(self) -> str | None:
        """Ask what quantities beside the cost of a portion are for."""
        columns = self.columns
        if columns.kind != "costed" or columns.place("amount") is None:
            return None
        given = answer(self.told, "quantity of", ("one portion", "the batch"))
        if given is not None or any(
            columns.place(each) is not None for each in ("total", "price", "unit_price")
        ):
            return given
        self._ask(
            Question(
                name="quantity of",
                asks="Are the quantities those of one portion or of the batch?",
                choices=("one portion", "the batch"),
                proposed=None,
                evidence="The costs are those of a portion, and no price of a pack stands there.",
            )
        )
        return None
