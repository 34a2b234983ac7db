"""How much may go in at a target: the shortbread of tests/pricing/reprint/kitchen.py by pencil.

Ten portions of 600 g flour at $2.00 a kg (1.20) and 300 g butter at $12.00 (3.60): 4.80, $0.48
each.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from pricing.book.connect import Book
from pricing.dishes.amount import AmountAtTarget, amount_at_target
from pricing.errors import InputRefused, NotComplete, UnknownName
from tests.kitchen import TODAY, make_book
from tests.pricing.reprint.kitchen import FILES
from tests.terminal import answer, run


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return make_book(tmp_path_factory.mktemp("amount"), FILES, series=())


def butter(book: Book, target: float) -> AmountAtTarget:
    return amount_at_target(book, "shortbread", "Butter", target=target, on=TODAY)


def test_what_is_left_of_the_target_buys_the_ingredient(book: Book) -> None:
    found = butter(book, 0.36)  # 3.60 − 1.20 = 2.40 buys 200 g at 0.012
    assert found.amount == pytest.approx(200)
    assert (found.amount_now, found.reached) == (pytest.approx(300), False)
    assert found.rest_per_portion == pytest.approx(0.12)
    # 4.80 ÷ 0.36 = 13.3: fourteen portions
    assert (found.portions_at_target, found.portion_share) == (14, pytest.approx(10 / 14))


@pytest.mark.parametrize("target", [0.13, 0.36, 0.48, 2.0])
def test_with_that_amount_a_portion_costs_the_target(book: Book, target: float) -> None:
    found = butter(book, target)
    assert found.amount is not None
    portion = found.rest_per_portion + found.amount * found.unit_price / found.portions
    assert portion == pytest.approx(target, abs=1e-12)
    cut = found.cost_per_portion * found.portions / found.portions_at_target
    assert cut <= target + 1e-9


def test_a_target_that_is_met_to_the_cent_needs_no_other_portion(book: Book) -> None:
    found = butter(book, 0.48)
    assert found.reached
    assert found.amount == pytest.approx(300)
    assert found.portions_at_target == 10


def test_where_the_rest_alone_costs_more_no_amount_is_told(book: Book) -> None:
    found = answer("amount", "shortbread", "butter", "--target", "0.10", "--json", book=book.path)
    assert (found["amount"], found["portions_at_target"]) == (None, 48)
    said = told(book, "0.10")
    assert "Without any butter a portion costs $0.12: no amount of it meets $0.10." in said
    said = told(book, "0.36")
    assert "may take 200 g of butter as purchased" in said
    assert "makes 14 portions of 71 % of a portion now, at $0.34 each" in said


def test_a_portion_is_weighed_where_the_batch_is(tmp_path: Path) -> None:
    files = {
        "ingredients": "ingredient,base,yield_pct\nleek,g,80",
        "prices": """
            ingredient,date,price,currency,pack,supplier
            leek,2026-11-10,2.00,USD,1 kg,Quay Market
            leek,2026-11-10,6.00,USD,1 kg,Salt Lane
        """,
        "dishes": """
            dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,state
            puree,1,2020-01-01,1,400,leek,400,g,edible
            soup,1,2020-01-01,4,2000,leek,500,g,as_purchased
            soup,1,2020-01-01,4,2000,dish:puree,1,batch,as_purchased
        """,
    }
    book = make_book(tmp_path, files, series=())
    # 500 g and, for 400 g to eat, 400 ÷ 0.8 = 500 g: 1 kg at the mean of 2 and 6 = 4.00, 1.00 each
    found = amount_at_target(book, "soup", "leek", target=0.75, on=TODAY)
    assert found.cost_per_portion == pytest.approx(1.00)
    assert (found.amount_now, found.amount) == (pytest.approx(1000), pytest.approx(750))
    # 4.00 ÷ 0.75 = 5.3: six portions of 2000 ÷ 6 = 333 g
    assert (found.portions_at_target, found.portion_g) == (6, pytest.approx(2000 / 6))
    # without the dear shop 1 kg is 2.00: 0.50 each, and 3.00 buys 1.5 kg
    found = amount_at_target(
        book, "soup", "leek", target=0.75, on=TODAY, not_supplier=["Salt Lane"]
    )
    assert (found.reached, found.amount) == (True, pytest.approx(1500))
    done = run("amount", "soup", "leek", "--target", "0.75", "--not-supplier", "Salt Lane",
               book=book.path)  # fmt: skip
    assert "may take 1.5 kg of leek" in " ".join(done.stdout.split())


def told(book: Book, target: str) -> str:
    done = run("amount", "shortbread", "butter", "--target", target, book=book.path)
    return " ".join(done.stdout.split())


def test_what_cannot_be_answered_is_refused_with_a_sentence(book: Book) -> None:
    with pytest.raises(NotComplete, match="without a price"):
        amount_at_target(book, "saffron bread", "flour", target=1.0, on=TODAY)
    with pytest.raises(UnknownName, match="no ingredient of 'shortbread' called 'salt'"):
        amount_at_target(book, "shortbread", "salt", target=1.0, on=TODAY)
    with pytest.raises(InputRefused, match="above nothing"):
        butter(book, 0.0)
    assert run("amount", "shortbread", "butter", "--target", "lots", book=book.path).returncode == 2
