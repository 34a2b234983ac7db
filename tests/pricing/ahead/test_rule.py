"""The outlook's rule: against a slow one in plain Python, and its laws."""

from __future__ import annotations

import math
import statistics
from datetime import date

import numpy as np
import pytest

from pricing.ahead.back_test import back_test, interval_score, random_baskets
from pricing.ahead.basket import Basket, ahead_of
from pricing.ahead.history import History, history_of, month_of

LADDERS = [("leek", "food"), ("oat", "food"), ("salt",)]
COSTS = [2.0, 1.0, 1.0]
FIRST = 1990 * 12


def walks(months: int = 420, seed: int = 3) -> dict[str, list[float]]:
    """Return invented series, made of random steps."""
    dice = np.random.default_rng(seed)
    return {
        name: (100 * np.exp(np.cumsum(dice.normal(0.002, size, months)))).tolist()
        for name, size in (("leek", 0.04), ("oat", 0.01), ("salt", 0.02), ("food", 0.006))
    }


def rows(held: dict[str, list[float]]) -> list[tuple[str, date, float]]:
    return [(s, month_of(FIRST + at), v) for s, vs in held.items() for at, v in enumerate(vs)]


def history(held: list[tuple[str, date, float]]) -> History:
    series, months, values = zip(*held, strict=True)
    return history_of(series, months, values)


def ends(found: Basket) -> list[float]:
    return [found.moved(sign * each) for each in found.stretches.values() for sign in (-1, 1)]


def slowly(held: dict[str, list[float]], ahead: int) -> list[float]:
    """The rule once more, in plain Python from its text: the ends of the 50 and the 80 % range."""
    last = len(held["leek"]) - 1
    change = {
        at: math.log(
            sum(
                cost / sum(COSTS) * held[ladder[0]][at] / held[ladder[0]][at - ahead]
                for ladder, cost in zip(LADDERS, COSTS, strict=True)
            )
        )
        for at in range(ahead, last + 1)
    }

    def forecast(at: int) -> tuple[float, float] | None:
        known = [(at - k, change[k]) for k in range(ahead, at + 1)]
        if len(known) < 60:
            return None
        weights = [2 ** (-age / 120) for age, _ in known]
        mean = sum(w * y for w, (_, y) in zip(weights, known, strict=True)) / sum(weights)
        square = sum(w * (y - mean) ** 2 for w, (_, y) in zip(weights, known, strict=True))
        middle = statistics.fmean(y for age, y in known if age < 240)
        return middle, math.sqrt(square / sum(weights))

    missed = []
    for due in range(last - 179, last + 1):
        told = forecast(due - ahead)
        if told is not None:
            missed.append(abs(change[due] - told[0]) / told[1])
    now = forecast(last)
    assert now is not None
    found = []
    for share in (0.5, 0.8):
        reach = float(np.quantile(missed, share * (1 + ahead / len(missed)))) * now[1]
        found += [math.exp(now[0] - reach), math.exp(now[0] + reach)]
    return found


@pytest.mark.parametrize("ahead", [1, 6, 18])
def test_the_ranges_are_those_of_the_rule_in_plain_python(ahead: int) -> None:
    held = walks()
    assert ends(ahead_of(history(rows(held)), LADDERS, COSTS, ahead)) == pytest.approx(
        slowly(held, ahead), rel=1e-9
    )


def test_a_wider_share_contains_a_narrower_one() -> None:
    low50, high50, low80, high80 = ends(ahead_of(history(rows(walks())), LADDERS, COSTS, 6))
    assert low80 < low50 < high50 < high80


def test_neither_the_order_of_rows_nor_the_level_of_a_series_matters() -> None:
    held = rows(walks())
    asked = ends(ahead_of(history(held), LADDERS, COSTS, 6))
    mixed = [held[at] for at in np.random.default_rng(1).permutation(len(held))]
    assert ends(ahead_of(history(mixed), LADDERS, COSTS, 6)) == asked
    doubled = [(s, m, v * 2 if s == "leek" else v) for s, m, v in held]
    assert ends(ahead_of(history(doubled), LADDERS, COSTS, 6)) == pytest.approx(asked, rel=1e-12)


def test_the_chance_agrees_with_the_ranges_and_rises() -> None:
    found = ahead_of(history(rows(walks())), LADDERS, COSTS, 6)
    # half of the forecasts outside a range are under it: (1 − 0.8) ÷ 2, and so on
    for at, chance in zip(ends(found), (0.25, 0.75, 0.1, 0.9), strict=True):
        assert found.chance(at) == pytest.approx(chance, abs=1e-9)
    chances = [found.chance(factor) for factor in np.linspace(0.5, 2, 50)]
    assert chances == sorted(chances)
    assert 0 < chances[0] < chances[-1] < 1


def test_what_ended_or_is_short_leans_on_the_wider_series_for_those_months() -> None:
    held = walks()
    short = [row for row in rows(held) if row[0] != "oat" or row[1] >= date(2015, 1, 1)]
    found = ahead_of(history(short), LADDERS, COSTS, 6)
    # the months end in December 2024, so the 240 changes do from January 2005 on; the first of
    # oat's own begins in January 2015 and ends in July: 126 changes before it, 114 from it on
    assert found.last == date(2024, 12, 1)
    assert found.steps[1] == [1] * 126 + [0] * 114
    assert set(found.steps[0]) == {0}


def test_a_ladder_that_ended_long_ago_moves_as_the_rest_does() -> None:
    gone = [row for row in rows(walks()) if row[0] != "salt" or row[1] < date(2020, 1, 1)]
    found = ahead_of(history(gone), LADDERS, COSTS, 6)
    assert set(found.steps[2][-50:]) == {-1}
    rest = ahead_of(history(gone), LADDERS[:2], COSTS[:2], 6)
    assert ends(found) == ends(rest)


def test_the_interval_score_by_hand() -> None:
    # width 2; 1 under the low end × 2 ÷ 0.5 = 4; inside: the width alone (Gneiting & Raftery 2007)
    one = np.array([1.0, 1.0])
    assert interval_score(one, one + 2, np.array([0.0, 2.5]), 0.5).tolist() == [6.0, 2.0]


def test_a_back_test_never_looks_ahead() -> None:
    """What comes after an origin is changed: the forecasts from it and before stay as they were."""
    from pricing.ahead.history import basket_changes, relatives
    from pricing.ahead.rule import forecasts, misses, stretches

    held = rows(walks())
    origin = 300
    later = [(s, m, v * 3 if m > month_of(FIRST + origin) else v) for s, m, v in held]
    told = []
    for each in (held, later, [row for row in held if row[1] <= month_of(FIRST + origin)]):
        moved, _ = relatives(history(each), LADDERS, 12)
        found = forecasts(basket_changes(moved, np.eye(3)), 12)
        told.append(
            [
                *found.middle[origin].tolist(),
                *found.lively[origin].tolist(),
                *np.array(stretches(misses(found, origin), 12)).ravel().tolist(),
            ]
        )
    assert told[0] == told[1] == told[2]
    assert not np.isnan(told[0]).any()


def test_random_baskets_are_the_same_for_a_seed_and_whole() -> None:
    shares = random_baskets(20, 50, 1)
    assert (shares == random_baskets(20, 50, 1)).all()
    assert shares.sum(axis=0) == pytest.approx(np.ones(50))
    held = (shares > 0).sum(axis=0)
    assert (held.min(), held.max()) == (3, 12)


def test_a_back_test_counts_what_was_held() -> None:
    # items that never move: every range is a point, and holds; each scores nothing
    still = {name: [100.0] * 420 for name in ("leek", "oat", "salt", "food")}
    found = back_test(
        history(rows(still)), [(each,) for each in ("leek", "oat", "salt")] * 4, baskets=3
    )
    assert {(row.covered, row.score) for row in found.horizons if row.level == "item"} == {(1, 0)}
    # item rows: origins January 2005 to the horizon before December 2024, of 12 items
    assert [row.forecasts for row in found.horizons[:8:2]] == [
        12 * (240 - n) for n in (3, 6, 12, 18)
    ]
