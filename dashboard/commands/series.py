"""Commands about official series."""

from __future__ import annotations

from dashboard.commands.app import index
from dashboard.commands.data import load_files
from dashboard.commands.options import DryRun, Files, Json, Replace, SkipBad
from dashboard.terminal import answer, the_book


@index.command("list")
def index_list(json: Json = False) -> None:
    """List the official series of the book."""
    from dashboard.book_words import series_list_text
    from pricing.indices import list_series

    found = list_series(the_book())
    answer(
        {"series": [each.as_json() for each in found]},
        lambda: series_list_text(found),
        as_json=json,
    )


@index.command("show")
def index_show(series: str, json: Json = False) -> None:
    """Show one series: its ladder and its values."""
    from dashboard.book_words import series_text
    from pricing.indices import show_series

    found = show_series(the_book(), series)
    answer(found, lambda: series_text(found), as_json=json)


@index.command("load")
def index_load(
    files: Files,
    dry_run: DryRun = False,
    skip_bad: SkipBad = False,
    replace: Replace = False,
    json: Json = False,
) -> None:
    """Load official series from CSV files of the kind `index`."""
    load_files("index", files, dry_run, skip_bad, replace, False, json)
