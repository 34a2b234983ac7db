"""The commands: each reads its arguments, calls one function, prints one answer."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard import terminal
from dashboard.terminal import CHOSEN, answer, book_path, read_date, remark, stop, the_book
from pricing.errors import PortionDriftError

if TYPE_CHECKING:
    from ingest.report import FileReport

app = typer.Typer(
    name="portiondrift",
    help="What did this dish cost then, what does it cost now, and why.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
index = typer.Typer(help="Official price series: list, show, load.", no_args_is_help=True)
app.add_typer(index, name="index")

Json = Annotated[bool, typer.Option("--json", help="Print one JSON object.")]
On = Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD.")]
From = Annotated[str, typer.Option("--from", help="First month, YYYY-MM.")]
To = Annotated[str, typer.Option("--to", help="Last month, YYYY-MM.")]


@app.callback()
def options(
    book: Annotated[
        Path | None, typer.Option("--book", help="The price book; else $PORTIONDRIFT_BOOK.")
    ] = None,
    json: Json = False,
) -> None:
    """Options for every command."""
    CHOSEN.book, CHOSEN.json = book, json


# the book --------------------------------------------------------------------------------------
@app.command()
def init(
    currency: Annotated[str, typer.Option("--currency", help="ISO 4217, such as USD.")],
    measures: Annotated[str, typer.Option("--measures", help="metric, uk, us or au.")] = "metric",
    json: Json = False,
) -> None:
    """Make a new, empty book with the bundled official series."""
    from ingest.official.load_bundled import create_book
    from pricing.book.read import book_settings

    book = create_book(book_path(), currency, measures)
    held = book_settings(book)
    answer(
        {"book": str(book.path), "currency": held.currency, "measures": held.measures},
        lambda: f"Made the price book {book.path}: {held.currency}, {held.measures} measures.",
        as_json=json,
    )


@app.command()
def info(json: Json = False) -> None:
    """Say what the book holds."""
    from dashboard.book_words import info_text
    from pricing.book.info import info as book_info

    found = book_info(the_book())
    answer(found, lambda: info_text(found), as_json=json)


@app.command()
def check(
    upgrade: Annotated[
        bool, typer.Option("--upgrade", help="Bring an older book's structure up to date first.")
    ] = False,
    json: Json = False,
) -> None:
    """Look through every row of the book for damage."""
    from dashboard.book_words import check_text
    from pricing.book.check import check as check_book
    from pricing.book.connect import Book

    found = check_book(Book(path=book_path()), upgrade=upgrade)
    whole = {"problems": list(found.problems), "counts": found.counts}
    answer(whole, lambda: check_text(found), as_json=json)
    if found.problems:
        stop(1)


@app.command()
def backup(
    file: Annotated[Path, typer.Argument(help="A file that is not there yet.")], json: Json = False
) -> None:
    """Copy the book to FILE."""
    from pricing.book.archive import backup as copy_book

    made = copy_book(the_book(), file)
    answer({"backup": str(made)}, lambda: f"Copied the book to {made}.", as_json=json)


@app.command()
def restore(
    file: Annotated[Path, typer.Argument(help="A file made by backup.")],
    replace: Annotated[
        bool, typer.Option("--replace", help="Set the present book aside first.")
    ] = False,
    json: Json = False,
) -> None:
    """Bring the book back from FILE."""
    from pricing.book.archive import restore as bring_back

    kept = bring_back(book_path(), file, replace=replace)
    aside = f" The former book is kept as {kept}." if kept else ""
    answer(
        {"book": str(book_path()), "kept": str(kept) if kept else None},
        lambda: f"Brought back {book_path()} from {file}.{aside}",
        as_json=json,
    )


@app.command()
def export(
    folder: Annotated[Path, typer.Argument(help="An empty or new folder.")], json: Json = False
) -> None:
    """Write everything as CSV files that `load` reads."""
    from pricing.book.export import export as write_out

    made = write_out(the_book(), folder)
    names = [str(path) for path in made]
    answer({"files": names}, lambda: "\n".join(["Wrote:", *names]), as_json=json)


# getting data in -------------------------------------------------------------------------------
def _report(reports: list[FileReport], as_json: bool, *, dry_run: bool, said: str = "") -> None:
    from dashboard.load_words import report_text

    for report in reports:
        for sentence in report.remarks:
            remark(f"{report.file}: {sentence}")
    whole = {"files": [report.as_json() for report in reports]}
    answer(
        whole,
        lambda: said + "\n".join(report_text(each, dry_run=dry_run) for each in reports),
        as_json=as_json,
    )
    if any(report.problems for report in reports):
        stop(1)


def _load(
    kind: str, files: list[Path], dry_run: bool, skip_bad: bool, replace: bool, unusual: bool,
    json: bool,
) -> None:  # fmt: skip
    from ingest.load import load_file
    from pricing.clock import today

    book = the_book()
    day = today()
    _report(
        [
            load_file(
                book, kind, file, today=day, dry_run=dry_run, skip_bad=skip_bad,
                replace=replace, accept_unusual=unusual,
            )
            for file in files
        ],
        json,
        dry_run=dry_run,
    )  # fmt: skip


Files = Annotated[list[Path], typer.Argument(help="CSV files.")]
DryRun = Annotated[bool, typer.Option("--dry-run", help="Check only; store nothing.")]
SkipBad = Annotated[bool, typer.Option("--skip-bad", help="Load the good rows, set others aside.")]
Replace = Annotated[bool, typer.Option("--replace", help="Let changed facts replace the book's.")]
Unusual = Annotated[
    bool, typer.Option("--accept-unusual", help="Take unusually high or low prices.")
]


@app.command()
def load(
    kind: Annotated[
        str,
        typer.Argument(help="ingredients, measures, prices, dishes, claims, swaps or index."),
    ],
    files: Files,
    dry_run: DryRun = False,
    skip_bad: SkipBad = False,
    replace: Replace = False,
    accept_unusual: Unusual = False,
    json: Json = False,
) -> None:
    """Load CSV files: all or nothing per file, every problem listed."""
    _load(kind, files, dry_run, skip_bad, replace, accept_unusual, json)


@app.command()
def undo(
    batch: Annotated[int, typer.Argument(help="The number that load printed; see info.")],
    json: Json = False,
) -> None:
    """Retract what a load added."""
    from ingest.load import undo as take_back

    count = take_back(the_book(), batch)
    answer(
        {"batch": batch, "retracted": count},
        lambda: f"Retracted batch {batch}: {count:,} stored rows no longer count.",
        as_json=json,
    )


@app.command()
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
    from pricing.book.read import book_settings
    from pricing.clock import today

    book = the_book()
    day = today()
    fields = {
        "ingredient": ingredient, "date": on or day.isoformat(), "price": price, "pack": pack,
        "currency": currency or book_settings(book).currency, "supplier": supplier, "kind": kind,
        "product": product, "tax_pct": tax_pct, "region": region, "note": note,
    }  # fmt: skip
    understood = preview_price(book, fields, today=day)
    said = "" if isinstance(understood, tuple) else "\n".join([*understood.sentences, ""])
    report = add_price(book, fields, today=day, dry_run=dry_run, accept_unusual=accept_unusual)
    _report([report], json, dry_run=dry_run, said=said)


# answers ---------------------------------------------------------------------------------------
@app.command()
def cost(
    dish: str,
    on: On,
    version: Annotated[str | None, typer.Option("--version")] = None,
    basis: Annotated[str, typer.Option("--basis", help="bridged or observed.")] = "bridged",
    supplier: Annotated[str | None, typer.Option("--supplier")] = None,
    region: Annotated[str | None, typer.Option("--region")] = None,
    offers: Annotated[bool, typer.Option("--offers", help="Let offers count.")] = False,
    json: Json = False,
) -> None:
    """Cost a dish at the prices of a date."""
    from dashboard.answers import cost_text
    from pricing.book.read import book_settings
    from pricing.costing import cost_dish

    book = the_book()
    found = cost_dish(
        book, dish, on=read_date(on), version=version, basis=basis, supplier=supplier,
        region=region, offers=offers,
    )  # fmt: skip
    answer(found, lambda: cost_text(found, book_settings(book).measures), as_json=json)
    if not found.complete:
        stop(1)


@app.command()
def drift(
    start: From,
    end: To,
    dishes: Annotated[list[str] | None, typer.Argument(help="All unless stated.")] = None,
    version: Annotated[str | None, typer.Option("--version")] = None,
    chart: Annotated[
        Path | None, typer.Option("--chart", help="Also draw it: FILE.svg, .png or .html.")
    ] = None,
    json: Json = False,
) -> None:
    """Cost per portion on the 15th of each month."""
    from dashboard.answers import drift_text
    from pricing.monthly import drift_points

    if chart is not None:
        from dashboard.charts.save import refuse_format

        refuse_format(chart)
    book = the_book()
    found = drift_points(book, dishes, start=start, end=end, version=version)
    for sentence in found.remarks:
        remark(sentence)
    if chart is not None and found.dishes:
        from dashboard.charts.save import save_drift_chart

        save_drift_chart(found, chart)
        remark(f"Drew {chart}.")
    answer(found, lambda: drift_text(found), as_json=json)
    if not all(point.complete for dish in found.dishes for point in dish.points):
        stop(1)


@app.command()
def compare(
    dish: str,
    then: Annotated[str, typer.Option("--then", help="DATE or DATE@VERSION.")],
    now: Annotated[str, typer.Option("--now", help="DATE or DATE@VERSION.")],
    json: Json = False,
) -> None:
    """Then and now: what is prices, what is the recipe."""
    from dashboard.answers import compare_text
    from pricing.change import compare as compare_dish

    found = compare_dish(the_book(), dish, then=_when(then), now=_when(now))
    answer(found, lambda: compare_text(found), as_json=json)
    if not found.complete:
        stop(1)


def _when(text: str) -> object:
    day, at, version = text.partition("@")
    return (read_date(day), version) if at else read_date(day)


@app.command()
def rebase(
    amount: str,
    start: From,
    end: To,
    series: Annotated[str, typer.Option("--series", help="Such as us-bls:SAF11.")],
    json: Json = False,
) -> None:
    """Move an amount from one month to another by an official series."""
    from dashboard.answers import rebase_text
    from pricing.book.read import book_settings
    from pricing.indices import rebase as move
    from pricing.measures import read_number
    from pricing.monthly import read_month

    book = the_book()
    found = move(
        book,
        float(read_number(amount)),
        start=read_month(start),
        end=read_month(end),
        series=series,
    )
    answer(found, lambda: rebase_text(found, book_settings(book).currency), as_json=json)


# official series -------------------------------------------------------------------------------
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
    _load("index", files, dry_run, skip_bad, replace, False, json)


# the dashboard ---------------------------------------------------------------------------------
Port = Annotated[int, typer.Option("--port", help="The next free one is taken if it is in use.")]


@app.command()
def serve(port: Port = 8501) -> None:
    """Open the web dashboard on this computer."""
    from dashboard.server import serve as run

    run(the_book().path, port)


@app.command()
def demo(
    no_serve: Annotated[bool, typer.Option("--no-serve", help="Stop after the table.")] = False,
    port: Port = 8501,
    json: Json = False,
) -> None:
    """Build the invented demo kitchen, print then and now, open the dashboard."""
    from dashboard.demo import demo_path, make_demo, then_and_now

    named = CHOSEN.book is not None or "PORTIONDRIFT_BOOK" in os.environ
    path = demo_path(book_path() if named else None)
    book = make_demo(path)
    table, text = then_and_now(book)
    answer({"book": str(path), "dishes": table}, lambda: text, as_json=json)
    if not no_serve:
        from dashboard.server import serve as run

        run(path, port)


def main() -> None:
    """Run a command; an error a user can mend is one sentence and an exit status."""
    try:
        app()
    except PortionDriftError as error:
        sys.exit(terminal.refused(error))
    except KeyboardInterrupt:
        sys.exit(130)
    except BrokenPipeError:
        sys.exit(1)


if __name__ == "__main__":
    main()
