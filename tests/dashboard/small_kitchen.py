"""A small invented kitchen for the tests of the pages, with its figures worked out by pencil.

On 15 June 2026 barley is $1.00 and leek $2.00 a kg; on 24 November 2026 $2.00 and $3.00.
- barley bowl 1, four portions of 400 g barley and 600 g leek: in June 0.40 + 1.20 = $1.60, $0.40 a
  portion; in November 0.80 + 1.80 = $2.60, $0.65 a portion.
- barley bowl 2, from 1 October, with 400 g leek: in November 0.80 + 1.20 = $2.00, $0.50 a portion.
  From 1 in June to 2 in November: prices 100 × 0.001 + 150 × 0.001 = +$0.25 (0.40 → 0.65), the
  recipe (100 − 150) × 0.003 = −$0.15 (0.65 → 0.50), together +$0.10.
- saffron barley, two portions of 200 g barley and 1 g saffron, which has no price: at least $0.20.
- barley supper, two portions that take 2 portions of barley bowl.
"""

from __future__ import annotations

from pathlib import Path

from pricing.book.connect import Book
from tests.kitchen import make_book

FILES = {
    "ingredients": """
        ingredient,base,series
        pearl barley,g,
        leek,g,
        butter,g,us-bls:SS10011
        saffron,g,
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        barley bowl,1,2026-06-01,4,pearl barley,400,g
        barley bowl,1,2026-06-01,4,leek,600,g
        barley bowl,2,2026-10-01,4,pearl barley,400,g
        barley bowl,2,2026-10-01,4,leek,400,g
        saffron barley,1,2026-06-01,2,pearl barley,200,g
        saffron barley,1,2026-06-01,2,saffron,1,g
        barley supper,1,2026-06-01,2,dish:barley bowl,2,portion
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier,kind
        pearl barley,2026-06-10,1.00,USD,1 kg,Quay Market,
        leek,2026-06-10,2.00,USD,1 kg,Salt Lane,
        pearl barley,2026-11-10,2.00,USD,1 kg,Quay Market,
        leek,2026-11-10,3.00,USD,1 kg,Salt Lane,
        leek,2026-11-12,2.40,USD,1 kg,Salt Lane,offer
        butter,2015-01-15,2.00,USD,500 g,Quay Market,
    """,
    "printed": """
        dish,version,published_on,cost_per_portion,currency,where
        barley bowl,1,2026-06-15,0.40,USD,Harbour Sheet no. 7
    """,
}
JUNE, NOW, NOW_OLD_RECIPE = "$0.40", "$0.50", "$0.65"


def small_kitchen(folder: Path) -> Book:
    """Make the book."""
    return make_book(folder, FILES)
