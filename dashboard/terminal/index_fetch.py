"""The command that fetches official series over the net."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Any

import typer

from dashboard.terminal.options import DryRun, Json
from dashboard.terminal.output import remark, the_book
from dashboard.terminal.reports import print_reports


def index_fetch(
    office: Annotated[str, typer.Argument(help="Such as uk-ons, eu-hicp, us-bls, ca-statcan.")],
    ids: Annotated[
        list[str], typer.Argument(help="The office's names, or `food` for its food ladder.")
    ],
    since: Annotated[int | None, typer.Option("--since", help="First year asked for.")] = None,
    dry_run: DryRun = False,
    json: Json = False,
) -> None:
    """Fetch official series over the net; what came is kept to the byte.

    A free key of your own for us-bls, in PORTIONDRIFT_BLS_KEY, gives more of them at a time.
    """
    from ingest.offices.asking.fetch import fetch
    from pricing.clock import today

    found = fetch(the_book(), office, ids, today=today(), since=since, dry_run=dry_run, tell=remark)
    sent = [each.as_json() for each in found.answers]
    kept = found.report.load is not None
    print_reports(
        [found.report],
        json,
        dry_run=dry_run,
        more={"fetched": sent},
        after=f"\n{fetched_text(sent)}" if kept else "",
    )


def fetched_text(fetched: Sequence[Mapping[str, Any]]) -> str:
    """Return what was asked for and what came."""
    lines = [
        f"  {each['url']}\n  {each['size_bytes']:,} bytes, SHA-256 {each['sha256'][:16]}…"
        for each in fetched
    ]
    return "\n".join(["Kept as received:", *lines])
