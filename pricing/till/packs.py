"""Which packs to buy so that they hold what is needed and cost least."""

from __future__ import annotations

from bisect import bisect_left
from collections import deque
from collections.abc import Iterator, Sequence
from heapq import heappop, heappush
from itertools import combinations_with_replacement, count, islice
from math import ceil, floor, inf, isfinite
from operator import itemgetter

from pricing.errors import InputRefused

TOLERANCE = 1e-9  # of the need, and of the cost: what lies closer together counts as equal
MOST_LOOKS = 50_000  # at parts of a purchase, see choose_packs
_GUESSES = 400  # purchases tried before the search, so that it starts with a good one
_NOISE = 1e-13  # of need and cost: what adding floats up in another order may change

Counts = tuple[int, ...]  # how many of each pack, in the order given
# A part of a purchase: cost, amount, packs, and the first of _Search.others that may be added to it
_Part = tuple[float, float, Counts, int]
_Purchase = tuple[float, float, int, Counts]  # cost, left over, number of packs, packs


def choose_packs(packs: Sequence[tuple[float, float]], need: float) -> Counts:
    """Return how many of each pack to buy so that they hold `need` and cost least.

    Each pack is (amount in the base unit, price in the currency); every number is above 0. Of
    purchases that cost the same, the one with the least left over is taken, then the one with the
    fewest packs, then the one with most of the first pack, of the second, and so on.

    Exact, with a tolerance of 1e-9 relative: amounts that fall short of `need` by no more than that
    hold it, and costs and left-overs no further apart than that (of the least cost, of the need)
    are the same. One limit: when thousands of purchases cost nearly the same (a dozen packs of odd
    sizes, all at one unit price), the search ends after MOST_LOOKS parts of purchases, with the
    cheapest one met by then. Raises InputRefused when there is no pack, or a number not above 0.

    Two of 250 g at 1.20 cost less than one of 1 kg at 3.00:

    >>> choose_packs([(250, 1.20), (1000, 3.00)], 500)
    (2, 0)
    """
    _refuse(packs, need)
    search = _Search(packs, need)
    found = list(search.purchases())
    # least cost, then least left over, then fewest packs: each among what is left by then
    for key, slack in ((0, TOLERANCE * search.ceiling), (1, TOLERANCE * need), (2, 0.0)):
        least = min(map(itemgetter(key), found))
        found = [each for each in found if each[key] <= least + slack]
    return max(each[3] for each in found)


def _refuse(packs: Sequence[tuple[float, float]], need: float) -> None:
    for number in (need, *(each for pack in packs for each in pack)):
        if not (isfinite(number) and number > 0):
            raise InputRefused(
                f"Found {number:g} as a need, a pack or a price; expected a number above 0. "
                "Correct it."
            )
    if not packs:
        raise InputRefused("Found no pack to choose from; expected one at least. Log a price.")


class _Search:
    """Looks through purchases from the cheapest part on.

    The pack with the lowest unit price (`best`) fills up whatever the others leave open, so only
    the others are searched. Two parts of a purchase are compared by what remains of their amounts
    after whole best packs: when one, with so many best packs as it takes, holds as much as the
    other for less money, then what completes the other completes it too, for less. This keeps the
    search small: it grows with the size of the best pack, not with the need.
    """

    def __init__(self, packs: Sequence[tuple[float, float]], need: float) -> None:
        self.amounts = [float(amount) for amount, _ in packs]
        self.prices = [float(price) for _, price in packs]
        self.need, self.enough = need, need * (1 - TOLERANCE)
        unit_prices = [price / amount for amount, price in packs]
        nearly = min(unit_prices) * (1 + TOLERANCE)
        self.best = max(  # the largest of those with the lowest unit price: others end sooner
            (i for i, each in enumerate(unit_prices) if each <= nearly),
            key=self.amounts.__getitem__,
        )
        self.size, self.price = self.amounts[self.best], self.prices[self.best]
        self.unit, self.largest = min(unit_prices), max(self.amounts)
        self.ceiling = self.price * ceil(self.enough / self.size)  # the least cost met so far
        self.slack = TOLERANCE * self.ceiling
        self.fewest = inf  # packs of a purchase met that leaves nothing at the lowest unit price
        self.others = [i for i in range(len(packs)) if self._may_pay(i)]

    def _may_pay(self, i: int) -> bool:
        """Tell if no other pack, bought often enough, holds as much as pack i for less."""
        return i != self.best and not any(
            self.prices[j] * ceil(self.amounts[i] / self.amounts[j]) < self.prices[i] - self.slack
            or (j < i and self.amounts[j] == self.amounts[i] and self.prices[j] == self.prices[i])
            for j in range(len(self.amounts))
        )

    def purchases(self) -> Iterator[_Purchase]:
        """Yield every purchase that may be the one."""
        nothing = (0,) * len(self.amounts)
        for few in islice(self._few(), _GUESSES):
            counts = tuple(map(few.count, range(len(nothing))))
            cost, amount = sum(self.prices[i] for i in few), sum(self.amounts[i] for i in few)
            yield from self._filled(cost, amount, counts)
        kept, turns = _Kept(self), count()
        heap: list[tuple[int, int, int, _Part]] = [(0, 0, next(turns), (0.0, 0.0, nothing, 0))]
        looks = 0
        while heap and looks < MOST_LOOKS:
            looks += 1
            _, number, _, (cost, amount, counts, first) = heappop(heap)
            if self._hopeless(cost, amount, number) or kept.beat(cost, amount, counts):
                continue
            yield from self._filled(cost, amount, counts)
            if amount >= self.enough:
                continue
            looks += len(self.others) - first
            for at in range(first, len(self.others)):
                i = self.others[at]
                dearer, larger = cost + self.prices[i], amount + self.amounts[i]
                if not self._hopeless(dearer, larger, number + 1):
                    # at the same cost fewer packs first, so that those after it are beaten by it
                    turn = (round(dearer / kept.money_noise), number + 1, next(turns))
                    heappush(heap, (*turn, (dearer, larger, _more(counts, i, 1), at)))

    def _few(self) -> Iterator[tuple[int, ...]]:
        for number in (1, 2, 3):
            yield from combinations_with_replacement(self.others, number)

    def _filled(self, cost: float, amount: float, counts: Counts) -> Iterator[_Purchase]:
        """Yield the part filled up with best packs, when it costs no more than any before."""
        fill = max(0, ceil((self.enough - amount) / self.size))
        total, number = cost + fill * self.price, sum(counts) + fill
        self.ceiling = min(self.ceiling, total)
        if total > self.ceiling + self.slack:
            return
        left = max(0.0, amount + fill * self.size - self.need)
        if left <= TOLERANCE * self.need and total <= self.unit * self.need + self.slack:
            self.fewest = min(self.fewest, number)
        yield total, left, number, _more(counts, self.best, fill)

    def _hopeless(self, cost: float, amount: float, number: int) -> bool:
        """Tell if a part must become dearer than a purchase met, or as cheap in more packs."""
        still = max(0.0, self.enough - amount)
        return (
            cost + still * self.unit > self.ceiling + self.slack
            or number + still / self.largest > self.fewest
        )


class _Kept:
    """The parts met so far, ready to tell whether one of them beats a later one."""

    def __init__(self, search: _Search) -> None:
        self.search = search
        self.amount_noise, self.money_noise = _NOISE * search.need, _NOISE * search.ceiling
        self.waiting: deque[tuple[float, float]] = deque()  # cost no less than the present one
        self.most = -1.0  # the greatest amount of those that cost less
        self.rests: list[float] = []  # their amounts beyond whole best packs, ascending …
        self.extras: list[float] = []  # … and their costs beyond these packs, ascending too
        self.same: dict[tuple[int, int], tuple[int, int, Counts]] = {}

    def beat(self, cost: float, amount: float, counts: Counts) -> bool:
        """Tell if a kept part beats this one; keep it otherwise. Costs must not fall."""
        while self.waiting and self.waiting[0][0] < cost - self.search.slack:
            self._count_in(*self.waiting.popleft())
        if amount <= self.most:
            return True
        whole, rest, extra = self._split(cost, amount)
        at = bisect_left(self.rests, rest - self.amount_noise)
        limit = extra - self.search.slack
        if self.search.price < limit or (at < len(self.rests) and self.extras[at] < limit):
            return True
        if self._same_in_fewer(whole, rest, extra, counts):
            return True
        self.waiting.append((cost, amount))
        return False

    def _split(self, cost: float, amount: float) -> tuple[int, float, float]:
        whole = floor(amount / self.search.size + _NOISE)
        return whole, amount - whole * self.search.size, cost - whole * self.search.price

    def _count_in(self, cost: float, amount: float) -> None:
        self.most = max(self.most, amount)
        _, rest, extra = self._split(cost, amount)
        at = bisect_left(self.rests, rest)
        if at == len(self.rests) or self.extras[at] > extra:
            start = bisect_left(self.extras, extra, 0, at)  # these hold less and cost no less
            self.rests[start:at], self.extras[start:at] = [rest], [extra]

    def _same_in_fewer(self, whole: int, rest: float, extra: float, counts: Counts) -> bool:
        """Tell if the same amount at the same cost was met in fewer packs, or in earlier ones."""
        place = (round(rest / self.amount_noise / 100), round(extra / self.money_noise / 100))
        number = sum(counts)
        if place in self.same:
            other_whole, other_number, other = self.same[place]
            fill = whole - other_whole
            fewer = number - (other_number + fill)
            earlier = _more(other, self.search.best, fill) > counts
            if fill >= 0 and (fewer > 0 or (fewer == 0 and earlier)):
                return True
        self.same[place] = (whole, number, counts)
        return False


def _more(counts: Counts, i: int, number: int) -> Counts:
    return (*counts[:i], counts[i] + number, *counts[i + 1 :])
