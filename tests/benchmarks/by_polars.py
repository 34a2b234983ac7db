"""Costs a whole catalogue with polars from the raw rows, as an analyst without the book would.

Written from the text of the price rule, apart from the book's SQL; one currency, no filters. The
frames are those of `synthetic_book.write_raw`, read before the clock starts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

import polars as pl

FRESH = pl.duration(days=45)
USABLE_MONTHS = 3  # an index value counts for its month and the three after it

Frames = Mapping[str, pl.DataFrame]


def read(folder: Path) -> dict[str, pl.DataFrame]:
    """Read the raw rows; repeated words become categories."""
    frames = {path.stem: pl.read_parquet(path) for path in folder.glob("*.parquet")}
    words = {"supplier", "kind", "dimension"}
    return {
        name: frame.with_columns(pl.col(*words & set(frame.columns)).cast(pl.Categorical))
        if words & set(frame.columns)
        else frame
        for name, frame in frames.items()
    }


def drift(frames: Frames, days: Sequence[date]) -> pl.DataFrame:
    """Return dish, month, version, cost_per_portion, complete, share_bridged, by dish and day."""
    on = pl.DataFrame({"on": list(days)})
    return dish_costs(frames, on, unit_prices(frames, on))


# prices ------------------------------------------------------------------------------------------
def unit_prices(frames: Frames, on: pl.DataFrame) -> pl.DataFrame:
    """Return ingredient_id, on, unit_price (null = missing) and bridged, for every ingredient."""
    seen = stream_days(frames["observations"])
    streams = seen.select("ingredient_id", "stream").unique()
    asked = frames["ingredients"].select("ingredient_id").join(on, how="cross")
    pair = ["ingredient_id", "on"]

    now = latest_of_streams(asked, streams, seen)
    d0 = now.group_by(pair).agg(d0=pl.max("observed_on"))
    typical = now.filter(is_fresh()).group_by(pair).agg(u=pl.median("unit_price"))
    prices = asked.join(d0, on=pair, how="left").join(typical, on=pair, how="left")

    stale = prices.filter(pl.col("u").is_null()).drop("u")
    days_seen = seen.select("ingredient_id", d1="observed_on").unique().sort("d1")
    stale = stale.sort("on").join_asof(
        days_seen,
        left_on="on",
        right_on="d1",
        by="ingredient_id",
        strategy="forward",
        allow_exact_matches=False,
        check_sortedness=False,
    )
    for day, price in (("d0", "u0"), ("d1", "u1")):
        ends = stale.select("ingredient_id", on=day).drop_nulls().unique()
        found = latest_of_streams(ends, streams, seen).filter(is_fresh())
        found = found.group_by(pair).agg(pl.median("unit_price").alias(price))
        found = found.rename({"on": day})
        stale = stale.join(found, on=["ingredient_id", day], how="left")

    return (
        prices.join(stale.select(*pair, "u0"), on=pair, how="left")
        .join(bridge(stale, frames), on=pair, how="left")
        .select(
            *pair,
            unit_price=pl.coalesce("u", "moved", "u0"),
            bridged=pl.col("moved").is_not_null(),
        )
    )


def stream_days(observations: pl.DataFrame) -> pl.DataFrame:
    """Return the median unit price of each stream on each day, by day; offers do not count."""
    paid = pl.col("price") * (1 + pl.col("tax_pct").fill_null(0) / 100)
    shop = pl.col("supplier").to_physical().cast(pl.Int32)
    return (
        observations.lazy()
        .filter(pl.col("kind") != "offer")
        .select(
            "ingredient_id",
            "observed_on",
            stream=pl.col("ingredient_id") * 1000 + shop,  # far fewer shops than 1000
            unit_price=paid / pl.col("pack_amount"),
        )
        .group_by("stream", "observed_on")
        .agg(pl.first("ingredient_id"), pl.median("unit_price"))
        .sort("observed_on")
        .collect()
    )


def is_fresh() -> pl.Expr:
    return pl.col("on") - pl.col("observed_on") <= FRESH


def latest_of_streams(
    asked: pl.DataFrame, streams: pl.DataFrame, seen: pl.DataFrame
) -> pl.DataFrame:
    """Return each stream's latest day on or before each day asked, of any age."""
    latest = (
        asked.join(streams, on="ingredient_id")
        .sort("on")
        .join_asof(
            seen.select("stream", "observed_on", "unit_price"),
            left_on="on",
            right_on="observed_on",
            by="stream",
            coalesce=False,
            check_sortedness=False,
        )
    )
    return latest.drop_nulls("observed_on")


# the official series -----------------------------------------------------------------------------
def bridge(stale: pl.DataFrame, frames: Frames) -> pl.DataFrame:
    """Return ingredient_id, on and moved: the price moved by the narrowest series that serves."""
    rungs = with_values(stale.join(ladder(frames), on="ingredient_id"), frames["index"])
    path = pl.col("u0") * pl.col("i") / pl.col("i0")
    bend = (pl.col("u1") / pl.col("u0")) / (pl.col("i1") / pl.col("i0"))
    share = (pl.col("on") - pl.col("d0")) / (pl.col("d1") - pl.col("d0"))
    back = pl.col("u1") * pl.col("i") / pl.col("i1")
    late, late0, late1 = pl.col("late"), pl.col("late0"), pl.col("late1")
    ways = [  # between both ends, else from d0, else from d1; the first month must be usable
        rungs.filter(~late0).with_columns(
            way=pl.lit(1), moved=path * bend.pow(share), held=late | late1
        ),
        rungs.filter(~late0).with_columns(way=pl.lit(2), moved=path, held=late),
        rungs.filter(~late).with_columns(way=pl.lit(3), moved=back, held=late1),
    ]
    # narrowest first; of series that ended too early, the one that ended last
    ended = pl.when("held").then(pl.col("last"))
    order = ["ingredient_id", "on", "way", "held", "ended", "rung"]
    return (
        pl.concat(ways)
        .drop_nulls("moved")
        .with_columns(ended=ended)
        .sort(order, descending=[False, False, False, False, True, False])
        .unique(["ingredient_id", "on"], keep="first", maintain_order=True)
        .select("ingredient_id", "on", "moved")
    )


def ladder(frames: Frames) -> pl.DataFrame:
    """Return ingredient_id, rung and series: its own series, then each one's parent."""
    at = frames["ingredients"].drop_nulls("series").with_columns(rung=pl.lit(0))
    rungs = []
    while len(at):
        rungs.append(at)
        at = at.join(frames["series"], on="series").drop_nulls("parent")
        at = at.select("ingredient_id", series="parent", rung=pl.col("rung") + 1)
    return pl.concat(rungs)


def with_values(rungs: pl.DataFrame, index: pl.DataFrame) -> pl.DataFrame:
    """Add the index in the months of on, d0 and d1 (i, i0, i1) and the series' last month.

    A month counts with its own value or one at most three months older. A month later than that
    after the end of its series has the last value, and is marked late (late, late0, late1).
    """
    last = index.group_by("series").agg(last=pl.max("month"))
    index = index.sort("month").rename({"month": "value_month"})
    rungs = rungs.join(last, on="series")
    for day, end in (("on", ""), ("d0", "0"), ("d1", "1")):
        month = pl.col(day).dt.truncate("1mo")
        found = (
            rungs.select("series", "last", month=month)
            .drop_nulls()
            .unique()
            .sort("month")
            .join_asof(
                index,
                left_on="month",
                right_on="value_month",
                by="series",
                coalesce=False,
                check_sortedness=False,
            )
            .with_columns(
                usable=pl.col("value_month") >= pl.col("month").dt.offset_by(f"-{USABLE_MONTHS}mo")
            )
            .filter(pl.col("usable") | (pl.col("month") > pl.col("last")))
            .select(
                "series",
                "month",
                pl.col("value").alias(f"i{end}"),
                (~pl.col("usable")).alias(f"late{end}"),
            )
        )
        rungs = rungs.with_columns(month=month).join(found, on=["series", "month"], how="left")
        rungs = rungs.with_columns(pl.col(f"late{end}").fill_null(False))
    return rungs


# dishes ------------------------------------------------------------------------------------------
def dish_costs(frames: Frames, on: pl.DataFrame, prices: pl.DataFrame) -> pl.DataFrame:
    """Return the cost per portion of every dish on every day, by dish and day."""
    in_force = versions_in_force(frames["versions"], on)
    lines = frames["lines"].with_columns(
        quantity=pl.col("amount") / (pl.col("yield_pct").fill_null(100) / 100)
    )
    cost = pl.col("quantity") * pl.col("unit_price")
    own = (
        in_force.lazy()
        .select("row", "on", "version_row")
        .join(
            lines.lazy()
            .drop_nulls("ingredient_id")
            .select("version_row", "ingredient_id", "quantity"),
            on="version_row",
        )
        .join(prices.lazy(), on=["ingredient_id", "on"])
        .group_by("row")
        .agg(
            cost=cost.sum(),
            bridged=cost.filter(pl.col("bridged")).sum(),
            missing=pl.col("unit_price").is_null().sum().cast(pl.Float64),
        )
        .collect()
    )
    # a line that takes another dish adds the cost of that dish on the same day
    part = in_force.select("on", "portions", "batch_weight_g", sub_dish_id="dish_id", part="row")
    batches = (
        pl.when(pl.col("dimension") == "portion")
        .then(pl.col("amount") / pl.col("portions"))
        .when(pl.col("dimension") == "g")
        .then(pl.col("amount") / pl.col("batch_weight_g"))
        .otherwise("amount")
    )
    uses = (
        in_force.select("row", "on", "version_row")
        .join(
            lines.drop_nulls("sub_dish_id").select(
                "version_row", "sub_dish_id", "amount", "dimension"
            ),
            on="version_row",
        )
        .join(part, on=["sub_dish_id", "on"])
        .select("row", "part", batches=batches)
    )
    figures = pl.col("cost", "bridged", "missing")
    total, above = own, own
    while len(above):
        taken = uses.join(above, left_on="part", right_on="row")
        above = taken.group_by("row").agg((figures * pl.col("batches")).sum())
        total = pl.concat([total, above])
    total = total.group_by("row").agg(figures.sum())

    return (
        in_force.join(total, on="row")
        .sort("row")
        .select(
            "dish",
            month=pl.col("on").dt.strftime("%Y-%m"),
            version="version",
            cost_per_portion=pl.col("cost") / pl.col("portions"),
            complete=pl.col("missing") == 0,
            share_bridged=pl.when(pl.col("cost") > 0).then(pl.col("bridged") / pl.col("cost")),
        )
    )


def versions_in_force(versions: pl.DataFrame, on: pl.DataFrame) -> pl.DataFrame:
    """Return the version of every dish on every day, numbered by `row`, by dish and day.

    It is the latest one effective on or before the day, else the dish's first.
    """
    versions = versions.sort("effective_from", "version_row").with_columns(
        effective_from=pl.when(pl.col("dish_id").is_first_distinct())
        .then(date(1, 1, 1))
        .otherwise("effective_from")
    )
    return (
        versions.select("dish_id")
        .unique()
        .join(on, how="cross")
        .sort("on")
        .join_asof(
            versions.sort("effective_from"),
            left_on="on",
            right_on="effective_from",
            by="dish_id",
            check_sortedness=False,
        )
        .sort("dish", "on")
        .with_row_index("row")
    )
