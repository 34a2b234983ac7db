"""The command that lists the dishes of the book."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, the_book
from dashboard.terminal.text_table import text_table
from dashboard.words.figures import counted, plain_number

if TYPE_CHECKING:
    from pricing.contents.choices import ListedDish


def dishes(json: Json = False) -> None:
    """List the dishes of the book, with their versions."""
    from pricing.contents.choices import list_dishes

    found = list_dishes(the_book())
    answer({"dishes": [each.as_json() for each in found]}, lambda: dishes_text(found), as_json=json)


def dishes_text(found: Sequence[ListedDish]) -> str:
    """Return a line for each version of each dish, the earliest first."""
    if not found:
        return "The book has no dishes. Load them with `portiondrift load dishes FILE`."
    rows = [
        [
            each.dish if version is each.versions[0] else "",
            version.version,
            version.effective_from.isoformat(),
            plain_number(version.portions),
        ]
        for each in found
        for version in each.versions
    ]
    table = text_table(["Dish", "Version", "From", "Portions"], rows, right=(3,))
    return f"{table}\n\n{counted(len(found), 'dish', 'dishes')}"
