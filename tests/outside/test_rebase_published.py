"""Amounts and indices moved by official figures, against published worked examples."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pricing.book.connect import Book
from pricing.money import round_money
from pricing.series.rebase import rebase
from tests.kitchen import make_book

# (source, index then, index now, amount, published or derived result, digits it is printed with)
EXAMPLES = [
    # ONS, Consumer Prices Indices Technical Manual 2019, table 7: 4.7 %
    ("ons-table-7", 129.9, 136.0, 100.0, 104.7, 1),
    # BLS, "Math calculations to better utilize CPI data" (Perrins, Nilsen): 0.4 %
    ("bls-math", 239.261, 240.236, 100.0, 100.4, 1),
    # the same page before its last rounding: 0.4075 %
    ("bls-math-long", 239.261, 240.236, 100.0, 100.4075, 4),
    # Alaska Department of Labor, CPI page, BLS method: 2.22859 % (cut there, not rounded:
    # 2.228599), and 3.2197 %
    ("alaska-1", 201.427, 205.916, 100.0, 102.22859, 4),
    ("alaska-2", 195.144, 201.427, 100.0, 103.2197, 4),
    # Open University, "Prices, location and spread", exercise 23: ratio 1.034
    ("open-university-23", 117.8, 121.8, 1.0, 1.034, 3),
    # exercise 12: £800 index-linked; inputs published, answer by hand: 800 × 234.4 / 222.8 = 841.65
    ("open-university-12", 222.8, 234.4, 800.0, 841.65, 2),
    # a published homework page: £265 becomes £278.25
    ("index-linked-265", 208.0, 218.4, 265.0, 278.25, 2),
    # ABS 6401.0 September 2012, appendix 1: 180.4 on 1989-90 = 100 is 100.4 on 2011-12 = 100,
    # whose year mean is 179.7
    ("abs-appendix-1", 179.7, 100.0, 180.4, 100.4, 1),
    # ABS 6461.0 (2011) §12.3: mean of the year 185.6; March 1989 177.0 becomes 95.4
    ("abs-6461", 185.6, 100.0, 177.0, 95.4, 1),
]


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    rows = ["series,month,value"]
    for name, then, now, *_ in EXAMPLES:
        rows += [f"{name},2016-04,{then}", f"{name},2016-05,{now}"]
    folder: Path = tmp_path_factory.mktemp("published")
    return make_book(folder, {"index": "\n".join(rows)}, currency="GBP")


@pytest.mark.parametrize("example", EXAMPLES, ids=[each[0] for each in EXAMPLES])
def test_published_example(
    book: Book, example: tuple[str, float, float, float, float, int]
) -> None:
    name, then, now, amount, published, digits = example
    moved = rebase(book, amount, start=date(2016, 4, 1), end=date(2016, 5, 1), series=name)
    assert moved.result == pytest.approx(published, abs=0.5 * 10**-digits * (1 + 1e-9))
    assert moved.factor == pytest.approx(now / then, rel=1e-15)


def test_money_is_rounded_once_at_the_end(book: Book) -> None:
    # Open University exercise 12, as printed money
    moved = rebase(
        book, 800.0, start=date(2016, 4, 1), end=date(2016, 5, 1), series="open-university-12"
    )
    assert str(round_money(moved.result, "GBP")) == "841.65"


def test_united_kingdom_2011_rates_recomputed_from_rounded_indices(tmp_path: Path) -> None:
    # ONS statistical bulletin Consumer Price Indices March 2012: index to one decimal and the
    # published one-month rates, which come from unrounded indices: so allow 0.1 either way.
    index = [
        118.1,
        119.3,
        119.5,
        119.4,
        119.4,
        120.1,
        120.9,
        121.0,
        121.2,
        121.7,
        121.1,
        121.8,
        122.2,
    ]
    rates = [1.0, 0.2, -0.1, 0.0, 0.6, 0.6, 0.1, 0.2, 0.4, -0.5, 0.6, 0.3]
    months = [date(2011, 3, 1), *(date(2011, m, 1) for m in range(4, 13))]
    months += [date(2012, m, 1) for m in range(1, 4)]
    rows = [f"uk,{m:%Y-%m},{v}" for m, v in zip(months, index, strict=True)]
    book = make_book(tmp_path, {"index": "\n".join(["series,month,value", *rows])}, currency="GBP")
    off = []
    for before, after, published in zip(months[:-1], months[1:], rates, strict=True):
        moved = rebase(book, 100.0, start=before, end=after, series="uk")
        assert round(moved.result - 100, 1) == pytest.approx(published, abs=0.1 + 1e-9)
        off.append(abs(round(moved.result - 100, 1) - published) > 0.05)
    assert off.count(True) == 1  # September 2011: 0.666 rounds to 0.7, published 0.6
