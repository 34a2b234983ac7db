"""The price rule a question asks for: the book's own, with what the question says otherwise."""

from __future__ import annotations

from collections.abc import Sequence

from pricing.book.connect import Connection
from pricing.book.read import Settings
from pricing.contents.choices import find_supplier
from pricing.contents.settings import MARKETS
from pricing.errors import UnknownName
from pricing.prices.rule import Rule


def asked_rule(
    con: Connection,
    settings: Settings,
    *,
    basis: str = "bridged",
    market: str | None = None,
    supplier: str | None = None,
    not_supplier: Sequence[str] = (),
    region: str | None = None,
    offers: bool = False,
) -> Rule:
    """Return the rule of the book with the filters of a question.

    `market` is shop, trade or any (None: the book's); `supplier` keeps only its prices, whatever
    their market; `not_supplier` leaves suppliers out. Raises UnknownName with the nearest names.
    """
    if basis not in ("bridged", "observed"):
        raise UnknownName("basis", basis, remedy="Ask for bridged or observed.")
    if market is not None and market not in MARKETS:
        raise UnknownName("market", market, remedy="Ask for shop, trade or any.")
    return Rule.of(
        settings,
        basis=basis,
        market=market or settings.market,
        supplier=None if supplier is None else find_supplier(con, supplier),
        without=tuple(find_supplier(con, each) for each in not_supplier),
        region=region,
        offers=offers,
    )
