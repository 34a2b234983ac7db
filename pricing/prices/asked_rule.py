"""The price rule a question asks for: the book's own, with what the question says otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypedDict, Unpack

from pricing.book.connect import Connection
from pricing.book.read import Settings
from pricing.contents.choices import find_supplier
from pricing.contents.settings import MARKETS
from pricing.errors import UnknownName
from pricing.prices.rule import Rule


class Filters(TypedDict, total=False):
    """What a question says of the prices that shall count; left out: as the book has it."""

    basis: str  # bridged or observed
    market: str | None  # shop, trade or any; None: the book's
    supplier: str | None  # only its prices count, whatever their market
    not_supplier: Sequence[str]  # whose prices do not count
    region: str | None  # only prices from there
    offers: bool  # offers count, too


def asked_rule(con: Connection, settings: Settings, **filters: Unpack[Filters]) -> Rule:
    """Return the rule of the book with the filters of a question.

    Raises UnknownName with the nearest names.
    """
    basis, market = filters.get("basis", "bridged"), filters.get("market")
    supplier = filters.get("supplier")
    if basis not in ("bridged", "observed"):
        raise UnknownName("basis", basis, remedy="Ask for bridged or observed.")
    if market is not None and market not in MARKETS:
        raise UnknownName("market", market, remedy="Ask for shop, trade or any.")
    return Rule.of(
        settings,
        basis=basis,
        market=market or settings.market,
        supplier=None if supplier is None else find_supplier(con, supplier),
        without=tuple(find_supplier(con, each) for each in filters.get("not_supplier", ())),
        region=filters.get("region"),
        offers=filters.get("offers", False),
    )
