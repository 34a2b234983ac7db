"""An examination of a book finds what was changed, lost or cut off, and says what to do."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import duckdb
import pytest

import pricing
from pricing.book import migrate
from pricing.book.connect import Book, writing
from pricing.book.keeping import check_structure
from pricing.book.keeping.check import check
from pricing.book.keeping.info import info
from pricing.errors import BookUnreadable
from tests.former_book import former_book
from tests.loops import WHOLE


def tamper(book: Book, table: str, *statements: str) -> None:
    """Change stored rows as someone would who takes the guards away and puts them back."""
    with duckdb.connect(str(book.path)) as con:
        guards = con.execute(
            "SELECT trigger_name, sql FROM duckdb_triggers() WHERE table_name = $table",
            {"table": table},
        ).fetchall()
        for name, _ in guards:
            con.execute(f"DROP TRIGGER {name} ON {table}")
        for statement in statements:
            con.execute(statement)
        for _, sql in guards:
            con.execute(sql)


def only_problem(book: Book) -> str:
    (problem,) = check(book).problems
    return problem


def test_an_orderly_book_is_sound_and_counted(book: Book) -> None:
    report = check(book)
    assert report.problems == ()
    counts = {name: many for name, many in report.counts.items() if many}
    assert counts == {
        "dish": 2,
        "dish_line": 3,
        "dish_version": 2,
        "ingredient": 3,
        "ingredient_fact": 3,
        "load_batch": 7,
        "measure": 1,
        "migration": len(migrate.migrations()),
        "observation": 5,
        "printed_detail": 1,
        "printed_evidence": 1,
        "printed_figure": 1,
        "series": 1,
        "series_value": 2,
        "setting": 3,
        # leek at Quay Market, leek at no stated shop, barley at Salt Lane, eggs: four sources of a
        # day each; the offer counts in none; both of leek were seen on one day
        "source": 4,
        "source_day": 4,
        "swap": 1,
        "typical_day": 3,
    }


def test_examining_changes_nothing(book: Book) -> None:
    before = book.path.read_bytes()
    check(book)
    assert book.path.read_bytes() == before


def test_an_edited_price_is_found_by_its_load(book: Book) -> None:
    tamper(book, "observation", "UPDATE observation SET note = 'x' WHERE line = 4")
    assert "load 3 (prices, prices.csv, loaded 20" in only_problem(book)
    assert "not as they were stored" in only_problem(book)
    assert "portiondrift restore" in only_problem(book)


@pytest.mark.parametrize(
    ("table", "change", "batch"),
    [
        ("dish_line", "SET quantity = '2', amount = 2 WHERE line = 2", 4),
        ("dish_version", "SET portions = 9 WHERE line = 2", 4),
        ("ingredient_fact", "SET yield_pct = 53 WHERE line = 2", 1),
        ("ingredient_fact", "SET allergens = NULL WHERE line = 2", 1),
        ("measure", "SET source = 'a guess'", 2),
        ("swap", "SET ratio = 1.25", 5),
        ("printed_figure", "SET raw = raw || ' '", 6),
        ("series", "SET title = NULL", 7),
        ("series_value", "SET value = 101.70000000000002 WHERE line = 3", 7),
    ],
)
def test_an_edited_row_of_any_kind_is_found(
    book: Book, table: str, change: str, batch: int
) -> None:
    tamper(book, table, f"UPDATE {table} {change}")
    assert f"load {batch} (" in only_problem(book)


def test_an_edited_price_also_shows_in_the_kept_prices(book: Book) -> None:
    tamper(book, "observation", "UPDATE observation SET price = 2.10 WHERE line = 2")
    stored, derived = check(book).problems
    assert "load 3 (" in stored
    # what the source asked that day; the typical price agrees with what is kept of the source
    assert "1 kept prices missing or different and 1 left over" in derived


def test_a_deleted_row_is_found(book: Book) -> None:
    tamper(book, "observation", "DELETE FROM observation WHERE line = 4")  # the offer
    assert "4 data rows of load 3" in only_problem(book)
    assert "expected 5" in only_problem(book)


def test_a_missing_day_of_a_source_is_found_and_mended(book: Book) -> None:
    with writing(book) as con:
        con.execute("DELETE FROM source_day WHERE unit_price = 2.00 / 500")
    # the day of that source, and the typical price of the day, which it was one of two in
    assert "2 kept prices missing or different and 1 left over" in only_problem(book)
    assert "check --upgrade" in only_problem(book)
    assert check(book, upgrade=True).problems == ()
    assert check(book).problems == ()


@pytest.mark.parametrize(
    ("table", "price"),
    [("source_day", "unit_price"), ("typical_day", "unit_price"), ("typical_day", "as_seen")],
)
def test_a_kept_price_that_differs_in_the_last_bit_is_found(
    book: Book, table: str, price: str
) -> None:
    with writing(book) as con:
        con.execute(f"UPDATE {table} SET {price} = {price} * (1 + 3e-16)")
    # 3 rows or 4, of which those whose product rounds back are the same: at least one differs
    assert "kept prices missing or different" in only_problem(book)
    assert check(book, upgrade=True).problems == ()


def test_a_changed_step_is_found(book: Book) -> None:
    with duckdb.connect(str(book.path)) as con:
        con.execute("UPDATE migration SET sha256 = 'f00d' WHERE number = 1")
    assert "structure step 1" in only_problem(book)
    assert "portiondrift export" in only_problem(book)


def test_a_missing_guard_is_found(book: Book) -> None:
    with duckdb.connect(str(book.path)) as con:
        con.execute("DROP TRIGGER printed_figure_never_edited ON printed_figure")
    assert "no trigger printed_figure_never_edited" in only_problem(book)


def test_a_missing_table_and_an_altered_rule_are_found(book: Book) -> None:
    with duckdb.connect(str(book.path)) as con:
        con.execute("DROP TABLE printed_figure")
        con.execute("CREATE OR REPLACE MACRO in_base(a, b, c, d, e, f) AS 1.0")
    problems = check(book).problems
    assert any("no table printed_figure" in problem for problem in problems)
    assert any("the macro in_base altered" in problem for problem in problems)


@pytest.mark.parametrize(
    ("statement", "found"),
    [
        (
            "INSERT INTO retraction VALUES (4711, '2020-01-01', 'typed wrongly')",
            "retractions of a row that does not exist (first: row 4711)",
        ),
        (
            "INSERT INTO swap (batch, line, ingredient_id, substitute_id, ratio) "
            "VALUES (88, 5, 1, 3, 1)",
            "rows of a load that is not recorded (first: load 88, line 5)",
        ),
        (
            "INSERT INTO swap (batch, line, ingredient_id, substitute_id, ratio) "
            "VALUES (5, 9, 1, 77, 1)",
            "rows of an ingredient that has no name (first: load 5, line 9)",
        ),
        (
            "INSERT INTO dish_version (batch, line, dish_id, version, effective_from, portions) "
            "VALUES (4, 9, 77, '1', '2020-01-01', 4)",
            "rows of a dish that has no name (first: load 4, line 9)",
        ),
        (
            "INSERT INTO dish_line (batch, line, version_row, position, ingredient_id, quantity, "
            "unit, amount, dimension, state, pantry) "
            "VALUES (4, 9, 4711, 1, 1, '1', 'g', 1, 'g', 'as_purchased', false)",
            "recipe lines of a version that does not exist (first: load 4, line 9)",
        ),
        (
            "INSERT INTO dish_version (batch, line, dish_id, version, effective_from, portions) "
            "VALUES (4, 9, 2, '2', '2021-01-01', 4)",
            "dish versions without lines (first: load 4, line 9)",
        ),
        (
            "INSERT INTO measure (row_id, batch, ingredient_id, measure, measure_key, grams) "
            "VALUES (4, 2, 3, 'bunch', 'bunch', 9)",
            "rows with a number that another row has",
        ),
        (
            "INSERT INTO retraction SELECT row_id, '2020-01-01', 'undone' FROM ingredient_fact "
            "WHERE ingredient_id = 3",
            "prices of an ingredient without facts in force (first: load 3, line 6)",
        ),
        (
            "INSERT INTO retraction SELECT row_id, '2020-01-01', 'undone' FROM ingredient_fact "
            "WHERE ingredient_id = 1",
            "measures of an ingredient without facts in force (first: load 2, line 2)",
        ),
        (
            "INSERT INTO retraction SELECT row_id, '2020-01-01', 'undone' FROM ingredient_fact "
            "WHERE ingredient_id = 2",
            "recipe lines with an ingredient without facts in force (first: load 4, line 3)",
        ),
        (
            "INSERT INTO retraction SELECT row_id, '2020-01-01', 'undone' FROM ingredient_fact "
            "WHERE ingredient_id = 2",
            "swaps with an ingredient without facts in force (first: load 5, line 2)",
        ),
        (
            "INSERT INTO retraction SELECT row_id, '2020-01-01', 'undone' FROM dish_version "
            "WHERE dish_id = 1",
            "recipe lines with a dish that has no version in force (first: load 4, line 4)",
        ),
        (
            "INSERT INTO retraction SELECT row_id, '2020-01-01', 'undone' FROM dish_version "
            "WHERE dish_id = 2",
            "printed figures of a dish version that is not in force (first: load 6, line 2)",
        ),
        (
            "INSERT INTO retraction SELECT row_id, '2020-01-01', 'undone' FROM measure",
            "prices whose pack cannot be turned into the ingredient's base unit "
            "(first: load 3, line 3)",
        ),
        (
            "INSERT INTO ingredient VALUES (9, 'Crème', 'Creme')",
            "the name 'Crème' of ingredient kept under 'Creme'; expected 'crème'",
        ),
    ],
)
def test_rows_that_point_at_nothing_are_found(book: Book, statement: str, found: str) -> None:
    with writing(book) as con:
        con.execute(statement)
    assert any(f"{found}" in problem for problem in check(book).problems)


def test_a_circle_of_dishes_is_found_with_its_path(book: Book) -> None:
    with writing(book) as con:  # stock takes the soup, which takes the stock
        con.execute(
            """INSERT INTO dish_line (batch, version_row, position, sub_dish_id, quantity, unit,
                                      amount, dimension, state, pantry)
               SELECT 4, row_id, 2, 2, '1', 'portion', 1, 'portion', 'as_purchased', false
               FROM dish_version WHERE dish_id = 1"""
        )
    problems = [each for each in check(book).problems if "takes itself" in each]
    assert len(problems) == 1
    assert (
        "Stock → Harbour soup → Stock" in problems[0]
        or "Harbour soup → Stock → Harbour soup" in problems[0]
    )


def test_a_lost_setting_is_found(book: Book) -> None:
    tamper(book, "setting", "DELETE FROM setting WHERE name = 'currency'")
    assert "no setting 'currency'" in only_problem(book)


def test_rows_against_the_rules_of_their_table_are_found() -> None:
    """Such rows cannot be stored; this looks at a table that never had the rules."""
    with duckdb.connect(":memory:") as con:
        migrate.migrate(con, lambda _: None)
        con.execute("DROP TRIGGER printed_figure_never_edited ON printed_figure")
        con.execute("DROP TRIGGER printed_figure_never_deleted ON printed_figure")
        con.execute("CREATE OR REPLACE TABLE printed_figure AS FROM printed_figure")
        assert list(check_structure.constraints(con)) == []
        for price in (0, 1, 2):
            con.execute(
                "INSERT INTO printed_figure (row_id, batch, dish_id, version, published_on, "
                "cost_per_portion) VALUES (1, 1, 1, '1', '2020-01-01', $price)",
                {"price": price},
            )
        found = list(check_structure.constraints(con))
    assert len(found) == 3
    assert any(
        "2 rows of printed_figure against its rule PRIMARY KEY(row_id)" in each for each in found
    )
    assert any("1 rows of printed_figure against its rule CHECK" in each for each in found)
    assert any(
        "3 rows of printed_figure against its rule NOT NULL(currency)" in each for each in found
    )


def test_damage_anywhere_in_the_file_is_told_or_touches_nothing(book: Book) -> None:
    """One byte turned over in a block of the file: DuckDB keeps a checksum of every block.

    Each block in its turn, or each third where long loops are not whole.
    """
    whole = book.path.read_bytes()
    sound = check(book)
    told = 0
    for at in range(100, len(whole), (1 if WHOLE else 3) * 256 * 1024):
        book.path.write_bytes(whole[:at] + bytes([whole[at] ^ 0xFF]) + whole[at + 1 :])
        try:
            report = check(book)
        except BookUnreadable as error:
            told += "kitchen.duckdb" in str(error)
            continue
        told += bool(report.problems)
        assert report.problems or report == sound  # a block that is not in use
    assert told > 3


def test_an_older_book_is_upgraded_only_when_asked(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    known = migrate.migrations()
    sql = "CREATE TABLE cellar (bottle INT)"
    later = migrate.Migration(number=9000, name="9000_x.sql", sql=sql)
    monkeypatch.setattr(migrate, "migrations", lambda: [*known, later])
    check_structure._expected.cache_clear()
    check_structure._rules.cache_clear()
    try:
        with pytest.raises(BookUnreadable, match="check --upgrade"):
            check(book)
        report = check(book, upgrade=True)
    finally:
        monkeypatch.undo()
        check_structure._expected.cache_clear()
        check_structure._rules.cache_clear()
    assert report.problems == ()
    assert report.counts["cellar"] == 0


def test_a_book_of_step_4_answers_the_same_once_upgraded(book: Book, tmp_path: Path) -> None:
    """All rows but printed figures, for which see test_former_claims.py."""
    former = former_book(book, tmp_path / "former.duckdb", 4)

    def cost(of: Book) -> object:
        return pricing.cost_dish(of, "Harbour soup", on=date(2020, 1, 8)).as_json()

    with pytest.raises(BookUnreadable, match="check --upgrade"):
        cost(former)
    assert check(former, upgrade=True).problems == ()
    assert cost(former) == cost(book)


def test_info_says_what_the_book_holds(book: Book) -> None:
    with writing(book) as con:
        con.execute("INSERT INTO retraction SELECT row_id, '2020-02-02', 'undone' FROM observation")
        con.execute(
            "INSERT INTO setting (name, value, set_at) "
            "VALUES ('food_series', 'harbour:FOOD', '2020-01-01')"
        )
    told = info(book)
    assert told["path"] == str(book.path)
    assert told["size_bytes"] == book.path.stat().st_size
    assert told["structure"] == max(step.number for step in migrate.migrations())
    assert told["settings"]["currency"] == "USD"
    assert told["counts"] == {
        "ingredients": 3,
        "measures": 1,
        "observations": 0,
        "observations_retracted": 5,
        "suppliers": 0,
        "dishes": 2,
        "versions": 2,
        "printed": 1,
        "swaps": 1,
        "series": 1,
    }
    assert (told["first_price_on"], told["last_price_on"]) == (None, None)
    assert (told["food_last_month"], told["all_items_last_month"]) == ("2020-01", None)
    assert [(each["load"], each["kind"], each["undone"]) for each in told["loads"]] == [
        (1, "ingredients", False),
        (2, "measures", False),
        (3, "prices", True),
        (4, "dishes", False),
        (5, "swaps", False),
        (6, "printed", False),
        (7, "index", False),
    ]
    last = told["last_load"]
    assert (last["load"], last["kind"], last["file"]) == (7, "index", "index.csv")


def test_info_gives_the_first_and_last_price_date(book: Book) -> None:
    told = info(book)
    assert told["first_price_on"] == date(2020, 1, 6)
    assert told["last_price_on"] == date(2020, 1, 8)
    assert told["counts"]["suppliers"] == 2  # Quay Market, Salt Lane; a blank is no name
