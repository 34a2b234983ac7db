"""Commands about official series: what the book holds, and getting more in."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dashboard.commands.app import index
from dashboard.commands.data import load_files, print_reports
from dashboard.commands.options import DryRun, Files, Json, Replace, SkipBad
from dashboard.terminal import answer, remark, the_book


@index.command("list")
def index_list(json: Json = False) -> None:
    """List the official series of the book."""
    from dashboard.series_words import series_json, series_list_text
    from pricing.contents.series import list_series

    found = list_series(the_book())
    answer(
        {"series": [series_json(each) for each in found]},
        lambda: series_list_text(found),
        as_json=json,
    )


@index.command("show")
def index_show(
    series: str,
    chart: Annotated[
        Path | None, typer.Option("--chart", help="Also draw it: FILE.svg, .png or .html.")
    ] = None,
    json: Json = False,
) -> None:
    """Show one series: its ladder, its values, what was revised."""
    from dashboard.series_words import series_text
    from pricing.contents.series import show_series

    if chart is not None:
        from dashboard.charts.save import refuse_format

        refuse_format(chart)
    found = show_series(the_book(), series)
    if chart is not None and found.months:
        from dashboard.charts.index_series import save_series_chart

        save_series_chart(found, chart)
        remark(f"Drew {chart}.")
    answer(found, lambda: series_text(found), as_json=json)


@index.command("load")
def index_load(
    files: Files,
    dry_run: DryRun = False,
    skip_bad: SkipBad = False,
    replace: Replace = False,
    series: Annotated[
        list[str] | None, typer.Option("--series", help="Only these series, items or countries.")
    ] = None,
    title: Annotated[
        str | None, typer.Option("--title", help="Of a file of dates and values alone.")
    ] = None,
    json: Json = False,
) -> None:
    """Load official series: files of statistics offices, or CSV of the kind `index`."""
    load_files("index", files, dry_run, skip_bad, replace, False, json, series or (), title)


@index.command("fetch")
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
    from dashboard.series_words import fetched_text
    from ingest.offices.asking.fetch import fetch
    from pricing.clock import today

    found = fetch(the_book(), office, ids, today=today(), since=since, dry_run=dry_run, tell=remark)
    sent = [each.as_json() for each in found.answers]
    kept = found.report.batch is not None
    print_reports(
        [found.report],
        json,
        dry_run=dry_run,
        more={"fetched": sent},
        after=f"\n{fetched_text(sent)}" if kept else "",
    )
