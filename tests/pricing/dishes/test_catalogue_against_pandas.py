"""The whole catalogue over fifteen years agrees with scripts that know nothing of the book.

The scripts (tests/benchmarks/by_pandas.py, by_polars.py) are written from the text of the price
rule and read the raw rows; they share no code with pricing.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest

import pricing
from pricing.book.connect import Book, reading
from tests.benchmarks import by_pandas, by_polars
from tests.benchmarks.contender import months
from tests.benchmarks.synthetic_book import Size, build, write_raw

FIRST, LAST = "2011-10", "2026-09"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a book of 51 ingredients and 300 dishes, and the same rows as parquet files."""
    made = tmp_path_factory.mktemp("synthetic")
    book = build(made / "book.duckdb", Size(prices=20_000, ingredients=51, dishes=300))
    (made / "raw").mkdir()
    with reading(book) as con:
        write_raw(con, made / "raw")
    return made


def ours(folder: Path) -> pd.DataFrame:
    return pricing.drift(Book(path=folder / "book.duckdb"), start=FIRST, end=LAST)


def pandas_script(folder: Path) -> pd.DataFrame:
    return by_pandas.drift(by_pandas.read(folder / "raw"), months(FIRST, LAST))


def polars_script(folder: Path) -> pd.DataFrame:
    found = by_polars.drift(by_polars.read(folder / "raw"), months(FIRST, LAST))
    return pd.DataFrame(found.to_dict(as_series=False))


@pytest.mark.parametrize("script", [pandas_script, polars_script])
def test_every_dish_costs_the_same_in_every_month(
    folder: Path, script: Callable[[Path], pd.DataFrame]
) -> None:
    found, expected = ours(folder), script(folder)
    assert len(found) == 300 * 180
    for column in ("dish", "month", "version", "complete"):
        assert found[column].tolist() == expected[column].tolist(), column
    for column, tolerance in (("cost_per_portion", 0.0), ("share_bridged", 1e-12)):
        pd.testing.assert_series_equal(
            found[column], expected[column], check_exact=False, rtol=1e-9, atol=tolerance
        )


def test_the_book_holds_what_the_rule_is_about(folder: Path) -> None:
    found, raw = ours(folder), by_pandas.read(folder / "raw")
    seen = raw["observations"]
    source_day = ["ingredient_id", "supplier", "observed_on"]
    assert seen.duplicated(source_day).sum() > 100
    assert (seen["kind"] == "offer").sum() > 100
    assert seen["tax_pct"].notna().sum() > 100
    assert raw["ingredients"]["series"].isna().any()
    assert raw["lines"]["sub_dish_id"].notna().sum() > 30
    assert set(raw["lines"]["dimension"]) == {"g", "ml", "each", "portion", "batch"}
    assert found.groupby("dish")["version"].nunique().eq(2).sum() > 10
    bridged = found["share_bridged"]
    assert (bridged > 0.5).sum() > 100
    assert ((bridged > 0) & (bridged < 0.1)).sum() > 100  # moved prices inside a mean
    assert (bridged == 0).sum() > 100
    assert not found["complete"].all()
