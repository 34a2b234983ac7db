"""Laws of the index formulas, whatever the prices and quantities."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pricing.inflation import formulas
from tests.loops import rounds

POSITIVE = st.floats(0.01, 100, allow_nan=False)
ITEMS = st.integers(1, 8).flatmap(
    lambda n: st.lists(st.tuples(POSITIVE, POSITIVE, POSITIVE, POSITIVE), min_size=n, max_size=n)
)
Item = tuple[float, float, float, float]
LAWS = settings(max_examples=rounds(150), deadline=None)


def columns(items: list[Item]) -> list[np.ndarray]:
    return list(np.array(items).T)


@LAWS
@given(items=ITEMS)
def test_there_and_back_is_one(items: list[Item]) -> None:
    p0, q0, p1, q1 = columns(items)
    for name in ("fisher", "tornqvist", "walsh", "marshall_edgeworth", "vartia_1", "vartia_2"):
        formula = formulas.BY_TWO_BASKETS[name]
        assert formula(p0, q0, p1, q1) * formula(p1, q1, p0, q0) == pytest.approx(1, rel=1e-9), name


@LAWS
@given(items=ITEMS, factor=POSITIVE, order=st.randoms(use_true_random=False))
def test_scale_order_and_identity(items: list[Item], factor: float, order: object) -> None:
    p0, q0, p1, q1 = columns(items)
    shuffled = list(items)
    order.shuffle(shuffled)  # type: ignore[attr-defined]
    for name, formula in formulas.BY_TWO_BASKETS.items():
        found = formula(p0, q0, p1, q1)
        assert formula(*columns(shuffled)) == pytest.approx(found, rel=1e-9), name
        assert formula(p0, q0, p0, q0) == pytest.approx(1, rel=1e-9), name
        assert formula(p0, q0, p0 * factor, q0) == pytest.approx(factor, rel=1e-9), name
        low, high = (p1 / p0).min(), (p1 / p0).max()
        if name not in ("stuvel", "vartia_1"):  # these two may leave the range of the relatives
            assert low * (1 - 1e-9) <= found <= high * (1 + 1e-9), name


@LAWS
@given(items=ITEMS)
def test_fisher_lies_between_and_values_factor(items: list[Item]) -> None:
    p0, q0, p1, q1 = columns(items)
    found = formulas.fisher(p0, q0, p1, q1)
    ends = sorted([formulas.laspeyres(p0, q0, p1, q1), formulas.paasche(p0, q0, p1, q1)])
    assert ends[0] * (1 - 1e-12) <= found <= ends[1] * (1 + 1e-12)
    value = (p1 @ q1) / (p0 @ q0)
    assert found * formulas.fisher(q0, p0, q1, p1) == pytest.approx(value, rel=1e-9)
