"""Costs a whole catalogue with pandas from the raw rows, as an analyst without the book would.

Written from the text of the price rule, apart from the book's SQL; one currency, no filters. The
frames are those of `synthetic_book.write_raw`, read before the clock starts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

import pandas as pd

FRESH = pd.Timedelta(days=45)
USABLE_MONTHS = 3  # an index value counts for its month and the three after it

Frames = Mapping[str, pd.DataFrame]


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
    """Return ingredient_id, on, unit_price (NaN = missing) and bridged, for every ingredient."""
    seen = stream_days(frames["observations"])
    streams = seen[["ingredient_id", "stream"]].drop_duplicates()
    asked = frames["ingredients"][["ingredient_id"]].merge(on.rename("on"), how="cross")

    now = latest_of_streams(asked, streams, seen)
    d0 = now.groupby(["ingredient_id", "on"], as_index=False).agg(d0=("observed_on", "max"))
    fresh = now[now["on"] - now["observed_on"] <= FRESH]
    typical = fresh.groupby(["ingredient_id", "on"], as_index=False).agg(u=("unit_price", "median"))
    prices = asked.merge(d0, how="left").merge(typical, how="left")

    stale = prices.loc[prices["u"].isna(), ["ingredient_id", "on", "d0"]]
    days_seen = seen[["ingredient_id", "observed_on"]].drop_duplicates()
    stale = pd.merge_asof(
        stale.sort_values("on"),
        days_seen.rename(columns={"observed_on": "d1"}),
        left_on="on",
        right_on="d1",
        by="ingredient_id",
        direction="forward",
        allow_exact_matches=False,
    )
    for day, price in (("d0", "u0"), ("d1", "u1")):
        ends = stale[["ingredient_id", day]].dropna().drop_duplicates()
        at_end = latest_of_streams(ends.rename(columns={day: "on"}), streams, seen)
        at_end = at_end[at_end["on"] - at_end["observed_on"] <= FRESH]
        found = at_end.groupby(["ingredient_id", "on"])["unit_price"].median().rename(price)
        stale = stale.merge(found, how="left", left_on=["ingredient_id", day], right_index=True)

    moved = bridge(stale, frames)
    prices = prices.merge(stale[["ingredient_id", "on", "u0"]], how="left").merge(moved, how="left")
    prices["bridged"] = prices["moved"].notna()
    prices["unit_price"] = prices["u"].fillna(prices["moved"]).fillna(prices["u0"])
    return prices[["ingredient_id", "on", "unit_price", "bridged"]]


def stream_days(observations: pd.DataFrame) -> pd.DataFrame:
    """Return the median unit price of each stream on each day, by day; offers do not count."""
    rows = observations[observations["kind"] != "offer"]
    paid = rows["price"] * (1 + rows["tax_pct"].fillna(0) / 100)
    seen = (
        rows[["ingredient_id", "supplier", "observed_on"]]
        .assign(unit_price=paid / rows["pack_amount"])
        .groupby(["observed_on", "ingredient_id", "supplier"], observed=True)["unit_price"]
        .median()
        .reset_index()
    )
    seen["stream"] = seen.groupby(["ingredient_id", "supplier"], observed=True).ngroup()
    return seen[["ingredient_id", "stream", "observed_on", "unit_price"]]


def latest_of_streams(
    asked: pd.DataFrame, streams: pd.DataFrame, seen: pd.DataFrame
) -> pd.DataFrame:
    """Return each stream's latest day on or before each day asked, of any age."""
    wanted = asked.merge(streams, on="ingredient_id").sort_values("on")
    latest = pd.merge_asof(
        wanted,
        seen[["stream", "observed_on", "unit_price"]],
        left_on="on",
        right_on="observed_on",
        by="stream",
    )
    return latest.dropna(subset="observed_on")


# the official series -----------------------------------------------------------------------------
def bridge(stale: pd.DataFrame, frames: Frames) -> pd.DataFrame:
    """Return ingredient_id, on and moved: the price moved by the narrowest series that serves."""
    rungs = with_values(stale.merge(ladder(frames), on="ingredient_id"), frames["index"])
    path = rungs["u0"] * rungs["i"] / rungs["i0"]
    bend = (rungs["u1"] / rungs["u0"]) / (rungs["i1"] / rungs["i0"])
    share = (rungs["on"] - rungs["d0"]) / (rungs["d1"] - rungs["d0"])
    back = rungs["u1"] * rungs["i"] / rungs["i1"]
    ways = [  # between both ends, else from d0, else from d1; the first month must be usable
        rungs.assign(way=1, moved=path * bend**share, held=rungs["late"] | rungs["late1"])[
            ~rungs["late0"]
        ],
        rungs.assign(way=2, moved=path, held=rungs["late"])[~rungs["late0"]],
        rungs.assign(way=3, moved=back, held=rungs["late1"])[~rungs["late"]],
    ]
    found = pd.concat(ways).dropna(subset="moved")
    # narrowest first; of series that ended too early, the one that ended last
    found["ended"] = (pd.Timestamp(0) - found["last"]).where(found["held"], pd.Timedelta(0))
    found = found.sort_values(["ingredient_id", "on", "way", "held", "ended", "rung"])
    return found.drop_duplicates(["ingredient_id", "on"])[["ingredient_id", "on", "moved"]]


def ladder(frames: Frames) -> pd.DataFrame:
    """Return ingredient_id, rung and series: its own series, then each one's parent."""
    parent = frames["series"].set_index("series")["parent"]
    at = frames["ingredients"].dropna(subset="series").assign(rung=0)
    rungs = []
    while len(at):
        rungs.append(at)
        at = at.assign(series=at["series"].map(parent), rung=at["rung"] + 1)
        at = at.dropna(subset="series")
    return pd.concat(rungs)


def with_values(rungs: pd.DataFrame, index: pd.DataFrame) -> pd.DataFrame:
    """Add the index in the months of on, d0 and d1 (i, i0, i1) and the series' last month.

    A month counts with its own value or one at most three months older. A month later than that
    after the end of its series has the last value, and is marked late (late, late0, late1).
    """
    table = index.pivot(index="month", columns="series", values="value")
    last = table.apply(pd.Series.last_valid_index).rename("last")
    end = max(rungs["on"].max(), rungs["d1"].max())
    table = table.reindex(pd.date_range(table.index.min(), end, freq="MS", unit="s"))
    usable = table.ffill(limit=USABLE_MONTHS)
    late = usable.isna() & table.bfill().isna()
    values = pd.DataFrame(
        {"i": usable.fillna(table.ffill().where(late)).unstack(), "late": late.unstack()}
    ).rename_axis(["series", "month"])
    for day, end in (("on", ""), ("d0", "0"), ("d1", "1")):
        month = rungs[day].dt.to_period("M").dt.start_time.astype("datetime64[s]")
        rungs = rungs.assign(month=month).join(
            values.rename(columns={"i": f"i{end}", "late": f"late{end}"}), on=["series", "month"]
        )
        rungs[f"late{end}"] = rungs[f"late{end}"].eq(True)
    return rungs.merge(last, left_on="series", right_index=True)


# dishes ------------------------------------------------------------------------------------------
def dish_costs(frames: Frames, on: pd.Series, prices: pd.DataFrame) -> pd.DataFrame:
    """Return the cost per portion of every dish on every day, by dish and day."""
    in_force = versions_in_force(frames["versions"], on)
    lines = frames["lines"]
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
            "bridged": cost.where(bought["bridged"], 0.0),
            "missing": cost.isna(),
        }
    )
    own = own.groupby("row").sum().astype(float)

    # a line that takes another dish adds the cost of that dish on the same day
    uses = in_force[["row", "on", "version_row"]].merge(
        lines.loc[
            lines["sub_dish_id"].notna(), ["version_row", "sub_dish_id", "amount", "dimension"]
        ],
        on="version_row",
    )
    part = in_force[["row", "dish_id", "on", "portions", "batch_weight_g"]]
    uses = uses.astype({"sub_dish_id": "int32"}).merge(
        part.rename(columns={"row": "part", "dish_id": "sub_dish_id"}), on=["sub_dish_id", "on"]
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
    return in_force[["dish", "month", "version", "cost_per_portion", "complete", "share_bridged"]]


def versions_in_force(versions: pd.DataFrame, on: pd.Series) -> pd.DataFrame:
    """Return the version of every dish on every day, numbered by `row`, by dish and day.

    It is the latest one effective on or before the day, else the dish's first.
    """
    versions = versions.sort_values(["effective_from", "version_row"])
    first = ~versions.duplicated("dish_id")
    versions["effective_from"] = versions["effective_from"].where(~first, pd.Timestamp(0))
    months = pd.DataFrame({"on": on, "month": on.dt.strftime("%Y-%m")})
    asked = versions.loc[first].sort_values("dish")[["dish_id"]].merge(months, how="cross")
    asked["row"] = asked.index
    found = pd.merge_asof(
        asked.sort_values("on"),
        versions.sort_values("effective_from"),
        left_on="on",
        right_on="effective_from",
        by="dish_id",
    )
    return found.set_index("row", drop=False).rename_axis(None).sort_index()
