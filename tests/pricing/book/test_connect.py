"""A book's file is opened by one door, which answers every mishap with a sentence."""

from __future__ import annotations

import os
import stat
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import duckdb
import pytest

from pricing.book import migrate
from pricing.book.connect import Book, create, open_book, reading, writing
from pricing.errors import BookUnreadable
from tests.pricing.book.kitchen import GUARDED, small_book
from tests.pricing.book.other_process import NOBODY, as_nobody, holding, run


def test_a_missing_file_is_answered_with_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(BookUnreadable, match=r"no price book at .*none\.duckdb.*init --currency"):
        open_book(tmp_path / "none.duckdb")


def test_a_missing_file_is_not_made_by_a_writer(tmp_path: Path) -> None:
    with pytest.raises(BookUnreadable, match="no price book"), writing(Book(path=tmp_path / "n")):
        pytest.fail("a connection was given out")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("content", [b"", b"a", b"ingredient,date\nLeek,2020-01-06\n" * 900])
def test_a_file_that_is_not_duckdb_is_not_taken_for_a_book(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "kitchen.duckdb"
    path.write_bytes(content)
    with pytest.raises(BookUnreadable, match="cannot be read as a price book"):
        open_book(path)
    assert path.read_bytes() == content


def test_a_csv_file_is_not_taken_for_a_book(tmp_path: Path) -> None:
    """By its ending DuckDB takes such a file for a table, which it would show without storing."""
    path = tmp_path / "prices.csv"
    path.write_text("ingredient,date\nLeek,2020-01-06\n")
    with pytest.raises(BookUnreadable, match="price book") as refused:
        open_book(path)
    assert "permission" not in str(refused.value)
    with pytest.raises(BookUnreadable, match="price book"), writing(Book(path=path)):
        pytest.fail("a connection was given out")


@pytest.mark.parametrize("table", ["observation", "migration"])
def test_a_duckdb_file_of_another_program_is_not_taken_for_a_book(
    tmp_path: Path, table: str
) -> None:
    path = tmp_path / "other.duckdb"
    with duckdb.connect(str(path)) as con:
        con.execute(f"CREATE TABLE {table} (price DECIMAL(18, 4))")
    with pytest.raises(BookUnreadable, match="not a price book"):
        open_book(path)
    with pytest.raises(BookUnreadable, match="not a price book"), writing(Book(path=path)):
        pytest.fail("a connection was given out")
    with duckdb.connect(str(path)) as con:  # and nothing was added to it
        assert con.execute("SELECT table_name FROM duckdb_tables()").fetchall() == [(table,)]


@pytest.mark.parametrize("kept", [0.0001, 0.004, 0.02, 0.05])
def test_a_book_cut_short_is_answered_with_a_sentence(book: Book, kept: float) -> None:
    size = book.path.stat().st_size
    with book.path.open("r+b") as file:
        file.truncate(int(size * kept))
    with pytest.raises(BookUnreadable, match=r"kitchen\.duckdb"):
        open_book(book.path)


def test_a_book_of_a_newer_version_is_refused_by_readers_and_writers(book: Book) -> None:
    with duckdb.connect(str(book.path)) as con:
        con.execute("INSERT INTO migration VALUES (9999, '9999_later.sql', 'f00d', '2030-01-01')")
    with pytest.raises(BookUnreadable, match=r"structure 9999.*newer portiondrift"):
        open_book(book.path)
    with pytest.raises(BookUnreadable, match=r"structure 9999.*newer portiondrift"), writing(book):
        pytest.fail("a connection was given out")


def test_reading_never_migrates_and_writing_does(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    sql = "CREATE TABLE cellar (bottle INT)"
    later = migrate.Migration(number=9000, name="9000_x.sql", sql=sql)
    known = migrate.migrations()
    monkeypatch.setattr(migrate, "migrations", lambda: [*known, later])
    before = book.path.read_bytes()
    with pytest.raises(BookUnreadable, match=r"older structure.*check --upgrade"):
        open_book(book.path)
    assert book.path.read_bytes() == before
    with writing(book) as con:
        assert con.execute("SELECT count(*) FROM cellar").fetchone() == (0,)
    with reading(book) as con:
        assert migrate.applied(con) == {step.number: step.sha256 for step in [*known, later]}


def test_a_step_that_fails_leaves_neither_tables_nor_record(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    sql = "CREATE TABLE cellar (bottle INT); INSERT INTO cellar VALUES ('not a number')"
    known = migrate.migrations()
    later = migrate.Migration(number=9000, name="9000_x.sql", sql=sql)
    with monkeypatch.context() as patch:
        patch.setattr(migrate, "migrations", lambda: [*known, later])
        with pytest.raises(duckdb.ConversionException), writing(book):
            pytest.fail("a connection was given out")
    with reading(book) as con:
        assert migrate.applied(con) == {step.number: step.sha256 for step in known}
        assert con.execute(
            "SELECT count(*) FROM duckdb_tables() WHERE table_name = 'cellar'"
        ).fetchone() == (0,)


def test_a_book_held_by_another_process_is_named_with_the_time_waited(book: Book) -> None:
    with holding(book.path, "writing") as other:
        began = time.monotonic()
        with pytest.raises(BookUnreadable) as refused:
            open_book(book.path, wait_seconds=0.5)
        waited = time.monotonic() - began  # longer where the machine is busy
    assert f"number {other.pid}" in str(refused.value)
    assert "python" in str(refused.value)
    assert "within 0.5 seconds" in str(refused.value)
    assert waited > 0.2
    assert open_book(book.path).path == book.path


def test_readers_of_two_processes_do_not_keep_each_other_out(book: Book) -> None:
    with holding(book.path, "reading"), reading(Book(path=book.path, wait_seconds=0)) as con:
        assert con.execute("SELECT count(*) FROM observation").fetchone() == (5,)


def test_a_writer_waits_for_a_reader_that_closes_in_time(book: Book) -> None:
    with holding(book.path, "reading") as other:
        assert other.stdin is not None
        began = time.monotonic()
        threading.Timer(0.6, other.stdin.close).start()
        with writing(Book(path=book.path, wait_seconds=60)) as con:
            waited = time.monotonic() - began
            con.execute("INSERT INTO ingredient VALUES (9, 'Kale', 'kale')")
    assert waited > 0.4
    with reading(book) as con:
        assert con.execute("SELECT name FROM ingredient_now").fetchall() != []
        assert con.execute("SELECT count(*) FROM ingredient").fetchone() == (4,)


def test_ten_reading_and_two_writing_threads_all_finish(book: Book) -> None:
    """They take turns at one gate, so that no patience is needed."""
    book = Book(path=book.path, wait_seconds=0)

    def read(_: int) -> int:
        seen = 0
        for _ in range(3):
            with reading(book) as con:
                (seen,) = con.execute("SELECT count(*) FROM ingredient").fetchone() or (0,)
        return seen

    def write(thread: int) -> int:
        for turn in range(3):
            key = f"herb {thread} {turn}"
            with writing(book) as con:
                con.execute(
                    "INSERT INTO ingredient SELECT max(ingredient_id) + 1, $key, $key "
                    "FROM ingredient",
                    {"key": key},
                )
        return 3

    with ThreadPoolExecutor(12) as threads:
        written = [threads.submit(write, thread) for thread in range(2)]
        seen = [threads.submit(read, thread) for thread in range(10)]
        assert sum(each.result(timeout=60) for each in written) == 6
        assert all(3 <= each.result(timeout=60) <= 9 for each in seen)
    with reading(book) as con:
        assert con.execute("SELECT count(*) FROM ingredient").fetchone() == (9,)  # 3 + 2 x 3


def test_a_step_that_fails_half_way_stores_nothing(book: Book) -> None:
    def by_the_program() -> None:
        with writing(book) as con:
            con.execute("INSERT INTO ingredient VALUES (9, 'Kale', 'kale')")
            raise ZeroDivisionError

    def by_the_book() -> None:
        with writing(book) as con:
            con.execute("INSERT INTO dish VALUES (9, 'Kale pie', 'kale pie')")
            con.execute("INSERT INTO dish VALUES (9, 'Rye bread', 'rye bread')")

    with pytest.raises(ZeroDivisionError):
        by_the_program()
    with pytest.raises(duckdb.ConstraintException):
        by_the_book()
    with reading(book) as con:
        assert con.execute("SELECT count(*) FROM ingredient").fetchone() == (3,)
        assert con.execute("SELECT count(*) FROM dish").fetchone() == (2,)


def test_create_does_not_overwrite(book: Book) -> None:
    before = book.path.read_bytes()
    with pytest.raises(BookUnreadable, match="already"):
        create(book.path)
    assert book.path.read_bytes() == before


@pytest.mark.parametrize("table", GUARDED)
@pytest.mark.parametrize(
    "statement", ["UPDATE {table} SET {column} = {column}", "DELETE FROM {table}"]
)
def test_stored_rows_are_neither_edited_nor_deleted(book: Book, table: str, statement: str) -> None:
    with writing(book) as con:
        con.execute("INSERT INTO retraction VALUES (4, '2020-02-02', 'typed wrongly')")
    with reading(book) as con:
        held = con.execute(f"FROM {table}").fetchall()
        column = con.execute(f"FROM {table}").description[-1][0]
    assert held
    sql = statement.format(table=table, column=column)
    with pytest.raises(duckdb.Error, match=f"rows of {table} are never"), writing(book) as con:
        con.execute(sql)
    with reading(book) as con:
        assert con.execute(f"FROM {table}").fetchall() == held


def test_every_table_but_the_derived_ones_is_guarded(book: Book) -> None:
    unguarded = {"migration", "refusal", "source", "source_day", "typical_day"}
    with reading(book) as con:
        tables = con.execute("SELECT table_name FROM duckdb_tables()").fetchall()
        guards = con.execute("SELECT trigger_name, table_name FROM duckdb_triggers()").fetchall()
    expected = {
        (f"{table}_never_{done}", table)
        for (table,) in tables
        if table not in unguarded
        for done in ("edited", "deleted")
    }
    assert set(guards) == expected
    assert {table for _, table in guards} >= set(GUARDED)


_CREATE = """
import sys
from pathlib import Path
from pricing.book import migrate
from pricing.book.connect import Book, create, reading, writing
from pricing.errors import BookUnreadable

steps = migrate.migrations()  # read now: the other user may not be able to read this folder
migrate.migrations = lambda: steps

def main():
    path = Path(sys.argv[1])
    try:
        if path.exists():
            with reading(Book(path=path)) as con:
                print("read", con.execute("SELECT count(*) FROM ingredient").fetchone()[0])
            with writing(Book(path=path)) as con:
                con.execute("INSERT INTO ingredient VALUES (9, 'Kale', 'kale')")
            print("wrote")
        else:
            create(path)
            print("made")
    except BookUnreadable as error:
        print(error)
"""


@as_nobody
def test_no_book_is_made_in_a_folder_that_may_not_be_written(shared_folder: Path) -> None:
    said = run(_CREATE, shared_folder / "new.duckdb", uid=NOBODY)
    assert said.startswith(f"Cannot write the price book {shared_folder / 'new.duckdb'}")
    assert "--book" in said
    said = run(_CREATE, shared_folder / "deep" / "new.duckdb", uid=NOBODY)
    assert said.startswith("Cannot write the price book")
    assert list(shared_folder.iterdir()) == []


@as_nobody
@pytest.mark.parametrize("mode", [0o644, 0o666])
def test_a_book_in_a_read_only_folder_can_be_read_but_not_written(
    shared_folder: Path, mode: int
) -> None:
    book = small_book(shared_folder / "kitchen.duckdb")
    book.path.chmod(mode)
    first, *rest = run(_CREATE, book.path, uid=NOBODY).splitlines()
    assert first == "read 3"
    assert rest[0].startswith(f"Cannot write the price book {book.path}")
    assert stat.S_IMODE(book.path.stat().st_mode) == mode
    with reading(book) as con:
        assert con.execute("SELECT count(*) FROM ingredient").fetchone() == (3,)


_FILL = """
import resource, sys
from pathlib import Path
from pricing.book.connect import Book, writing
from pricing.errors import BookUnreadable

def main():
    path = Path(sys.argv[1])
    room = path.stat().st_size + 300_000
    resource.setrlimit(resource.RLIMIT_FSIZE, (room, room))
    try:
        with writing(Book(path=path)) as con:
            con.execute("INSERT INTO ingredient VALUES (9, 'Kale', 'kale')")
            con.execute('''INSERT INTO measure (batch, ingredient_id, measure, measure_key, grams)
                           SELECT 99, 9, md5(i::VARCHAR), md5(i::VARCHAR), 1 + i
                           FROM range(400000) r(i)''')
        print("stored")
    except BookUnreadable as error:
        print(error)
"""


@pytest.mark.skipif(os.name == "nt", reason="needs a limit on the size of files")
def test_a_full_disk_stores_nothing_of_the_step(book: Book) -> None:
    """A limit on the size of files stands for the full disk: both stop a write half way."""
    said = run(_FILL, book.path)
    assert said.startswith("Found no room left on the disk")
    with reading(book) as con:
        assert con.execute("SELECT count(*) FROM ingredient").fetchone() == (3,)
        assert con.execute("SELECT count(*) FROM measure").fetchone() == (1,)
    with writing(book) as con:  # and the book takes rows again
        con.execute("INSERT INTO ingredient VALUES (9, 'Kale', 'kale')")
