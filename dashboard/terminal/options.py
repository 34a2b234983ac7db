"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

Json = Annotated[bool, typer.Option("--json", help="Print one JSON object.")]
On = Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD.")]
From = Annotated[str, typer.Option("--from", help="First month, YYYY-MM.")]
To = Annotated[str, typer.Option("--to", help="Last month, YYYY-MM.")]
Files = Annotated[list[Path], typer.Argument(help="CSV files.")]
ChartFile = Annotated[
    Path | None,
    typer.Option(
        "--chart", help="Also draw it: FILE.svg, .pdf, .html or .png (2000 pixels wide, 300 ppi)."
    ),
]
DryRun = Annotated[bool, typer.Option("--dry-run", help="Check only; store nothing.")]
SkipBad = Annotated[bool, typer.Option("--skip-bad", help="Load the good rows, set others aside.")]
Replace = Annotated[bool, typer.Option("--replace", help="Let changed facts replace the book's.")]
Unusual = Annotated[
    bool, typer.Option("--accept-unusual", help="Take unusually high or low prices.")
]
Answers = Annotated[
    list[str] | None,
    typer.Option(
        "--answer", help="What a file does not say, NAME=VALUE: portions=4. May be repeated."
    ),
]
Port = Annotated[int, typer.Option("--port", help="The next free one is taken if it is in use.")]


Dishes = Annotated[list[str] | None, typer.Argument(help="All unless stated.")]
Market = Annotated[
    str | None,
    typer.Option("--market", help="Whose prices: shop, trade or any; the book's unless stated."),
]
Supplier = Annotated[str | None, typer.Option("--supplier", help="Only its prices, shop or trade.")]
NotSupplier = Annotated[
    list[str] | None, typer.Option("--not-supplier", help="Leave its prices out; may be repeated.")
]
RecipeDay = Annotated[
    str,
    typer.Option("--recipe-day", help="Date whose recipes count inside a dish, YYYY-MM-DD."),
]
Force = Annotated[bool, typer.Option("--force", help="Replace a file of that name.")]
