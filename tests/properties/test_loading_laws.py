"""Laws of loading: again adds nothing, order does not matter, a file is taken whole or not."""

from __future__ import annotations

import random
import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ingest.load import FileReport, load_bytes, undo
from pricing.book.connect import Book, reading
from tests.kitchen import TODAY
from tests.loading import SERIES, stocked_book
from tests.loops import rounds

# Rows that are fine, that say the same twice, and that are wrong in several ways.
GOOD_PRICES = [
    "leek,2024-05-02,1.89,USD,500 g,Greens,",
    "LEEKS,2024-05-02,1.890,usd,0.5 kg,greens,shelf",  # the same as the one above
    "leek,2024-05-02,1.89,USD,500 g,,",
    "leek,2024-05-02,3.2,USD,1 bunch,Greens,offer",
    "whole milk,2023-01-31,4.10,USD,1 gallon,Dockside,receipt",
    "whole milk,2023-01-31,3.50,CAD,1 l,Dockside,invoice",
    "egg,2022-12-01,2.99,USD,1 dozen,,",
    "pearl barley,2012-03-01,0.99,USD,1 lb 4 oz,,quote",
]
BAD_PRICES = [
    "leak,2024-05-02,1.89,USD,500 g,,",
    "leek,2024-13-02,1.89,USD,500 g,,",
    "leek,2024-05-02,0,USD,500 g,,",
    "pearl barley,2024-05-02,1,USD,1 pint,,",
    "leek,2024-05-02,1.89,USD",
]
PRICES = "ingredient,date,price,currency,pack,supplier,kind"
FACTS = "ingredient,base,grams_each,aliases"
GOOD_FACTS = ["kale,g,,borecole", "Chard,each,250,", "chard,EACH,250.0,", "beet,g,80,beetroot"]
BAD_FACTS = ["kale,g,12,", "leek,ml,,", "turnip,g,,beetroot", "swede,kg,,"]
DISHES = "dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit"
VERSIONS = [
    ["soup,1,2020-01-01,4,1200,leek,500,g", "soup,1,2020-01-01,4,1200,dish:stock,1,batch"],
    ["soup,2,2022-01-01,4,1100,leek,1,bunch"],
    ["pie,1,2020-01-01,6,,dish:soup,300,g", "pie,1,2020-01-01,6,,egg,2,each"],
    ["tart,1,2020-01-01,6,,dish:pie,1,portion"],
    ["mash,1,2020-01-01,2,,leak,1,g"],  # wrong
    ["gravy,1,2020-01-01,2,,dish:mash,1,batch"],  # falls with it
]


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return stocked_book(tmp_path_factory.mktemp("template"), series=SERIES)


def fresh(template: Book, folder: str) -> Book:
    path = Path(folder) / f"{random.randbytes(8).hex()}.duckdb"
    shutil.copyfile(template.path, path)
    return Book(path=path)


def take(book: Book, kind: str, header: str, rows: list[str], **options: bool) -> FileReport:
    data = "\n".join([header, *rows]).encode()
    return load_bytes(book, kind, f"{kind}.csv", data, today=TODAY, **options)


def stored(book: Book) -> dict[str, list[tuple[Any, ...]]]:
    """Return what counts of each kind, without ids, lines, raw rows and spelling of names."""
    queries = {
        "facts": "SELECT name_key, base, grams_each, array_to_string(aliases, chr(10)).lower() "
        "FROM ingredient_now",
        "prices": "SELECT name_key, observed_on, price, currency, pack_amount, pack_dimension, "
        "supplier_key, kind FROM observation_now JOIN ingredient USING (ingredient_id)",
        "sources": "SELECT name_key, currency, market, supplier_key, observed_on, unit_price "
        "FROM source_day JOIN source USING (source_id, ingredient_id) "
        "JOIN ingredient USING (ingredient_id)",
        "typical": "SELECT name_key, t.* EXCLUDE ingredient_id "
        "FROM typical_day t JOIN ingredient USING (ingredient_id)",
        "dishes": "SELECT v.dish_key, v.version, v.portions, l.position, l.amount, l.dimension "
        "FROM dish_version_now v JOIN dish_line l ON l.version_row = v.row_id",
    }
    with reading(book) as con:
        return {
            name: sorted(con.execute(sql).fetchall(), key=repr) for name, sql in queries.items()
        }


few = settings(
    max_examples=rounds(12),
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
prices = st.lists(st.sampled_from(GOOD_PRICES), min_size=1, max_size=8)
mixed = st.lists(st.sampled_from([*GOOD_PRICES, *BAD_PRICES]), min_size=1, max_size=8)


@few
@given(prices, st.randoms(use_true_random=False))
def test_loading_again_in_any_order_adds_nothing(
    template: Book, rows: list[str], rnd: random.Random
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        book = fresh(template, folder)
        first = take(book, "prices", PRICES, rows)
        before = stored(book)
        again = rnd.sample(rows, len(rows))
        second = take(book, "prices", PRICES, again, accept_unusual=True)
        assert first.problems == second.problems == ()
        assert first.added + first.already == second.already == len(rows)
        assert (second.added, second.load) == (0, None)
        assert stored(book) == before


@few
@given(
    st.lists(st.sampled_from([*GOOD_FACTS, *BAD_FACTS]), min_size=1, max_size=6),
    mixed,
    st.permutations(VERSIONS),
    st.randoms(use_true_random=False),
)
def test_the_order_of_rows_does_not_matter_for_what_is_stored(
    template: Book,
    facts: list[str],
    price_rows: list[str],
    versions: list[list[str]],
    rnd: random.Random,
) -> None:
    dishes = [row for version in VERSIONS for row in version]
    shuffled = [row for version in versions for row in version]  # lines of a version keep theirs
    files = [("ingredients", FACTS, facts), ("prices", PRICES, price_rows)]
    with tempfile.TemporaryDirectory() as folder:
        one, other = fresh(template, folder), fresh(template, folder)
        for kind, header, rows in files:
            a = take(one, kind, header, rows, skip_bad=True)
            b = take(other, kind, header, rnd.sample(rows, len(rows)), skip_bad=True)
            assert (a.added, a.already) == (b.added, b.already)
        a = take(one, "dishes", DISHES, dishes, skip_bad=True)
        b = take(other, "dishes", DISHES, shuffled, skip_bad=True)
        assert (a.added, len(a.problems)) == (b.added, len(b.problems)) == (6, 1)
        assert stored(one) == stored(other)


@few
@given(mixed)
def test_a_file_is_taken_whole_or_not_at_all(template: Book, rows: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        book = fresh(template, folder)
        before = stored(book)
        report = take(book, "prices", PRICES, rows)
        bad = [place for place, row in enumerate(rows, start=2) if row in BAD_PRICES]
        assert [problem.line for problem in report.problems] == bad
        if bad:
            assert (report.load, report.added, report.already) == (None, 0, 0)
            assert stored(book) == before
        else:
            assert report.added + report.already == len(rows)
            assert len(stored(book)["prices"]) == report.added


@few
@given(mixed)
def test_skipping_bad_rows_is_loading_the_good_ones(template: Book, rows: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        one, other = fresh(template, folder), fresh(template, folder)
        good = [row for row in rows if row in GOOD_PRICES]
        skipped = take(one, "prices", PRICES, rows, skip_bad=True)
        assert skipped.added + skipped.already == len(good)
        assert len((skipped.refused_text or "\n").splitlines()) - 1 == len(rows) - len(good)
        if good:
            take(other, "prices", PRICES, good)
        assert stored(one) == stored(other)


@few
@given(prices)
def test_a_dry_run_foretells_the_load_and_undo_takes_it_back(
    template: Book, rows: list[str]
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        book = fresh(template, folder)
        before = stored(book)
        dry = take(book, "prices", PRICES, rows, dry_run=True)
        assert stored(book) == before
        report = take(book, "prices", PRICES, rows)
        assert (dry.added, dry.already) == (report.added, report.already)
        assert undo(book, report.load or 0) == report.added
        assert stored(book) == before
        assert take(book, "prices", PRICES, rows).added == report.added
