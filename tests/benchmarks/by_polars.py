"""Costs a whole catalogue with polars from the raw rows, as an analyst without the book would.

Written from the text of the price rule, apart from the book's SQL; one currency, no filters. The
frames are those of `synthetic_book.write_raw`, read before the clock starts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Literal

import polars as pl

FRESH_DAYS, HALF_LIFE_DAYS = 45, 180
USABLE_MONTHS = 3  # an index value counts for its month and the three after it

Frames = Mapping[str, pl.DataFrame]
Way = Literal["backward", "forward"]


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
    """Return ingredient_id, on, unit_price (null = missing) and moved_share of every ingredient."""
    seen = source_days(frames["observations"])
    news = seen.select("ingredient_id", "observed_on").unique().sort("observed_on")
    prices = frames["ingredients"].select("ingredient_id").join(on, how="cross").sort("on")
    prices = nearest_news(prices, news, "d0", "backward")
    is_fresh = days_between("d0", "on") <= FRESH_DAYS
    stale = nearest_news(prices.filter(~is_fresh.fill_null(False)), news, "d1", "forward")

    ends = [prices.select("ingredient_id", day="d0"), stale.select("ingredient_id", day="d1")]
    typical = typical_prices(pl.concat(ends).drop_nulls().unique(), seen, frames)
    at_d0 = typical.rename({"day": "d0", "u": "u0"})
    at_d1 = typical.select("ingredient_id", d1="day", u1="u")
    stale = stale.join(at_d0, on=["ingredient_id", "d0"], how="left")
    stale = bridge(stale.join(at_d1, on=["ingredient_id", "d1"], how="left"), frames)
    bridged = pl.col("moved").is_not_null()
    return (
        prices.join(at_d0, on=["ingredient_id", "d0"], how="left")
        .join(stale.select("ingredient_id", "on", "moved"), on=["ingredient_id", "on"], how="left")
        .select(
            "ingredient_id",
            "on",
            unit_price=pl.coalesce("moved", "u0"),
            moved_share=pl.when(bridged).then(1.0).otherwise("moved_share"),
        )
    )


def source_days(observations: pl.DataFrame) -> pl.DataFrame:
    """Return the median unit price of each source on each day, by day; offers do not count."""
    paid = pl.col("price") * (1 + pl.col("tax_pct").fill_null(0) / 100)
    shop = pl.col("supplier").to_physical().cast(pl.Int32)
    return (
        observations.lazy()
        .filter(pl.col("kind") != "offer")
        .select(
            "ingredient_id",
            "observed_on",
            source=pl.col("ingredient_id") * 1000 + shop,  # far fewer shops than 1000
            unit_price=paid / pl.col("pack_amount"),
        )
        .group_by("source", "observed_on")
        .agg(pl.first("ingredient_id"), pl.median("unit_price"))
        .sort("observed_on")
        .collect()
    )


def nearest_news(asked: pl.DataFrame, news: pl.DataFrame, name: str, way: Way) -> pl.DataFrame:
    """Add the last day seen on or before `on`, or the first after it; `asked` is sorted by it."""
    return asked.join_asof(
        news.rename({"observed_on": name}),
        left_on="on",
        right_on=name,
        by="ingredient_id",
        strategy=way,
        allow_exact_matches=way == "backward",
        coalesce=False,
        check_sortedness=False,
    )


def typical_prices(days: pl.DataFrame, seen: pl.DataFrame, frames: Frames) -> pl.DataFrame:
    """Return ingredient_id, day, u and moved_share: the mean of all sources, the older the less."""
    asked = (
        days.join(seen.select("ingredient_id", "source").unique(), on="ingredient_id")
        .sort("day")
        .join_asof(
            seen.select("source", "observed_on", "unit_price"),
            left_on="day",
            right_on="observed_on",
            by="source",
            coalesce=False,
            check_sortedness=False,
        )
        .drop_nulls("observed_on")
        .with_columns(age=days_between("observed_on", "day"))
    )
    old = asked.filter(pl.col("age") > FRESH_DAYS)
    old = old.select("ingredient_id", on="day", d0="observed_on").unique()
    old = with_rungs(old.with_columns(d1=pl.lit(None, pl.Date)), frames)
    old = old.select("ingredient_id", "forth", day="on", observed_on="d0")
    weight = 0.5 ** (pl.col("age") / HALF_LIFE_DAYS)
    value = weight * pl.col("unit_price") * pl.col("forth").fill_null(1.0)
    return (
        asked.join(old, on=["ingredient_id", "day", "observed_on"], how="left")
        .group_by("ingredient_id", "day")
        .agg(
            u=value.sum() / weight.sum(),
            moved_share=value.filter(pl.col("forth").is_not_null()).sum() / value.sum(),
        )
    )


def days_between(first: str, last: str) -> pl.Expr:
    return (pl.col(last) - pl.col(first)).dt.total_days()


# the official series -----------------------------------------------------------------------------
def bridge(stale: pl.DataFrame, frames: Frames) -> pl.DataFrame:
    """Add `moved`: the typical prices moved by the narrowest series that serves, or null."""
    bend = (pl.col("u1") / pl.col("u0")) / (pl.col("forth") / pl.col("back"))
    gone, gap = days_between("d0", "on") - FRESH_DAYS, days_between("d0", "d1") - FRESH_DAYS
    path = pl.col("u0") * pl.col("forth")
    return with_rungs(stale, frames).with_columns(
        moved=pl.when(pl.col("way") == 1)
        .then(path * bend.pow(gone / gap))
        .when(pl.col("way") == 2)
        .then(path)
        .when(pl.col("way") == 3)
        .then(pl.col("u1") * pl.col("back"))
    )


def with_rungs(moves: pl.DataFrame, frames: Frames) -> pl.DataFrame:
    """Add to rows of ingredient_id, on, d0 and d1 how a series moves prices to `on`.

    way: 1 between both ends, 2 from d0, 3 from d1 (null: no series serves); forth and back: the
    index of `on` over that of d0 and of d1.
    """
    months = {
        f"month{end}": pl.col(day).dt.truncate("1mo")
        for day, end in (("on", ""), ("d0", "0"), ("d1", "1"))
    }
    moves = moves.with_columns(**months)
    key = ["ingredient_id", *months]
    rungs = moves.select(key).unique().join(ladder(frames), on="ingredient_id")
    rungs = with_values(rungs, frames["index"]).with_columns(
        forth=pl.col("i") / pl.col("i0"), back=pl.col("i") / pl.col("i1")
    )
    late, late0, late1 = pl.col("late"), pl.col("late0"), pl.col("late1")
    forth, back = pl.col("forth").is_not_null(), pl.col("back").is_not_null()
    ways = [  # between both ends, else from d0, else from d1; the first month must be usable
        rungs.filter(~late0 & forth & back).with_columns(way=pl.lit(1), held=late | late1),
        rungs.filter(~late0 & forth).with_columns(way=pl.lit(2), held=late),
        rungs.filter(~late & back).with_columns(way=pl.lit(3), held=late1),
    ]
    # narrowest first; of series that ended too early, the one that ended last
    found = (
        pl.concat(ways)
        .with_columns(ended=pl.when("held").then(pl.col("last")))
        .sort("way", "held", "ended", "rung", descending=[False, False, True, False])
        .unique(key, keep="first", maintain_order=True)
        .select(*key, "way", "forth", "back")
    )
    return moves.join(found, on=key, how="left", nulls_equal=True)


def ladder(frames: Frames) -> pl.DataFrame:
    """Return ingredient_id, rung and series: its own, each one's parent, then the food series."""
    food = frames["settings"].filter(pl.col("name") == "food_series")["value"].item()
    every = frames["ingredients"].select("ingredient_id", series=pl.lit(food), rung=pl.lit(100))
    own = frames["ingredients"].select("ingredient_id", "series", rung=pl.lit(0))
    at = pl.concat([own, every]).drop_nulls("series")
    rungs = []
    while len(at):
        rungs.append(at)
        at = at.join(frames["series"], on="series").drop_nulls("parent")
        at = at.select("ingredient_id", series="parent", rung=pl.col("rung") + 1)
    return pl.concat(rungs).sort("rung").unique(["ingredient_id", "series"], keep="first")


def with_values(rungs: pl.DataFrame, index: pl.DataFrame) -> pl.DataFrame:
    """Add the index in the months of on, d0 and d1 (i, i0, i1), and the series' last month.

    A month counts with its own value or one at most three months older. A month later than that
    after the end of its series has the last value, and is marked late (late, late0, late1).
    """
    last = index.group_by("series").agg(last=pl.max("month"))
    index = index.sort("month").rename({"month": "value_month"})
    rungs = rungs.join(last, on="series")
    for end in ("", "0", "1"):
        found = (
            rungs.select("series", "last", month=f"month{end}")
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
                pl.col("month").alias(f"month{end}"),
                pl.col("value").alias(f"i{end}"),
                (~pl.col("usable")).alias(f"late{end}"),
            )
        )
        rungs = rungs.join(found, on=["series", f"month{end}"], how="left")
        rungs = rungs.with_columns(pl.col(f"late{end}").fill_null(False))
    return rungs


# dishes ------------------------------------------------------------------------------------------
def dish_costs(frames: Frames, on: pl.DataFrame, prices: pl.DataFrame) -> pl.DataFrame:
    """Return the cost per portion of every dish on every day, by dish and day."""
    in_force = versions_in_force(frames["versions"], frames["lines"], on)
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
            bridged=(cost * pl.col("moved_share")).sum(),
            missing=pl.col("unit_price").is_null().sum().cast(pl.Float64),
        )
        .collect()
    )
    # a line that takes another dish adds the cost of that dish at the prices of the same day
    part = in_force.select(
        "on", "recipe_day", "portions", "batch_weight_g", sub_dish_id="dish_id", part="row"
    )
    batches = (
        pl.when(pl.col("dimension") == "portion")
        .then(pl.col("amount") / pl.col("portions"))
        .when(pl.col("dimension") == "g")
        .then(pl.col("amount") / pl.col("batch_weight_g"))
        .otherwise("amount")
    )
    uses = (
        in_force.select("row", "on", "recipe_day", "version_row")
        .join(
            lines.drop_nulls("sub_dish_id").select(
                "version_row", "sub_dish_id", "amount", "dimension"
            ),
            on="version_row",
        )
        .join(part, on=["sub_dish_id", "on", "recipe_day"])
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
        in_force.filter("asked")
        .join(total, on="row")
        .sort("dish", "on")
        .select(
            "dish",
            month=pl.col("on").dt.strftime("%Y-%m"),
            version="version",
            cost_per_portion=pl.col("cost") / pl.col("portions"),
            complete=pl.col("missing") == 0,
            share_bridged=pl.when(pl.col("cost") > 0).then(pl.col("bridged") / pl.col("cost")),
        )
    )


def versions_in_force(
    versions: pl.DataFrame, lines: pl.DataFrame, on: pl.DataFrame
) -> pl.DataFrame:
    """Return the version of every dish on every day, and of the dishes it takes, as `row`s.

    It is the latest one effective on or before the day, else the dish's first; the dishes it takes
    are those of its recipe day: the day itself, or the day its first version begins if later.
    """
    versions = versions.sort("effective_from", "version_row")
    first = versions.unique("dish_id", keep="first", maintain_order=True)
    versions = versions.with_columns(
        effective_from=pl.when(pl.col("dish_id").is_first_distinct())
        .then(date(1, 1, 1))
        .otherwise("effective_from")
    ).sort("effective_from")
    takes = lines.drop_nulls("sub_dish_id").select("version_row", "sub_dish_id").unique()
    key = ["dish_id", "on", "recipe_day"]

    new = first.join(on, how="cross").select(
        "dish_id", "on", recipe_day=pl.max_horizontal("on", "effective_from"), asked=pl.lit(True)
    )
    found = []
    while len(new):
        new = new.sort("recipe_day").join_asof(
            versions,
            left_on="recipe_day",
            right_on="effective_from",
            by="dish_id",
            check_sortedness=False,
        )
        found.append(new)
        new = new.join(takes, on="version_row").select("on", "recipe_day", dish_id="sub_dish_id")
        new = new.select(key).unique().join(pl.concat(found), on=key, how="anti")
        new = new.with_columns(asked=pl.lit(False))
    return pl.concat(found).with_row_index("row")
