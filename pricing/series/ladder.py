"""The ladder of official series: from the one an ingredient names to ever wider ones."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

from pricing.book.connect import Connection
from pricing.series.many_months import relative, usable_months


@dataclass(frozen=True, kw_only=True)
class Ladder:
    """How the series of a book stand above each other."""

    parents: Mapping[str, str | None]
    titles: Mapping[str, str | None]

    def rungs(self, series: str | None, last: str | None = None) -> list[str]:
        """Return a series and the wider ones above it, narrowest first, as far as they are known.

        `last` and the ones above it follow, unless they are on the ladder already.
        """
        rungs: list[str] = []
        for step in (series, last):
            while step is not None and step in self.parents and step not in rungs:
                rungs.append(step)
                step = self.parents[step]
        return rungs


@dataclass(frozen=True, kw_only=True)
class Movement:
    """What an official series did between two months."""

    series: str | None  # None: no rung is usable in both
    title: str | None
    relative: float | None  # later ÷ earlier


def read_ladder(con: Connection) -> Ladder:
    """Read the series of the book."""
    found = con.execute("SELECT series, parent, title FROM series_now").fetchall()
    return Ladder(
        parents={series: parent for series, parent, _ in found},
        titles={series: title for series, _, title in found},
    )


def narrowest_movements(
    con: Connection, named: Collection[str | None], last: str | None, days: tuple[date, date]
) -> dict[str | None, Movement]:
    """Return what the narrowest rung usable in the months of both days did, by the series named.

    `last` is the first of the last rungs of every ladder (design §5).
    """
    ladder = read_ladder(con)
    rungs = {each: ladder.rungs(each, last) for each in set(named)}
    months = usable_months(con, {rung for each in rungs.values() for rung in each}, set(days))

    def climb(series: str | None) -> Movement:
        for rung in rungs[series]:
            moved = relative(months, rung, *days)
            if moved is not None:
                return Movement(series=rung, title=ladder.titles[rung], relative=moved)
        return Movement(series=None, title=None, relative=None)

    return {each: climb(each) for each in rungs}
