"""How near the price rule comes to the truth, on shopping logs that are made up.

Five shops differ in level, keep their prices for months at a time, and come and go; the one who
shops visits each open one every 20 to 400 days. The truth of a day is the mean of what all shops
that are open ask. An official series follows the same goods loosely: it has a drift of its own.
Everything is invented and seeded, so a run gives the same figures again.

Run `python -m tests.benchmarks.price_rule`. It prints, for each rule, the mean error of a price and
of a change over a year: the rule, its former form (the median over the shops seen in the last 45
days, bent from the day last seen), the last price seen, and the mean of all prices seen so far.
The exit status is 1 where a mean error of the rule, as printed, is above the one wanted.
"""

from __future__ import annotations

import math
import random
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import fmean, median

from tests.oracle import Ladder, Seen, index, price_on, rung

EVERY = (20, 60, 150, 400)  # days between two visits to a shop
WANTED = (2.2, 2.8, 3.7, 5.5)  # at most, mean error in % of the rule
KITCHENS, ASKED, FRESH = 40, 24, 45
STICKER_SPREAD = 0.05
FIRST, YEARS, SHOPS = date(2014, 1, 1), 9, 5
LEVEL_SPREAD, STICKY_DAYS = 0.13, 70  # of shops; a price stays for about so long
MONTHLY_DRIFT, OWN_DRIFT = 0.012, 0.006  # standard deviations a month: of all, of the series alone

Rule = Callable[[Sequence[Seen], date, Ladder], "float | None"]


@dataclass(frozen=True, kw_only=True)
class Log:
    """One ingredient: what was seen, its series, and what all open shops asked on every day."""

    seen: list[Seen]
    ladder: Ladder
    truth: list[float]  # by day from FIRST


def made(random_of: random.Random, every: int) -> Log:
    """Return the log of one ingredient with a visit to each open shop about `every` days."""
    days, months = 365 * YEARS, 12 * YEARS
    trend, own = [0.0], [0.0]
    for _ in range(months):
        trend.append(trend[-1] + 0.0025 + random_of.gauss(0, MONTHLY_DRIFT))
        own.append(own[-1] + random_of.gauss(0, OWN_DRIFT))
    values = {
        (FIRST.year + each // 12, each % 12 + 1): 100 * math.exp(trend[each] + own[each])
        for each in range(months + 1)
    }
    prices, seen = [], []
    for shop in range(SHOPS):
        opens = 0 if shop < 2 else random_of.randrange(days)
        closes = days if shop == 0 else min(days, opens + random_of.randrange(days // 3, days))
        level = math.exp(random_of.gauss(0, LEVEL_SPREAD))
        asked, price = [], None
        for day in range(days):
            if price is None or random_of.random() < 1 / STICKY_DAYS:
                price = level * math.exp(trend[_month(day)] + random_of.gauss(0, STICKER_SPREAD))
            asked.append(price if opens <= day < closes else math.nan)
        prices.append(asked)
        visit = opens + random_of.expovariate(1 / every)
        while visit < closes:
            day = int(visit)
            seen.append(
                Seen(day=FIRST + timedelta(days=day), unit_price=asked[day], supplier=str(shop))
            )
            visit += max(1.0, random_of.expovariate(1 / every))
    truth = [fmean(each for each in at if not math.isnan(each)) for at in zip(*prices, strict=True)]
    return Log(seen=seen, ladder=[("series", values)], truth=truth)


def _month(day: int) -> int:
    on = FIRST + timedelta(days=day)
    return 12 * (on.year - FIRST.year) + on.month - 1


def the_rule(seen: Sequence[Seen], day: date, ladder: Ladder) -> float | None:
    return price_on(seen, day, ladder, fresh=FRESH).unit_price


def former_rule(seen: Sequence[Seen], day: date, ladder: Ladder) -> float | None:
    """The median over the shops still fresh; bent between two sightings from the first one on."""
    earlier = [each.day for each in seen if each.day <= day]
    later = [each.day for each in seen if each.day > day]
    d0, d1 = max(earlier, default=None), min(later, default=None)
    if d0 is not None and (day - d0).days <= FRESH:
        return _fresh_median(seen, day)
    ends = [each for each in (d0, d1) if each is not None]
    found = rung(ladder, day, ends)
    if found is None or not ends:
        return None if d0 is None else _fresh_median(seen, d0)
    at = index(found[1], day)
    moves = [_fresh_median(seen, end) * at[0] / index(found[1], end)[0] for end in ends]
    if len(moves) == 1:
        return moves[0]
    share = (day - ends[0]).days / (ends[1] - ends[0]).days
    return moves[0] ** (1 - share) * moves[1] ** share


def _fresh_median(seen: Sequence[Seen], day: date) -> float:
    in_order = sorted(seen, key=lambda each: each.day)
    latest = {each.supplier: each for each in in_order if each.day <= day}
    return median(e.unit_price for e in latest.values() if (day - e.day).days <= FRESH)


def last_price(seen: Sequence[Seen], day: date, ladder: Ladder) -> float | None:
    before = [each for each in seen if each.day <= day]
    return max(before, key=lambda each: each.day).unit_price if before else None


def mean_of_all(seen: Sequence[Seen], day: date, ladder: Ladder) -> float | None:
    before = [each.unit_price for each in seen if each.day <= day]
    return fmean(before) if before else None


RULES: dict[str, Rule] = {
    "the rule": the_rule,
    "its former form": former_rule,
    "the last price": last_price,
    "mean of all prices": mean_of_all,
}


def errors(rule: Rule, logs: Sequence[Log], seed: int) -> tuple[float, float]:
    """Return the mean error in % and that of a change over a year in points."""
    random_of = random.Random(seed)
    off, off_year = [], []
    for log in logs:
        for _ in range(ASKED):
            day = random_of.randrange(730, 365 * YEARS)
            dates = (FIRST + timedelta(days=each) for each in (day, day - 365))
            now, then = (rule(log.seen, on, log.ladder) for on in dates)
            if now is None or then is None:
                continue
            off.append(abs(now / log.truth[day] - 1))
            off_year.append(abs(now / then - log.truth[day] / log.truth[day - 365]))
    return 100 * fmean(off), 100 * fmean(off_year)


def main() -> int:
    """Print the errors; return the exit status."""
    print(f"{'days between visits':24}" + "".join(f"{each:>16}" for each in EVERY))
    logs = {
        each: [made(random.Random(1000 * each + n), each) for n in range(KITCHENS)]
        for each in EVERY
    }
    found = {
        name: [errors(rule, logs[each], each) for each in EVERY] for name, rule in RULES.items()
    }
    for name, rows in found.items():
        print(f"{name:24}" + "".join(f"{a:8.1f} {b:7.1f}" for a, b in rows))
    print("(mean error in %, and of a change over a year in points)")
    print(f"{'wanted of the rule':24}" + "".join(f"{each:8.1f} {'':7}" for each in WANTED))
    met = zip(found["the rule"], WANTED, strict=True)
    return int(any(round(error, 1) > most for (error, _), most in met))


if __name__ == "__main__":
    sys.exit(main())
