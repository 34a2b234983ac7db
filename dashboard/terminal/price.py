"""The command that logs one price by hand."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.terminal.options import DryRun, Json, Unusual
from dashboard.terminal.output import the_book
from dashboard.terminal.reports import print_reports


def price(
    ingredient: str,
    price: Annotated[str, typer.Argument(help="For the whole pack.")],
    pack: Annotated[str, typer.Option("--pack", help='Such as "500 g" or "6 x 330 ml".')],
    on: Annotated[str, typer.Option("--on", help="Date seen; today unless stated.")] = "",
    currency: Annotated[str, typer.Option("--currency", help="The book's unless stated.")] = "",
    supplier: Annotated[str, typer.Option("--supplier")] = "",
    kind: Annotated[
        str, typer.Option("--kind", help="shelf, offer, receipt, invoice, quote.")
    ] = "",
    product: Annotated[str, typer.Option("--product")] = "",
    tax_pct: Annotated[str, typer.Option("--tax-pct", help="Added to reach what is paid.")] = "",
    region: Annotated[str, typer.Option("--region")] = "",
    note: Annotated[str, typer.Option("--note")] = "",
    dry_run: DryRun = False,
    accept_unusual: Unusual = False,
    json: Json = False,
) -> None:
    """Log one price by hand."""
    from ingest.load import add_price, preview_price
    from pricing.clock import today
    from pricing.contents.settings import book_settings

    book = the_book()
    day = today()
    fields = {
        "ingredient": ingredient, "date": on or day.isoformat(), "price": price, "pack": pack,
        "currency": currency or book_settings(book).currency, "supplier": supplier, "kind": kind,
        "product": product, "tax_pct": tax_pct, "region": region, "note": note,
    }  # fmt: skip
    seen = preview_price(book, fields, today=day)
    # problems are told with the report
    before = "" if isinstance(seen, tuple) else "\n".join([*seen.sentences, ""])
    report = add_price(book, fields, today=day, dry_run=dry_run, accept_unusual=accept_unusual)
    print_reports([report], json, dry_run=dry_run, before=before)
