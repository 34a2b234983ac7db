"""One look at a book answers all questions of a thread from one state, and is over when it ends."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import duckdb
import pytest

from pricing.book import connect
from pricing.book.connect import Book, looking, reading, writing
from pricing.errors import BookUnreadable
from tests.pricing.book.kitchen import small_book
from tests.pricing.book.other_process import holding, run

ADD = "INSERT INTO ingredient SELECT max(ingredient_id) + 1, 'Kale', 'kale' FROM ingredient"
WRITE = """
import sys, duckdb
def main():
    try:
        duckdb.connect(sys.argv[1])
    except duckdb.IOException:
        print("kept out")
    else:
        print("let in")
"""


def count(book: Book) -> int:
    with reading(book) as con:
        return int(con.execute("SELECT count(*) FROM ingredient").fetchall()[0][0])


def count_both(book: Book, other: Book) -> list[int]:
    return [count(book), count(other)]


def another_may_write(book: Book) -> bool:
    said = run(WRITE, book.path).strip()
    assert said in ("let in", "kept out")
    return said == "let in"


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[bool]:
    """Whether each opening of a file was for reading only."""
    found: list[bool] = []
    really = duckdb.connect

    def connected(path: str, *, read_only: bool, **more: object) -> duckdb.DuckDBPyConnection:
        found.append(read_only)
        return really(path, read_only=read_only, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(connect.duckdb, "connect", connected)
    return found


def test_a_look_opens_the_file_once_for_all_its_questions(book: Book, opened: list[bool]) -> None:
    with looking():
        assert opened == []  # nothing was asked yet
        assert [count(book) for _ in range(5)] == [3] * 5
        assert opened == [True]
    assert count(book) == 3
    assert opened == [True, True]  # without a look each question opens it


def test_a_look_inside_a_look_is_part_of_it(book: Book, opened: list[bool]) -> None:
    with looking():
        with looking():
            count(book)
        count(book)
    assert opened == [True]


def test_another_process_may_write_before_a_look_and_after_it_but_not_during_it(
    book: Book,
) -> None:
    with looking():
        assert another_may_write(book)  # it has asked nothing yet
        count(book)
        assert not another_may_write(book)
    assert another_may_write(book)


def test_a_look_that_ends_by_an_error_is_over_too(book: Book) -> None:
    with pytest.raises(BookUnreadable), looking():
        count_both(book, Book(path=book.path.with_name("none")))
    assert another_may_write(book)


def test_a_write_within_a_look_counts_at_once(book: Book, opened: list[bool]) -> None:
    with looking():
        assert count(book) == 3
        with writing(book) as con:
            con.execute(ADD)
        assert count(book) == 4
    assert opened == [True, False, True]


def test_a_question_inside_another_takes_no_row_from_it(book: Book) -> None:
    with looking(), reading(book) as con:
        asked = con.execute("SELECT ingredient_id FROM ingredient ORDER BY 1")
        first = asked.fetchone()
        assert count(book) == 3
        assert [first, *asked.fetchall()] == [(1,), (2,), (3,)]


def test_a_look_at_two_books_opens_both(book: Book, tmp_path: Path) -> None:
    other = small_book(tmp_path / "two.duckdb")
    with writing(other) as con:
        con.execute(ADD)
    with looking():
        assert [count(book), count(other), count(book)] == [3, 4, 3]


def test_what_is_wrong_within_a_look_is_said_as_without_one(book: Book, tmp_path: Path) -> None:
    with looking():
        with pytest.raises(BookUnreadable, match="no price book at"):
            count(Book(path=tmp_path / "none.duckdb"))
        with (
            holding(book.path, "writing"),
            pytest.raises(BookUnreadable, match=r"in use by another process"),
        ):
            count(Book(path=book.path, wait_seconds=0))
        assert count(book) == 3  # it can be asked again


def test_looks_of_two_threads_go_on_side_by_side_and_a_writer_waits_for_both(book: Book) -> None:
    both, inside, wrote = threading.Barrier(2), threading.Event(), threading.Event()

    def look() -> tuple[int, bool]:
        with looking():
            seen = count(book)
            both.wait(timeout=60)  # neither has to wait for the other to end
            inside.set()
            assert not wrote.wait(timeout=0.2)
            return seen, count(book) == seen

    def write() -> None:
        with writing(Book(path=book.path, wait_seconds=0)) as con:
            con.execute(ADD)
        wrote.set()

    with ThreadPoolExecutor(3) as threads:
        looks = [threads.submit(look) for _ in range(2)]
        assert inside.wait(timeout=60)
        writer = threads.submit(write)
        assert [each.result(timeout=60) for each in looks] == [(3, True), (3, True)]
        writer.result(timeout=60)
    assert count(book) == 4


def test_a_reader_comes_in_while_a_writer_waits(book: Book) -> None:
    """Else two pages, one waiting for what the other works out, and a form would wait for ever."""
    with ThreadPoolExecutor(2) as threads:
        with looking():
            assert count(book) == 3

            def write() -> None:
                with writing(Book(path=book.path, wait_seconds=0)) as con:
                    con.execute(ADD)

            writer = threads.submit(write)
            assert threads.submit(count, book).result(timeout=60) == 3
            assert not writer.done()
        writer.result(timeout=60)
    assert count(book) == 4
