"""An amount in the base unit comes to the same in the book's form of the rule and in Python's."""

from __future__ import annotations

from decimal import Decimal

import pytest

from pricing.book.connect import Book, reading
from pricing.measures.quantities import IngredientFacts, Quantity, in_base
from tests.kitchen import make_book


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("in_base"), series=())


@pytest.mark.parametrize(
    ("amount", "dimension", "base", "expected"),
    [  # 2 g a ml, 50 g each, a bunch of 30 g
        ("7", "g", "g", 7),
        ("3", "measure", "g", 90),
        ("5", "ml", "g", 10),
        ("4", "each", "g", 200),
        ("3", "measure", "ml", 45),
        ("10", "g", "ml", 5),
        ("4", "each", "ml", 100),
        ("3", "measure", "each", 1.8),
        ("100", "g", "each", 2),
        ("50", "ml", "each", 2),
    ],
)
def test_by_pencil(book: Book, amount: str, dimension: str, base: str, expected: float) -> None:
    facts = IngredientFacts(
        base=base, density_g_per_ml=Decimal(2), grams_each=Decimal(50),
        grams_by_measure={"bunch": Decimal(30)},
    )  # fmt: skip
    quantity = Quantity(
        amount=Decimal(amount),
        dimension=dimension,
        measure_key="bunch" if dimension == "measure" else None,
    )
    assert in_base(quantity, facts) == pytest.approx(expected)
    with reading(book) as con:
        found = con.execute(
            "SELECT in_base($amount::DECIMAL(28, 12), $dimension, 30, $base, 2, 50)",
            {"amount": amount, "dimension": dimension, "base": base},
        ).fetchone()
    assert found == (pytest.approx(expected),)
