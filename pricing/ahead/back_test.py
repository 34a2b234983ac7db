"""How the outlook's rule would have fared: forecasts of past months, held against what came."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from pricing.ahead.history import (
    Floats,
    History,
    basket_changes,
    month_number,
    own_changes,
    relatives,
)
from pricing.ahead.rule import SHARES, forecasts, misses, stretches
from pricing.answer import Answer
from pricing.days import month_text

HORIZONS = (3, 6, 12, 18)  # months ahead
FIRST_ORIGIN = date(2005, 1, 1)
BASKETS, FEWEST, MOST = 1000, 3, 12  # random baskets, and how many items each holds
SEED = 2005
PLAIN_MONTHS = 120  # of changes that the plain rule looks back on
# a normal distribution holds so much within so many standard deviations (any table)
PLAIN_STRETCH = {0.5: 0.6744897501960817, 0.8: 1.2815515655446004}


@dataclass(frozen=True, kw_only=True)
class Horizon(Answer):
    """How ranges so many months ahead fared, beside those of the plain rule."""

    level: str  # item: each series alone; basket: several taken together
    months: int
    share: float  # of forecasts that the range is to hold
    covered: float  # that it held, 0 to 1
    score: float  # mean interval score of the logarithm of the change: the smaller the better
    plain_covered: float
    plain_score: float
    forecasts: int


@dataclass(frozen=True, kw_only=True)
class BackTest(Answer):
    """The back-test of the outlook on official series."""

    first_origin: str  # YYYY-MM
    last_month: str
    item_count: int
    basket_count: int
    horizons: tuple[Horizon, ...]


def back_test(
    history: History, ladders: Sequence[Sequence[str]], *, baskets: int = BASKETS, seed: int = SEED
) -> BackTest:
    """Forecast from every month since 2005 by what was known then, and count what held.

    `ladders`: each item's series, then the wider ones that stand in for it where it is short. A
    change counts where the office published both ends of the item's own series. Random baskets
    hold 3 to 12 items, all divisions of the cost being equally likely. The plain rule is the mean
    ± 0.67 or 1.28 standard deviations of the past ten years' changes. Interval score: Gneiting
    and Raftery, "Strictly proper scoring rules", JASA 102, 2007, section 6.2.
    """
    shares = random_baskets(len(ladders), baskets, seed)
    return BackTest(
        first_origin=month_text(FIRST_ORIGIN),
        last_month=month_text(history.last),
        item_count=len(ladders),
        basket_count=baskets,
        horizons=tuple(
            row
            for level, weights in (("item", np.eye(len(ladders))), ("basket", shares))
            for months in HORIZONS
            for row in _horizon(history, ladders, weights, months, level)
        ),
    )


def random_baskets(items: int, baskets: int, seed: int) -> Floats:
    """Return [item][basket] shares of cost; the same seed gives the same baskets."""
    dice = np.random.default_rng(seed)
    shares = np.zeros((items, baskets))
    for at in range(baskets):
        many = int(dice.integers(FEWEST, MOST + 1))
        shares[dice.choice(items, many, replace=False), at] = dice.dirichlet(np.ones(many))
    return shares


def _horizon(
    history: History, ladders: Sequence[Sequence[str]], shares: Floats, months: int, level: str
) -> Iterator[Horizon]:
    moved, _ = relatives(history, ladders, months)
    changes = basket_changes(moved, shares)
    came = basket_changes(own_changes(history, [each[0] for each in ladders], months), shares)
    found = forecasts(changes, months)
    origins = range(month_number(FIRST_ORIGIN) - history.first, len(changes) - months)
    rows = np.array(origins)
    middle, lively, outcome = found.middle[rows], found.lively[rows], came[rows + months]
    reach = np.array([stretches(misses(found, each), months) for each in origins])
    mean, deviation = _plain(changes, origins)
    counts = ~np.isnan(outcome + middle + reach.sum(axis=1) + mean)
    for at, share in enumerate(SHARES):
        covered, score = _fared(outcome, middle, reach[:, at] * lively, share, counts)
        plain = _fared(outcome, mean, PLAIN_STRETCH[share] * deviation, share, counts)
        yield Horizon(
            level=level,
            months=months,
            share=share,
            covered=covered,
            score=score,
            plain_covered=plain[0],
            plain_score=plain[1],
            forecasts=int(np.count_nonzero(counts)),
        )


def _plain(changes: Floats, origins: range) -> tuple[Floats, Floats]:
    """Return mean and standard deviation of the past ten years' changes, [origin][basket]."""
    looked_at = [changes[each + 1 - PLAIN_MONTHS : each + 1] for each in origins]
    mean = np.array([each.mean(axis=0) for each in looked_at])
    return mean, np.array([each.std(axis=0, ddof=1) for each in looked_at])


def _fared(
    outcome: Floats, middle: Floats, reach: Floats, share: float, counts: Floats
) -> tuple[float, float]:
    """Return what share of ranges held, and their mean interval score."""
    low, high = middle - reach, middle + reach
    held = (low <= outcome) & (outcome <= high)
    score = interval_score(low, high, outcome, share)
    return float(held[counts].mean()), float(score[counts].mean())


def interval_score(low: Floats, high: Floats, outcome: Floats, share: float) -> Floats:
    """Return the width of a range, and for what fell outside 2 ÷ (1 − share) times how far.

    >>> interval_score(np.array([1.0]), np.array([3.0]), np.array([3.5]), 0.8).round(9)
    array([7.])

    The width 2, and 0.5 outside × 2 ÷ 0.2 = 5.
    """
    outside = np.maximum(low - outcome, 0) + np.maximum(outcome - high, 0)
    return (high - low) + 2 / (1 - share) * outside
