"""A new book has its settings and the bundled official series, and leaves nothing when it fails."""

from __future__ import annotations

from pathlib import Path

import pytest

from ingest import new_book as load_bundled
from ingest.new_book import create_book
from pricing.book.append import rows_digest
from pricing.book.connect import reading
from pricing.book.read import Settings
from pricing.contents.settings import book_settings, change_setting
from pricing.errors import BookUnreadable, InputRefused
from pricing.money import CurrencyRefused
from tests.loading import ask


def test_a_us_dollar_book_rebases_by_its_own_series(tmp_path: Path) -> None:
    book = create_book(tmp_path / "new" / "kitchen.duckdb", "usd", "US")
    assert book_settings(book) == Settings(
        currency="USD",
        measures="us",
        fresh_days=45,
        half_life_days=180,
        market="shop",
        food_series="us-bls:SAF11",
        all_items_series="us-bls:SA0",
        allergen_list="us",
        rate_per_hour=None,
    )


def test_a_book_in_another_currency_names_no_series(tmp_path: Path) -> None:
    settings = book_settings(create_book(tmp_path / "kitchen.duckdb", "GBP"))
    assert (settings.currency, settings.measures) == ("GBP", "metric")
    assert (settings.food_series, settings.all_items_series) == (None, None)
    assert settings.allergen_list == "eu"


def test_settings_are_changed_and_wrong_ones_are_refused(tmp_path: Path) -> None:
    book = create_book(tmp_path / "kitchen.duckdb", "GBP")
    change_setting(book, "allergen_list", "us")
    change_setting(book, "rate_per_hour", "18.50")
    held = book_settings(book)
    assert (held.allergen_list, held.rate_per_hour) == ("us", 18.5)
    for name, value in (("allergen_list", "fr"), ("rate_per_hour", "0"), ("rate_per_hour", "x")):
        with pytest.raises(InputRefused, match=f"Found {name} '{value}'; expected"):
            change_setting(book, name, value)
    assert book_settings(book) == held


def test_the_bundled_series_are_one_batch_with_its_digest(tmp_path: Path) -> None:
    """CPI-U, all items, U.S. city average, March 2012: 229.392 (BLS)."""
    book = create_book(tmp_path / "kitchen.duckdb", "USD")
    [(batch, kind, name, added, digest)] = ask(
        book, "SELECT batch, kind, file_name, added, rows_sha256 FROM load_batch"
    )
    assert (batch, kind, name) == (1, "index", "bundled")
    assert ask(book, "SELECT count(*) FROM series_value_now") == [(added,)]
    assert ask(
        book,
        "SELECT value FROM series_value_now WHERE series = 'us-bls:SA0' AND month = '2012-03-01'",
    ) == [(229.392,)]
    with reading(book) as con:
        assert rows_digest(con, "index", 1) == digest


def test_an_existing_file_is_not_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "kitchen.duckdb"
    path.write_bytes(b"precious")
    with pytest.raises(BookUnreadable, match="already"):
        create_book(path, "USD")
    assert path.read_bytes() == b"precious"


@pytest.mark.parametrize(("currency", "measures"), [("USB", "us"), ("USD", "imperial")])
def test_wrong_settings_make_no_file(tmp_path: Path, currency: str, measures: str) -> None:
    with pytest.raises((CurrencyRefused, InputRefused)):
        create_book(tmp_path / "kitchen.duckdb", currency, measures)
    assert list(tmp_path.iterdir()) == []


def test_a_failure_half_way_leaves_no_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail() -> None:
        raise OSError("the package is damaged")

    monkeypatch.setattr(load_bundled, "bundled_series", fail)
    with pytest.raises(OSError, match="damaged"):
        create_book(tmp_path / "kitchen.duckdb", "USD")
    assert list(tmp_path.iterdir()) == []
