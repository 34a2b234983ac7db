"""The command that changes a setting of the book."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, the_book


def setting(
    name: Annotated[
        str,
        typer.Argument(help="Such as fresh_days, food_series, allergen_list, rate_per_hour."),
    ],
    value: str,
    json: Json = False,
) -> None:
    """Change a setting of the book."""
    from pricing.contents.settings import change_setting

    change_setting(the_book(), name, value)
    answer({name: value}, lambda: f"{name} is now {value}.", as_json=json)
