"""Matched relatives (Jevons) against published tables, and a hand case of missing prices."""

from __future__ import annotations

import numpy as np
import pytest

from pricing.inflation.matched_products import matched_relatives
from tests.outside.six_items import PRICES

# Three products of one ingredient in three months; the third was not seen in the second.
SEEN = np.array([[4.00, 4.40, 4.40], [5.00, 5.00, 5.50], [2.00, np.nan, 2.40]])


def test_missing_in_the_middle_by_hand() -> None:
    (found,) = matched_relatives(SEEN, np.zeros(3, dtype=np.int64), 1)
    # direct over all three: (1.1 × 1.1 × 1.2)^(1/3) = 1.132371
    assert found.sources == 3
    assert found.relative == pytest.approx(1.132371, abs=5e-7)
    # chained over those matched each time: √(1.1 × 1.0) × √(1.0 × 1.1) = 1.1: the third is lost
    assert found.chained == pytest.approx(1.1, abs=1e-12)


def test_a_link_without_any_matched_product_is_not_chained() -> None:
    prices = np.array([[4.0, 4.4, np.nan, np.nan], [np.nan, np.nan, 5.0, 6.0]])
    (found,) = matched_relatives(prices, np.zeros(2, dtype=np.int64), 1)
    assert (found.sources, found.relative, found.chained) == (0, None, None)
    assert found.links_missing == 1


def test_six_items_without_weights() -> None:
    # the sixth root of the product of the relatives to period 1, where every price is 1: by hand
    # (1.2 × 3 × 1.3 × 0.7 × 1.4 × 0.8)^(1/6) = 1.2419, …
    published = [1, 1.2419, 0.9563, 0.7256, 0.6325]
    owner = np.zeros(6, dtype=np.int64)
    found = [matched_relatives(PRICES[:, [0, t]], owner, 1)[0].relative for t in range(5)]
    assert found == pytest.approx(published, abs=5.1e-5)


def test_four_products_over_four_months() -> None:
    # worked out by hand, and equal to pyindexnum 0.4.0 to 1e-8
    prices = np.array([[1.0, 1.1, 1.25, 1.2], [2.0, 2.2, 2.1, 2.6],
                       [0.2, 0.3, 0.25, 0.22], [0.9, 0.88, 0.95, 1.05]])  # fmt: skip
    owner = np.zeros(4, dtype=np.int64)
    found = [matched_relatives(prices[:, [0, t]], owner, 1)[0].relative for t in range(4)]
    assert found == pytest.approx([1, 1.154195, 1.147156, 1.189504], abs=6e-7)


def test_no_drift_on_a_bouncing_series() -> None:
    # A table in the style of CPI Manual (2004) table 9.1, from memory: month 5 is month 1 again,
    # month 7 a tenth over it.
    prices = np.array([[6, 6, 7, 6, 6, 6, 6.6], [7, 7, 6, 7, 7, 7.2, 7.7], [2, 3, 4, 5, 2, 3, 2.2]])
    owner = np.zeros(3, dtype=np.int64)
    direct = [matched_relatives(prices[:, [0, t]], owner, 1)[0].relative for t in range(7)]
    published = [1, 1.1447, 1.2599, 1.3572, 1, 1.1555, 1.1]
    assert direct == pytest.approx(published, abs=5.1e-5)
    (back,) = matched_relatives(prices[:, :5], owner, 1)
    (tenth,) = matched_relatives(prices, owner, 1)
    assert (back.relative, back.chained) == (pytest.approx(1.0), pytest.approx(1.0))
    assert (tenth.relative, tenth.chained) == (pytest.approx(1.1), pytest.approx(1.1))
    # what chaining plain means of relatives would have made of it (by hand): 1.1398, not 1
    carli = np.prod((prices[:, 1:5] / prices[:, :4]).mean(axis=0))
    assert carli == pytest.approx(1.1398, abs=5e-5)


def test_ingredients_are_kept_apart() -> None:
    prices = np.array([[1.0, 2.0], [1.0, 8.0], [3.0, 3.0]])
    first, second, third = matched_relatives(prices, np.array([0, 0, 2]), 3)
    assert first.relative == pytest.approx(4.0)  # √(2 × 8)
    assert (second.sources, second.relative) == (0, None)
    assert third.relative == pytest.approx(1.0)
