"""The small kitchen with two swaps, their figures worked out by pencil.

On 24 November 2026 a portion of barley bowl 2 takes 100 g of barley at 0.002 and 100 g of leek at
0.003: $0.50. Celeriac (2.50 a kg in June, dearer than leek at 2.00; 1.00 since 10 November) for
leek saves 100 × 0.002 = $0.20 and adds celery; oats at 1.50 a kg for barley save 100 × 0.0005 =
$0.05, add oats and remove barley.
"""

from __future__ import annotations

from pricing.book.connect import Book
from tests.kitchen import load

FILES = {
    "ingredients": """
        ingredient,base,allergens
        pearl barley,g,barley
        leek,g,none
        celeriac,g,celery
        oats,g,oats
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier
        celeriac,2026-06-10,2.50,USD,1 kg,Salt Lane
        celeriac,2026-11-10,1.00,USD,1 kg,Salt Lane
        oats,2026-11-10,1.50,USD,1 kg,Quay Market
    """,
    "swaps": """
        ingredient,substitute,ratio,note
        leek,celeriac,1,roast it first
        pearl barley,oats,1,
    """,
}


def add_swaps(book: Book) -> None:
    """Put the swaps and what they need into the small kitchen."""
    for kind, text in FILES.items():
        report = load(book, kind, text, replace=kind == "ingredients", accept_unusual=True)
        assert report.problems == (), [problem.sentence() for problem in report.problems]
