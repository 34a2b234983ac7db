"""The cheapest packs that hold a need: by pencil, and equal to trying every purchase."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Callable

import pytest

from pricing.errors import InputRefused
from pricing.till.packs import TOLERANCE, _Search, choose_packs

Packs = list[tuple[float, float]]
POUND = 453.59237  # g, exact


@pytest.mark.parametrize(
    ("packs", "need", "bought"),
    [
        # two of 250 g for 2.40, or one of 1 kg for 3.00; from 501 g on it is 3.60 or 3.00
        ([(250, 1.20), (1000, 3.00)], 500, (2, 0)),
        ([(250, 1.20), (1000, 3.00)], 501, (0, 1)),
        # 1,300 g: 1 kg and two of 250 g 5.40, two of 1 kg 6.00, six of 250 g 7.20
        ([(250, 1.20), (1000, 3.00)], 1300, (2, 1)),
        # the lowest unit price is not bought for its own sake: 4.00 against 9.00
        ([(200, 4.00), (5000, 9.00)], 150, (1, 0)),
        # no greedy choice: 600 g is 300 + 300 for 4.20, not 500 for 3.00 and 300 for 2.10
        ([(500, 3.00), (300, 2.10)], 600, (0, 2)),
        # 3.00 either way: least left over
        ([(400, 3.00), (500, 3.00)], 350, (1, 0)),
        # 3.00 and nothing left either way: fewest packs
        ([(250, 1.50), (500, 3.00)], 500, (0, 1)),
        ([(500, 3.00), (250, 1.50)], 1000, (2, 0)),
        # the same pack twice: the first
        ([(500, 3.00), (500, 3.00)], 1000, (2, 0)),
        # 100 + 400 and 200 + 300 hold 500 in two packs for 5.00: most of the first
        ([(200, 2.00), (300, 3.00), (100, 1.00), (400, 4.00)], 500, (1, 1, 0, 0)),
        # one and a half leeks: two
        ([(1, 0.89)], 1.5, (2,)),
    ],
)
def test_by_pencil(packs: Packs, need: float, bought: tuple[int, ...]) -> None:
    assert choose_packs(packs, need) == bought


@pytest.mark.parametrize("times", [1, 3, 7, 10, 49, 200])
def test_rounding_buys_no_pack_more(times: int) -> None:
    # 0.1 × 3 is 0.30000000000000004 in floats, and 200 thirds of a pound are not 66 and 2/3 pounds
    for size in (0.1, POUND / 3, 236.5882365, 1 / 7):
        need = sum(size for _ in range(times))
        assert choose_packs([(size, 0.99)], need) == (times,)
        assert choose_packs([(size, 0.99)], need * (1 + 0.9e-9)) == (times,)
        assert choose_packs([(size, 0.99)], need * (1 + 1.2e-9)) == (times + 1,)


def test_a_pound_is_four_quarters_in_fewer_packs() -> None:
    quarter = POUND / 4
    assert choose_packs([(quarter, 1.10), (4 * quarter, 4.40)], POUND) == (0, 1)
    assert choose_packs([(quarter, 1.10), (4 * quarter, 4.40)], 1.25 * POUND) == (1, 1)


@pytest.mark.parametrize(
    ("packs", "need"),
    [
        ([], 1), ([(1, 1)], 0), ([(1, 1)], -2), ([(1, 0)], 1), ([(-1, 1)], 1),
        ([(1, math.inf)], 1), ([(1, 1)], math.nan),
    ],
)  # fmt: skip
def test_what_is_no_purchase_is_refused(packs: Packs, need: float) -> None:
    with pytest.raises(InputRefused, match="expected"):
        choose_packs(packs, need)


def every_purchase(packs: Packs, need: float) -> tuple[int, ...]:
    """Try every number of every pack up to what that pack alone would take."""
    ranges = [range(math.ceil(need / amount) + 1) for amount, _ in packs]
    found = []
    for counts in itertools.product(*ranges):
        amount = sum(n * size for n, (size, _) in zip(counts, packs, strict=True))
        if amount >= need * (1 - TOLERANCE):
            cost = sum(n * price for n, (_, price) in zip(counts, packs, strict=True))
            found.append((cost, max(0.0, amount - need), sum(counts), counts))
    least = min(cost for cost, *_ in found)
    found = [each for each in found if each[0] <= least * (1 + TOLERANCE)]
    left = min(each[1] for each in found)
    found = [each for each in found if each[1] <= left + TOLERANCE * need]
    fewest = min(each[2] for each in found)
    return max(each[3] for each in found if each[2] == fewest)


def shop(rng: random.Random) -> Packs:
    """Sizes as shops have them, prices that mostly fall with size."""
    sizes = rng.sample([50, 100, 113.4, 125, 200, 250, 340, 400, POUND, 500, 750, 2 * POUND, 1000],
                       rng.randrange(1, 5))  # fmt: skip
    return [(s, round(0.004 * s * (1000 / s) ** rng.uniform(0, 0.3), 2)) for s in sizes]


def one_unit_price(rng: random.Random) -> Packs:
    """Every purchase of the same amount costs the same: all is decided by ties."""
    sizes = rng.choices([50, 100, 150, 250, 300, 500], k=rng.randrange(1, 5))
    return [(size, size * 0.004) for size in sizes]


def few_pounds(rng: random.Random) -> Packs:
    """Parts of a pound at odd factors, as prices moved by an index have them."""
    factor = rng.uniform(0.5, 2)
    parts = rng.choices([1 / 4, 1 / 3, 1 / 2, 2 / 3, 1, 3 / 2], k=rng.randrange(1, 5))
    return [(part * POUND, part * rng.choice([3.6, 4.8]) * factor) for part in parts]


def any_numbers(rng: random.Random) -> Packs:
    count = rng.randrange(1, 5)
    return [(rng.uniform(100, 900), rng.uniform(0.5, 5)) for _ in range(count)]


@pytest.mark.parametrize("kind", [shop, one_unit_price, few_pounds, any_numbers])
def test_equal_to_trying_every_purchase(kind: Callable[[random.Random], Packs]) -> None:
    rng = random.Random(kind.__name__)
    several, ties = 0, 0
    for _ in range(1500):
        packs = kind(rng)
        smallest = min(size for size, _ in packs)
        need = smallest * rng.choice([rng.uniform(0.1, 9), rng.randrange(1, 10), 4.0])
        bought = choose_packs(packs, need)
        assert bought == every_purchase(packs, need), (packs, need)
        several += sum(n > 0 for n in bought) > 1
        ties += len({price / size for size, price in packs}) < len(packs)
    assert several > 20  # the cases are not all of one pack
    assert ties > 500 or kind in (shop, any_numbers)


def twelve_kinds(rng: random.Random) -> Packs:
    """As `shop`, twelve of them, with shops that are dearer by up to a third."""
    sizes = rng.sample([50, 100, 113.4, 125, 200, 250, 340, 400, POUND, 500, 750, 2 * POUND, 1000,
                        1500, 2000, 2500, 5 * POUND, 5000], 12)  # fmt: skip
    return [
        (s, round(0.004 * s * (1000 / s) ** rng.uniform(0, 0.3) * rng.uniform(1, 1.33), 2))
        for s in sizes
    ]


@pytest.fixture
def looked(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """The cost of each part that a search looked at: its length is the work, on any machine."""
    costs: list[float] = []
    hopeless = _Search._hopeless

    def look(self: _Search, cost: float, amount: float, number: int) -> bool:
        costs.append(cost)
        return hopeless(self, cost, amount, number)

    monkeypatch.setattr(_Search, "_hopeless", look)
    return costs


def test_a_shop_for_a_feast_is_quick(looked: list[float]) -> None:
    rng = random.Random(12)
    for _ in range(20):
        packs = twelve_kinds(rng)
        looked.clear()
        choose_packs(packs, 200 * rng.choice(packs)[0] * rng.uniform(0.99, 1.01))
        assert 0 < len(looked) < 2_000  # counted: up to 573, in 0.003 s


def test_a_hundred_packs_at_one_unit_price_come_to_an_end(looked: list[float]) -> None:
    rng = random.Random(3)
    packs = [(size := rng.uniform(100, 1000), size * 0.004) for _ in range(100)]
    bought = choose_packs(packs, 20_000)
    assert len(looked) < 100_000  # counted: 50,049, in 0.3 s
    amount = sum(n * size for n, (size, _) in zip(bought, packs, strict=True))
    assert 20_000 <= amount < 20_000 + 100  # not one pack more than it takes
