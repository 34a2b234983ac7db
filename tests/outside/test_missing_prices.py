"""A price not seen is moved as the others moved, not carried forward: the index manual's advice.

CPI Manual: Concepts and Methods (IMF, ILO, OECD, UNECE, Eurostat, World Bank 2020), on missing
prices, as others quote it: to carry the last price forward is no acceptable procedure (section
8.54); to impute it by the average movement of the prices that are there gives the same index as to
leave the item out that month, and keeps it in the sample (section 8.55). An example of our own,
worked by hand, three items over three months:

    A  4.00  4.40  4.40        B  5.00  5.00  5.50        C  2.00  not seen  2.40

The others move by √(1.10 × 1.00) = 1.0488088 in the second month, so C is imputed at 2.097618.
The index of all three (Jevons) is then 104.8809; carrying C forward it would be 103.2280. When C is
seen again it is 113.2371 either way: ∛(1.10 × 1.10 × 1.20).
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from pricing.book.connect import Book
from tests.kitchen import load, make_book

# a month of the example is two here, so that no price is fresh any more in the next
FIRST, SECOND, THIRD = date(2020, 1, 10), date(2020, 3, 10), date(2020, 5, 10)
FILES = {
    "index": """
        series,month,value,title
        own:others,2020-01,100,A and B
        own:others,2020-03,104.8809,A and B
        own:others,2020-05,110,A and B
    """,
    "ingredients": """
        ingredient,base,series
        a,each,own:others
        b,each,own:others
        c,each,own:others
    """,
    "prices": """
        ingredient,date,price,currency,pack
        a,2020-01-10,4.00,USD,1 each
        a,2020-03-10,4.40,USD,1 each
        a,2020-05-10,4.40,USD,1 each
        b,2020-01-10,5.00,USD,1 each
        b,2020-03-10,5.00,USD,1 each
        b,2020-05-10,5.50,USD,1 each
        c,2020-01-10,2.00,USD,1 each
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        all,1,2019-01-01,1,a,1,each
        all,1,2019-01-01,1,b,1,each
        all,1,2019-01-01,1,c,1,each
    """,
}
RETURN = "ingredient,date,price,currency,pack\nc,2020-05-10,2.40,USD,1 each"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES, series=())


def unit_prices(book: Book, on: date, basis: str = "bridged") -> dict[str, float]:
    lines = pricing.cost_dish(book, "all", on=on, basis=basis).lines
    return {line.ingredient: line.unit_price for line in lines if line.unit_price is not None}


def jevons(book: Book, on: date, basis: str = "bridged") -> float:
    """The unweighted geometric mean of the price relatives since the first month, as an index."""
    first, now = unit_prices(book, FIRST), unit_prices(book, on, basis)
    product = 1.0
    for item, price in now.items():
        product *= price / first[item]
    return 100 * product ** (1 / len(now))


def test_a_missing_price_moves_as_the_others_did(book: Book) -> None:
    assert unit_prices(book, SECOND)["c"] == pytest.approx(2.097618, abs=5e-7)
    assert jevons(book, SECOND) == pytest.approx(104.8809, abs=5e-5)  # as of A and B alone


def test_carried_forward_it_would_hide_part_of_the_rise(book: Book) -> None:
    # basis `observed` holds the last price: what the manual warns of, and only when asked for
    assert unit_prices(book, SECOND, "observed")["c"] == 2.00
    assert jevons(book, SECOND, "observed") == pytest.approx(103.2280, abs=5e-5)


def test_seen_again_nothing_is_left_of_the_imputation(book: Book) -> None:
    assert load(book, "prices", RETURN).added == 1
    assert unit_prices(book, THIRD)["c"] == pytest.approx(2.40)
    assert jevons(book, THIRD) == pytest.approx(113.2371, abs=5e-5)
    # With the later price known, the months between bend towards it. Of 121 days to 10 May, 60 were
    # gone on 10 March, the first 45 of them fresh: 15 of 76. The others rose to 110 by then.
    bend = ((2.40 / 2.00) / (110 / 100)) ** (15 / 76)
    assert unit_prices(book, SECOND)["c"] == pytest.approx(2.00 * 1.048809 * bend)
