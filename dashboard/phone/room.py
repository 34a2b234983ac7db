"""What the phone's room asks of the book: what to log, what was bought last, what dishes cost."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from ingest.load import FileReport, PricePreview, add_price, preview_price
from pricing.book.connect import Book
from pricing.contents.choices import list_ingredients
from pricing.dishes.on_a_day import DishesOnADay, cost_dishes
from pricing.errors import Problem
from pricing.prices.history import price_history

OFFERED = 4  # packs, and shops, of which each is one tap
KINDS = ("shelf", "offer", "receipt")
_COMMA = re.compile(r"\d+,\d{1,2}")  # as a decimal pad writes it; 1,234 stays for the checks


@dataclass(frozen=True, kw_only=True)
class Offers:
    """What was bought last of an ingredient, the newest first."""

    ingredient: str
    currency: str
    packs: tuple[str, ...]
    shops: tuple[str, ...]


def ingredients_to_log(book: Book) -> list[str]:
    """Return every ingredient, those whose price was logged last first."""
    listed = sorted(list_ingredients(book), key=lambda each: each.ingredient.casefold())
    listed.sort(key=lambda each: each.last_on or date.min, reverse=True)
    return [each.ingredient for each in listed]


def offers(book: Book, ingredient: str, today: date) -> Offers:
    """Return the packs and shops to tap. Raises UnknownName, BookUnreadable."""
    history = price_history(book, ingredient, on=today)
    return Offers(
        ingredient=history.facts.ingredient,
        currency=history.currency,
        packs=_first_few(each.pack for each in history.observations),
        shops=_first_few(each.supplier for each in history.observations),
    )


def _first_few(found: Iterable[str | None]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(each for each in found if each))[:OFFERED]


def fields_of(form: Mapping[str, str], currency: str, today: date) -> dict[str, str]:
    """Return what was tapped and typed, named as the columns of a prices file.

    What is written beside the taps counts before a tap.
    """
    price = form.get("price", "").strip()
    kind = form.get("kind", "")
    return {
        "ingredient": form.get("ingredient", ""),
        "date": today.isoformat(),
        "price": price.replace(",", ".") if _COMMA.fullmatch(price) else price,
        "currency": currency,
        "pack": form.get("other_pack", "").strip() or form.get("pack", ""),
        "supplier": form.get("other_shop", "").strip() or form.get("shop", ""),
        "kind": kind if kind in KINDS else KINDS[0],
    }


def store(
    book: Book, fields: Mapping[str, str], today: date, *, right: bool
) -> FileReport | PricePreview | tuple[Problem, ...]:
    """Store a price; return the report, else what must be looked at first.

    An unusual price is a preview, until `right` says that it is as it stands on the shelf.
    """
    seen = preview_price(book, fields, today=today)
    if not isinstance(seen, PricePreview):
        return seen
    if seen.unusual and not right:
        return seen
    report = add_price(book, fields, today=today, accept_unusual=seen.unusual)
    return report.problems or report


def dishes_today(book: Book, today: date) -> DishesOnADay:
    """Return what a portion of each dish costs today."""
    return cost_dishes(book, on=today)
