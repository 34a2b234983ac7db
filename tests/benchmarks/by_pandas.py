"""Costs a whole catalogue with pandas from the raw rows, as an analyst without the book would.

Written from the text of the price rule, apart from the book's SQL; one currency, no filters. The
frames are those of `synthetic_book.write_raw`, read before the clock starts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Literal

import numpy as np
import pandas as pd

FRESH_DAYS, HALF_LIFE_DAYS = 45, 180
USABLE_MONTHS = 3  # an index value counts for its month and the three after it

Frames = Mapping[str, pd.DataFrame]
Way = Literal["backward", "forward"]


def read(folder: Path) -> dict[str, pd.DataFrame]:
    """Read the raw rows; days become timestamps, repeated words become categories."""
    frames = {path.stem: pd.read_parquet(path) for path in folder.glob("*.parquet")}
    for frame in frames.values():
        for day in {"observed_on", "effective_from", "month"} & set(frame):
            frame[day] = frame[day].astype("datetime64[s]")
        for word in {"supplier", "kind", "dimension"} & set(frame):
            frame[word] = frame[word].astype("category")
    return frames


def drift(frames: Frames, days: Sequence[date]) -> pd.DataFrame:
    """Return dish, month, version, cost_per_portion, complete, share_bridged, by dish and day."""
    on = pd.Series(pd.to_datetime(list(days))).astype("datetime64[s]")
    return dish_costs(frames, on, unit_prices(frames, on))


# prices ------------------------------------------------------------------------------------------
def unit_prices(frames: Frames, on: pd.Series) -> pd.DataFrame:
    """Return ingredient_id, on, unit_price (NaN = missing) and moved_share of every ingredient."""
    seen = source_days(frames["observations"])
    news = seen[["ingredient_id", "observed_on"]].drop_duplicates()
    prices = frames["ingredients"][["ingredient_id"]].merge(on.rename("on"), how="cross")
    prices = nearest_news(prices.sort_values("on"), news, "d0", "backward")
    is_fresh = days_between(prices["d0"], prices["on"]) <= FRESH_DAYS
    stale = nearest_news(prices[~is_fresh], news, "d1", "forward")

    ends = pd.concat([prices["d0"], stale["d1"]]).rename("day")
    ends = pd.concat([prices["ingredient_id"], stale["ingredient_id"]]).to_frame().assign(day=ends)
    typical = typical_prices(ends.dropna().drop_duplicates(), seen, frames)
    at_d0 = typical.rename(columns={"day": "d0", "u": "u0"})
    at_d1 = typical[["ingredient_id", "day", "u"]].rename(columns={"day": "d1", "u": "u1"})
    prices = prices.merge(at_d0, how="left", on=["ingredient_id", "d0"])
    stale = stale.merge(at_d0, how="left", on=["ingredient_id", "d0"])
    stale = bridge(stale.merge(at_d1, how="left", on=["ingredient_id", "d1"]), frames)

    prices = prices.merge(stale[["ingredient_id", "on", "moved"]], how="left")
    bridged = prices["moved"].notna()
    prices["unit_price"] = prices["moved"].where(bridged, prices["u0"])
    prices["moved_share"] = prices["moved_share"].where(~bridged, 1.0)
    return prices[["ingredient_id", "on", "unit_price", "moved_share"]]


def source_days(observations: pd.DataFrame) -> pd.DataFrame:
    """Return the median unit price of each source on each day, by day; offers do not count."""
    rows = observations[observations["kind"] != "offer"]
    paid = rows["price"] * (1 + rows["tax_pct"].fillna(0) / 100)
    seen = (
        rows[["ingredient_id", "supplier", "observed_on"]]
        .assign(unit_price=paid / rows["pack_amount"])
        .groupby(["observed_on", "ingredient_id", "supplier"], observed=True)["unit_price"]
        .median()
        .reset_index()
    )
    seen["source"] = seen.groupby(["ingredient_id", "supplier"], observed=True).ngroup()
    return seen[["ingredient_id", "source", "observed_on", "unit_price"]]


def nearest_news(asked: pd.DataFrame, news: pd.DataFrame, name: str, way: Way) -> pd.DataFrame:
    """Add the last day seen on or before `on`, or the first after it; `asked` is sorted by it."""
    return pd.merge_asof(
        asked,
        news.rename(columns={"observed_on": name}),
        left_on="on",
        right_on=name,
        by="ingredient_id",
        direction=way,
        allow_exact_matches=way == "backward",
    )


def typical_prices(days: pd.DataFrame, seen: pd.DataFrame, frames: Frames) -> pd.DataFrame:
    """Return ingredient_id, day, u and moved_share: the mean of all sources, the older the less."""
    sources = seen[["ingredient_id", "source"]].drop_duplicates()
    asked = pd.merge_asof(
        days.merge(sources, on="ingredient_id").sort_values("day"),
        seen[["source", "observed_on", "unit_price"]],
        left_on="day",
        right_on="observed_on",
        by="source",
    ).dropna(subset="observed_on")
    age = days_between(asked["observed_on"], asked["day"])
    old = asked.loc[age > FRESH_DAYS, ["ingredient_id", "day", "observed_on"]]
    old = old.rename(columns={"day": "on", "observed_on": "d0"}).assign(d1=pd.NaT)
    factor = narrowest_rungs(old, frames)["forth"]  # of the rows of `old`, where a series serves
    value = asked["unit_price"] * factor.reindex(asked.index).fillna(1.0)
    weight = 2 ** (-age / HALF_LIFE_DAYS)
    sums = asked[["ingredient_id", "day"]].assign(
        weight=weight,
        value=weight * value,
        moved=(weight * value).where(asked.index.isin(factor.dropna().index), 0.0),
    )
    sums = sums.groupby(["ingredient_id", "day"], as_index=False).sum()
    sums["u"] = sums["value"] / sums["weight"]
    sums["moved_share"] = sums["moved"] / sums["value"]
    return sums[["ingredient_id", "day", "u", "moved_share"]]


def days_between(first: pd.Series, last: pd.Series) -> pd.Series:
    return (last - first).dt.days


# the official series -----------------------------------------------------------------------------
def bridge(stale: pd.DataFrame, frames: Frames) -> pd.DataFrame:
    """Add `moved`: the typical prices moved by the narrowest series that serves, NaN where none."""
    rung = narrowest_rungs(stale, frames)
    bend = (stale["u1"] / stale["u0"]) / (rung["forth"] / rung["back"])
    gone = days_between(stale["d0"], stale["on"]) - FRESH_DAYS
    share = gone / (days_between(stale["d0"], stale["d1"]) - FRESH_DAYS)
    path = stale["u0"] * rung["forth"]
    ways = [path * bend**share, path, stale["u1"] * rung["back"]]
    return stale.assign(moved=np.select([rung["way"] == way for way in (1, 2, 3)], ways, np.nan))


def narrowest_rungs(moves: pd.DataFrame, frames: Frames) -> pd.DataFrame:
    """Return, for each row of ingredient_id, on, d0 and d1, how a series moves prices to `on`.

    way: 1 between both ends, 2 from d0, 3 from d1 (NaN: no series serves); forth and back: the
    index of `on` over that of d0 and of d1.
    """
    key = ["ingredient_id", "month", "month0", "month1"]
    moves = moves[["ingredient_id"]].assign(
        **{
            f"month{end}": moves[day].dt.to_period("M").dt.start_time.astype("datetime64[s]")
            for day, end in (("on", ""), ("d0", "0"), ("d1", "1"))
        }
    )
    rungs = moves.drop_duplicates().merge(ladder(frames), on="ingredient_id")
    rungs = with_values(rungs, frames["index"])
    rungs["forth"], rungs["back"] = rungs["i"] / rungs["i0"], rungs["i"] / rungs["i1"]
    ways = [  # between both ends, else from d0, else from d1; the first month must be usable
        rungs[~rungs["late0"] & rungs["forth"].notna() & rungs["back"].notna()].assign(
            way=1, held=rungs["late"] | rungs["late1"]
        ),
        rungs[~rungs["late0"] & rungs["forth"].notna()].assign(way=2, held=rungs["late"]),
        rungs[~rungs["late"] & rungs["back"].notna()].assign(way=3, held=rungs["late1"]),
    ]
    found = pd.concat(ways)
    # narrowest first; of series that ended too early, the one that ended last
    found["ended"] = (pd.Timestamp(0) - found["last"]).where(found["held"], pd.Timedelta(0))
    found = found.sort_values(["way", "held", "ended", "rung"]).drop_duplicates(key)
    return moves.merge(found[[*key, "way", "forth", "back"]], how="left", on=key).set_index(
        moves.index
    )


def ladder(frames: Frames) -> pd.DataFrame:
    """Return ingredient_id, rung and series: its own, each one's parent, then the food series."""
    parent = frames["series"].set_index("series")["parent"]
    food = frames["settings"].set_index("name")["value"]["food_series"]
    every = frames["ingredients"][["ingredient_id"]]
    at = pd.concat([frames["ingredients"].assign(rung=0), every.assign(series=food, rung=100)])
    rungs = []
    while len(at := at.dropna(subset="series")):
        rungs.append(at)
        at = at.assign(series=at["series"].map(parent), rung=at["rung"] + 1)
    return pd.concat(rungs).sort_values("rung").drop_duplicates(["ingredient_id", "series"])


def with_values(rungs: pd.DataFrame, index: pd.DataFrame) -> pd.DataFrame:
    """Add the index in the months of on, d0 and d1 (i, i0, i1), and the series' last month.

    A month counts with its own value or one at most three months older. A month later than that
    after the end of its series has the last value, and is marked late (late, late0, late1).
    """
    table = index.pivot(index="month", columns="series", values="value")
    last = table.apply(pd.Series.last_valid_index).rename("last")
    end = rungs[["month", "month0", "month1"]].max().max()
    table = table.reindex(pd.date_range(table.index.min(), end, freq="MS", unit="s"))
    usable = table.ffill(limit=USABLE_MONTHS)
    late = usable.isna() & table.bfill().isna()
    values = pd.DataFrame(
        {"i": usable.fillna(table.ffill().where(late)).unstack(), "late": late.unstack()}
    ).rename_axis(["series", "month"])
    for end in ("", "0", "1"):
        rungs = rungs.join(
            values.rename(columns={"i": f"i{end}", "late": f"late{end}"}),
            on=["series", f"month{end}"],
        )
        rungs[f"late{end}"] = rungs[f"late{end}"].eq(True)
    return rungs.merge(last, left_on="series", right_index=True)


# dishes ------------------------------------------------------------------------------------------
def dish_costs(frames: Frames, on: pd.Series, prices: pd.DataFrame) -> pd.DataFrame:
    """Return the cost per portion of every dish on every day, by dish and day."""
    lines = frames["lines"]
    in_force = versions_in_force(frames["versions"], lines, on)
    lines = lines.assign(quantity=lines["amount"] / (lines["yield_pct"].fillna(100) / 100))

    bought = lines.dropna(subset="ingredient_id").astype({"ingredient_id": "int32"})
    bought = in_force[["row", "on", "version_row"]].merge(
        bought[["version_row", "ingredient_id", "quantity"]], on="version_row"
    )
    bought = bought.merge(prices, on=["ingredient_id", "on"])
    cost = bought["quantity"] * bought["unit_price"]
    own = pd.DataFrame(
        {
            "row": bought["row"],
            "cost": cost,
            "bridged": (cost * bought["moved_share"]).fillna(0.0),
            "missing": cost.isna(),
        }
    )
    own = own.groupby("row").sum().astype(float)

    # a line that takes another dish adds the cost of that dish at the prices of the same day
    uses = in_force[["row", "on", "recipe_day", "version_row"]].merge(
        dish_lines(lines)[["version_row", "sub_dish_id", "amount", "dimension"]], on="version_row"
    )
    part = in_force[["row", "dish_id", "on", "recipe_day", "portions", "batch_weight_g"]]
    uses = uses.merge(
        part.rename(columns={"row": "part", "dish_id": "sub_dish_id"}),
        on=["sub_dish_id", "on", "recipe_day"],
    )
    batches = uses["amount"].where(
        uses["dimension"] != "portion", uses["amount"] / uses["portions"]
    )
    batches = batches.where(uses["dimension"] != "g", uses["amount"] / uses["batch_weight_g"])
    uses = uses.assign(batches=batches)[["row", "part", "batches"]]
    total, above = own, own
    while len(above):
        taken = uses.merge(above, left_on="part", right_index=True).set_index("row")
        taken = taken[own.columns].mul(taken["batches"], axis=0)
        above = taken.groupby("row").sum()
        total = total.add(above, fill_value=0)

    in_force["cost_per_portion"] = total["cost"] / in_force["portions"]
    in_force["complete"] = total["missing"] == 0
    in_force["share_bridged"] = (total["bridged"] / total["cost"]).where(total["cost"] > 0)
    shown = in_force[in_force["asked"]].sort_values(["dish", "on"], ignore_index=True)
    shown["month"] = shown["on"].dt.strftime("%Y-%m")
    return shown[["dish", "month", "version", "cost_per_portion", "complete", "share_bridged"]]


def dish_lines(lines: pd.DataFrame) -> pd.DataFrame:
    return lines[lines["sub_dish_id"].notna()].astype({"sub_dish_id": "int32"})


def versions_in_force(versions: pd.DataFrame, lines: pd.DataFrame, on: pd.Series) -> pd.DataFrame:
    """Return the version of every dish on every day, and of the dishes it takes, as `row`s.

    It is the latest one effective on or before the day, else the dish's first; the dishes it takes
    are those of its recipe day: the day itself, or the day its first version begins if later.
    """
    versions = versions.sort_values(["effective_from", "version_row"])
    first = versions.drop_duplicates("dish_id")
    begins = versions["effective_from"].where(versions.duplicated("dish_id"), pd.Timestamp(0))
    versions = versions.assign(effective_from=begins).sort_values("effective_from")
    takes = dish_lines(lines)[["version_row", "sub_dish_id"]].drop_duplicates()
    key = ["dish_id", "on", "recipe_day"]

    new = first[["dish_id", "effective_from"]].merge(on.rename("on"), how="cross")
    new["recipe_day"] = new["on"].where(new["on"] > new["effective_from"], new["effective_from"])
    new = new[key].assign(asked=True)
    found = []
    while len(new):
        new = pd.merge_asof(
            new.sort_values("recipe_day"),
            versions,
            left_on="recipe_day",
            right_on="effective_from",
            by="dish_id",
        )
        found.append(new)
        known = pd.concat(found)[key].assign(known=True)
        new = new[["on", "recipe_day", "version_row"]].merge(takes, on="version_row")
        new = new.rename(columns={"sub_dish_id": "dish_id"})[key].drop_duplicates()
        new = new.merge(known, how="left", on=key)
        new = new.loc[new["known"].isna(), key].assign(asked=False)
    rows = pd.concat(found, ignore_index=True)
    return rows.assign(row=rows.index)
