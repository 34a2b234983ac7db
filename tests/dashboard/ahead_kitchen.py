"""An invented kitchen whose series step to and fro, so that its outlook is worked out by pencil.

The long series is 100 for four months, 110 for the next four, and so on for 40 years. Whatever the
month, the cost four months on is × 1.1 or ÷ 1.1, one as often as the other: the mean of the changes
is none, and all past forecasts missed by the same, so that both ranges reach from ÷ 1.1 to × 1.1.
The short series does the same and has but its last 24 months. Those hold 20 changes over
four months; the other 220 of the 240 behind the middle come from the long one, its parent.
A portion of soup is 1 kg of leek at $8.00 and 1 kg of salt at $3.00: $11.00, so that it may come to
$10.00 to $12.10.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from pricing.book.connect import Book
from tests.kitchen import make_book

_MONTHS = [date(1986 + (8 + at) // 12, (8 + at) % 12 + 1, 1) for at in range(480)]  # to August 2026


def _row(series: str, at: int, title: str, parent: str) -> str:
    return f"{series},{_MONTHS[at]:%Y-%m},{100 if at % 8 < 4 else 110},{title},{parent}"


FILES = {
    "index": "\n".join(
        [
            "series,month,value,title,parent",
            *(_row("t:long", at, "Vegetables", "") for at in range(480)),
            *(_row("t:short", at, "Salt", "t:long") for at in range(456, 480)),
        ]
    ),
    "ingredients": """
        ingredient,base,series
        leek,g,t:long
        salt,g,t:short
        sage,g,
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier
        leek,2026-11-10,8.00,USD,1 kg,Quay Market
        salt,2026-11-10,3.00,USD,1 kg,Quay Market
    """,
    "dishes": """
        dish,version,effective_from,portions,batch_weight_g,target,ingredient,quantity,unit
        soup,1,2020-01-01,4,8000,11.00,leek,4,kg
        soup,1,2020-01-01,4,8000,11.00,salt,4,kg
    """,
    "printed": """
        dish,version,published_on,cost_per_portion,currency
        soup,1,2026-11-15,11.00,USD
    """,
}


def ahead_kitchen(folder: Path) -> Book:
    """Make the book, with no other series."""
    return make_book(folder, FILES, series=())
