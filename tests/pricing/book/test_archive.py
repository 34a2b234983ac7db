"""A copy of a book is the whole book; bringing one back loses nothing; an export is plain text."""

from __future__ import annotations

import os
import shutil
from datetime import date, datetime
from pathlib import Path

import duckdb
import pytest

from pricing.book.connect import Book, create, open_book, reading, writing
from pricing.book.keeping import archive, file_copy
from pricing.book.keeping.archive import backup, restore
from pricing.book.keeping.check import check
from pricing.book.keeping.export import export
from pricing.errors import BookUnreadable
from tests.pricing.book.kitchen import GUARDED, small_book
from tests.pricing.book.other_process import NOBODY, as_nobody, holding, run


def content(path: Path) -> dict[str, list[tuple[object, ...]]]:
    with reading(Book(path=path)) as con:
        tables = con.execute(
            "SELECT table_name FROM duckdb_tables() UNION SELECT view_name FROM duckdb_views() "
            "WHERE NOT internal"
        ).fetchall()
        return {name: con.execute(f"FROM {name} ORDER BY ALL").fetchall() for (name,) in tables}


def names(folder: Path) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir())


# backup -------------------------------------------------------------------------------------------
def test_a_backup_is_a_sound_book_with_the_same_content(book: Book, tmp_path: Path) -> None:
    target = tmp_path / "away" / "copy.duckdb"
    assert backup(book, target) == target
    assert content(target) == content(book.path)
    assert check(Book(path=target)).problems == ()
    assert names(target.parent) == ["copy.duckdb"]


def test_the_guards_still_stand_in_a_backup(book: Book, tmp_path: Path) -> None:
    copy = Book(path=backup(book, tmp_path / "copy.duckdb"))
    for table in GUARDED:
        with pytest.raises(duckdb.Error, match=f"{table} are never deleted"), writing(copy) as con:
            con.execute(f"DELETE FROM {table}")


def test_a_backup_goes_on_numbering_rows_where_the_book_stopped(book: Book, tmp_path: Path) -> None:
    copy = Book(path=backup(book, tmp_path / "copy.duckdb"))
    with writing(copy) as con:
        con.execute(
            "INSERT INTO measure (batch, ingredient_id, measure, measure_key, grams) "
            "VALUES (2, 2, 'cup', 'cup', 200)"
        )


def test_a_backup_holds_rows_that_a_crash_left_beside_the_book(book: Book, tmp_path: Path) -> None:
    crash = (
        "import duckdb, os, sys\n"
        "def main():\n"
        "    pid = os.fork()\n"
        "    if pid == 0:\n"
        "        con = duckdb.connect(sys.argv[1])\n"
        "        con.execute(\"INSERT INTO ingredient VALUES (9, 'Kale', 'kale')\")\n"
        "        os.kill(os.getpid(), 9)\n"
        "    os.waitpid(pid, 0)\n"
    )
    run(crash, book.path)
    assert "kitchen.duckdb.wal" in names(tmp_path)
    before = book.path.read_bytes()
    copy = backup(book, tmp_path / "away" / "copy.duckdb")
    assert names(copy.parent) == ["copy.duckdb"]
    with reading(Book(path=copy)) as con:
        assert con.execute("SELECT count(*) FROM ingredient").fetchone() == (4,)
    assert book.path.read_bytes() == before  # taking a copy changes nothing in the book
    assert "kitchen.duckdb.wal" in names(tmp_path)


def test_a_backup_never_overwrites(book: Book, tmp_path: Path) -> None:
    target = tmp_path / "notes.txt"
    target.write_text("mine")
    with pytest.raises(BookUnreadable, match="already"):
        backup(book, target)
    with pytest.raises(BookUnreadable, match="already"):
        backup(book, book.path)
    assert target.read_text() == "mine"
    assert names(tmp_path) == ["kitchen.duckdb", "notes.txt"]


def test_a_backup_does_not_overwrite_what_appears_meanwhile(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "copy.duckdb"
    settle = file_copy._settle

    def other_program(part: Path) -> list[tuple[str, int | str]]:
        target.write_text("mine")
        return settle(part)

    monkeypatch.setattr(file_copy, "_settle", other_program)
    with pytest.raises(BookUnreadable, match="already"):
        backup(book, target)
    assert target.read_text() == "mine"
    assert names(tmp_path) == ["copy.duckdb", "kitchen.duckdb"]


def test_a_copy_that_lost_rows_is_thrown_away(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settle = file_copy._settle

    def bad_disk(part: Path) -> list[tuple[str, int | str]]:
        with duckdb.connect(str(part)) as con:
            con.execute("DELETE FROM source_day WHERE ingredient_id = 1")
        return settle(part)

    monkeypatch.setattr(file_copy, "_settle", bad_disk)
    with pytest.raises(BookUnreadable, match="does not hold what the book holds"):
        backup(book, tmp_path / "copy.duckdb")
    assert names(tmp_path) == ["kitchen.duckdb"]


_WRITE = """
import sys
from pathlib import Path
from pricing.book.connect import Book, writing
from pricing.errors import BookUnreadable

def main():
    try:
        with writing(Book(path=Path(sys.argv[1]), wait_seconds=0.2)) as con:
            con.execute("INSERT INTO ingredient VALUES (9, 'Kale', 'kale')")
        print("wrote")
    except BookUnreadable as error:
        print(error)
"""


def test_no_other_process_writes_while_the_bytes_are_copied(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A lock is lost when the process closes any handle on the file: so watch to the very end."""
    said = []
    copy = shutil.copyfile

    def watched(source: Path, target: Path) -> None:  # the last bytes taken, after the file itself
        said.append(run(_WRITE, book.path))
        copy(source, target)

    Path(f"{book.path}.wal.recovery").write_bytes(b"")
    monkeypatch.setattr(shutil, "copyfile", watched)
    backup(book, tmp_path / "copy.duckdb")
    assert len(said) == 1
    assert "in use by another process" in said[0]
    assert run(_WRITE, book.path) == "wrote\n"  # and afterwards the way is free


def test_a_backup_can_be_taken_while_another_process_reads(book: Book, tmp_path: Path) -> None:
    with holding(book.path, "reading"):
        backup(book, tmp_path / "copy.duckdb")
    assert content(tmp_path / "copy.duckdb") == content(book.path)


def test_a_backup_of_a_book_being_written_waits_and_then_says_who(
    book: Book, tmp_path: Path
) -> None:
    busy = Book(path=book.path, wait_seconds=0.3)
    with (
        holding(book.path, "writing") as other,
        pytest.raises(BookUnreadable, match=rf"number {other.pid}.*0\.3 seconds"),
    ):
        backup(busy, tmp_path / "copy.duckdb")
    assert names(tmp_path) == ["kitchen.duckdb"]


_BACKUP_SMALL_DISK = """
import resource, sys
from pathlib import Path
from pricing.book.keeping.archive import backup, restore
from pricing.book.connect import Book
from pricing.errors import BookUnreadable

def main():
    path, target = Path(sys.argv[1]), Path(sys.argv[2])
    room = path.stat().st_size // 2
    resource.setrlimit(resource.RLIMIT_FSIZE, (room, room))
    for act in (lambda: backup(Book(path=path), target), lambda: restore(target, path)):
        try:
            act()
            print("made")
        except BookUnreadable as error:
            print(error)
"""


@pytest.mark.skipif(os.name == "nt", reason="needs a limit on the size of files")
def test_a_full_disk_leaves_nothing_of_a_copy(book: Book, tmp_path: Path) -> None:
    target = tmp_path / "away" / "copy.duckdb"
    said = run(_BACKUP_SMALL_DISK, book.path, target).splitlines()
    assert len(said) == 2
    assert all(each.startswith(f"Could not write {target}: File too large") for each in said)
    assert names(target.parent) == []
    assert names(tmp_path) == ["away", "kitchen.duckdb"]


_BACKUP = """
import sys
from pathlib import Path
from pricing.book import migrate
from pricing.book.keeping.archive import backup
from pricing.book.connect import Book
from pricing.book.keeping.export import export
from pricing.errors import BookUnreadable

steps = migrate.migrations()  # read now: the other user may not be able to read this folder
migrate.migrations = lambda: steps

def main():
    book, target = Book(path=Path(sys.argv[1])), Path(sys.argv[2])
    for act in (backup, export):
        try:
            print("made", act(book, target))
        except BookUnreadable as error:
            print(error)
"""


@as_nobody
def test_a_folder_that_may_not_be_written_is_told(shared_folder: Path) -> None:
    book = small_book(shared_folder / "kitchen.duckdb")
    said = run(_BACKUP, book.path, shared_folder / "copy", uid=NOBODY).splitlines()
    assert len(said) == 2
    for each in said:
        assert each.startswith(f"Could not write {shared_folder / 'copy'}: Permission denied")
    assert names(shared_folder) == ["kitchen.duckdb"]


def test_a_backup_keeps_a_private_book_private(book: Book, tmp_path: Path) -> None:
    book.path.chmod(0o600)
    assert backup(book, tmp_path / "copy.duckdb").stat().st_mode & 0o777 == 0o600


# restore ------------------------------------------------------------------------------------------
def test_a_backup_comes_back_as_a_new_book(book: Book, tmp_path: Path) -> None:
    backup(book, tmp_path / "copy.duckdb")
    held = content(book.path)
    book.path.unlink()
    assert restore(book.path, tmp_path / "copy.duckdb") is None
    assert content(book.path) == held
    assert check(book).problems == ()
    assert names(tmp_path) == ["copy.duckdb", "kitchen.duckdb"]


def test_a_book_is_not_overwritten_unasked(book: Book, tmp_path: Path) -> None:
    create(tmp_path / "empty.duckdb")
    with pytest.raises(BookUnreadable, match="Say --replace"):
        restore(book.path, tmp_path / "empty.duckdb")
    assert check(book).counts["ingredient"] == 3


def test_the_former_book_is_set_aside_under_the_time(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = datetime(2026, 11, 24, 9, 5, 7)  # noqa: DTZ001 — the book's clock gives UTC without a mark
    monkeypatch.setattr(archive, "now", lambda: at)
    create(tmp_path / "empty.duckdb")
    held = content(book.path)
    aside = restore(book.path, tmp_path / "empty.duckdb", replace=True)
    assert aside == tmp_path / "kitchen.before-restore-20261124-090507.duckdb"
    assert content(aside) == held
    assert check(book).counts["ingredient"] == 0
    second = restore(book.path, aside, replace=True)  # in the same second
    assert second == tmp_path / "kitchen.before-restore-20261124-090507-2.duckdb"
    assert content(book.path) == held
    assert names(tmp_path) == sorted(["empty.duckdb", "kitchen.duckdb", aside.name, second.name])


@pytest.mark.parametrize("content_", [b"", b"ingredient,date\n" * 900])
def test_what_is_no_book_is_not_brought_back(book: Book, tmp_path: Path, content_: bytes) -> None:
    (tmp_path / "stray.duckdb").write_bytes(content_)
    with pytest.raises(BookUnreadable, match="cannot be read as a price book"):
        restore(book.path, tmp_path / "stray.duckdb", replace=True)
    with pytest.raises(BookUnreadable, match="no price book at"):
        restore(book.path, tmp_path / "none.duckdb", replace=True)
    with pytest.raises(BookUnreadable, match="the book itself"):
        restore(book.path, book.path, replace=True)
    assert check(book).counts["ingredient"] == 3
    assert names(tmp_path) == ["kitchen.duckdb", "stray.duckdb"]


def test_a_copy_of_a_newer_version_is_not_brought_back(book: Book, tmp_path: Path) -> None:
    newer = create(tmp_path / "newer.duckdb")
    with duckdb.connect(str(newer.path)) as con:
        con.execute("INSERT INTO migration VALUES (9999, '9999_later.sql', 'f00d', '2030-01-01')")
    with pytest.raises(BookUnreadable, match=r"structure 9999.*newer portiondrift"):
        restore(book.path, newer.path, replace=True)
    assert check(book).counts["ingredient"] == 3
    assert names(tmp_path) == ["kitchen.duckdb", "newer.duckdb"]


def test_a_book_in_use_is_not_replaced(book: Book, tmp_path: Path) -> None:
    create(tmp_path / "empty.duckdb")
    with (
        holding(book.path, "reading") as other,
        pytest.raises(BookUnreadable, match=f"in use by .*number {other.pid}"),
    ):
        restore(book.path, tmp_path / "empty.duckdb", replace=True, wait_seconds=0.3)
    assert check(book).counts["ingredient"] == 3
    assert names(tmp_path) == ["empty.duckdb", "kitchen.duckdb"]


def test_a_damaged_book_is_replaced_and_kept_as_it_is(book: Book, tmp_path: Path) -> None:
    copy = backup(book, tmp_path / "copy.duckdb")
    damaged = book.path.read_bytes()[:9000]
    book.path.write_bytes(damaged)
    (tmp_path / "kitchen.duckdb.wal").write_bytes(b"left of a crash")
    aside = restore(book.path, copy, replace=True)
    assert aside is not None
    assert aside.read_bytes() == damaged
    assert Path(f"{aside}.wal").read_bytes() == b"left of a crash"
    assert content(book.path) == content(copy)


def test_what_a_vanished_book_left_does_not_meet_the_new_one(book: Book, tmp_path: Path) -> None:
    copy = backup(book, tmp_path / "copy.duckdb")
    book.path.unlink()
    (tmp_path / "kitchen.duckdb.wal").write_bytes(b"left of a crash")
    assert restore(book.path, copy) is None
    assert content(book.path) == content(copy)
    assert [n for n in names(tmp_path) if n.endswith(".wal")] == [
        next(n for n in names(tmp_path) if "before-restore" in n)
    ]


def test_a_restore_that_fails_at_the_last_step_leaves_the_former_book(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    create(tmp_path / "empty.duckdb")

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(BookUnreadable, match="No space left on device"):
        restore(book.path, tmp_path / "empty.duckdb", replace=True)
    assert check(book).counts["ingredient"] == 3
    assert names(tmp_path) == ["empty.duckdb", "kitchen.duckdb"]


def test_a_disk_without_links_will_do(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    copy = backup(book, tmp_path / "copy.duckdb")
    with pytest.raises(BookUnreadable, match="already"):
        backup(book, copy)
    aside = restore(book.path, copy, replace=True)
    assert aside is not None
    assert content(book.path) == content(aside) == content(copy)
    assert len(names(tmp_path)) == 3


def test_a_book_reached_by_a_link_is_replaced_where_it_lies(book: Book, tmp_path: Path) -> None:
    create(tmp_path / "empty.duckdb")
    other = tmp_path / "desk"
    other.mkdir()
    (other / "book.duckdb").symlink_to(book.path)
    restore(other / "book.duckdb", tmp_path / "empty.duckdb", replace=True)
    assert (other / "book.duckdb").is_symlink()
    assert check(book).counts["ingredient"] == 0


# export -------------------------------------------------------------------------------------------
def test_an_export_is_in_the_words_of_the_files_that_are_loaded(book: Book, tmp_path: Path) -> None:
    files = export(book, tmp_path / "out")
    assert [file.name for file in files] == [
        "settings.csv",
        "ingredients.csv",
        "measures.csv",
        "index.csv",
        "prices.csv",
        "dishes.csv",
        "swaps.csv",
        "printed.csv",
        "printed_evidence.csv",
    ]
    held = {file.stem: file.read_bytes().decode() for file in files}
    assert held == {
        "settings": "name,value\ncurrency,USD\nfresh_days,45\nmeasures,us\n",
        "ingredients": (
            "ingredient,category,base,density_g_per_ml,grams_each,yield_pct,series,allergens,"
            "aliases\n"
            "Eggs,eggs,each,,,,,eggs,\n"
            "Leek,vegetables,g,,,52.5,,none,leeks; porree\n"
            "Pearl barley,,g,,,,,,\n"
        ),
        "measures": "ingredient,measure,grams,source\nLeek,bunch,400,kitchen scales\n",
        "index": (
            "series,month,value,title,parent,classification,seasonally_adjusted,released_on,"
            "base_label,frequency,note\n"
            'harbour:FOOD,2020-01,101.3,"Food, invented",,own,no,2020-02-14,,,\n'
            'harbour:FOOD,2020-01,101.7,"Food, invented",,own,no,2020-03-14,,,\n'
        ),
        "prices": (
            "ingredient,date,price,currency,pack,supplier,kind,tax_pct,region,product,source,note\n"
            "Leek,2020-01-06,2,USD,500 g,Quay Market,shelf,,,,,\n"
            "Leek,2020-01-06,1.2,USD,1 bunch,,shelf,,,,,\n"
            "Leek,2020-01-06,0.9,USD,500 g,Quay Market,offer,,,,,\n"
            "Eggs,2020-01-08,2.4,USD,1 dozen,,receipt,,,,,\n"
            'Pearl barley,2020-01-08,3.1,USD,2 lb,Salt Lane,shelf,2.5,,"Barley, ""pearled""",,\n'
        ),
        "dishes": (
            "dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,state,"
            "yield_pct,pantry,note,group,minutes,made_per_month,target,minutes_waiting,energy_kwh,"
            "pots,marks,tasting_note\n"
            "Harbour soup,1,2019-06-01,4,,Pearl barley,½,lb,as_purchased,,yes,,,,,,,,,,\n"
            "Harbour soup,1,2019-06-01,4,,dish:Stock,500,g,as_purchased,,no,,,,,,,,,,\n"
            "Stock,1,2019-05-01,8,2000,Leek,1,bunch,as_purchased,,no,,,,,,,,,,\n"
        ),
        "swaps": (
            "ingredient,substitute,ratio,note,ratio_state,supplier,product,pack,works_in,not_in,"
            "not_with,only_with,disturbance\n"
            "Pearl barley,Leek,1.5,,as_purchased,,,,,,,,\n"
        ),
        "printed": (
            "dish,version,published_on,cost_per_portion,currency,costed_on,where,note\n"
            "Harbour soup,1,2020-02-01,1.2,USD,2020-02-01,Column,\n"
        ),
        "printed_evidence": (
            "dish,version,published_on,cost_per_portion,currency,costed_on,where,note,recorded_at,"
            "evidence_sha256,evidence\n"
            "Harbour soup,1,2020-02-01,1.2,USD,2020-02-01,Column,,2020-02-01T09:30:00,"
            # SHA-256 of the two bytes {}, as `printf {} | sha256sum` gives it
            "44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a,{}\n"
        ),
    }


def test_what_was_retracted_or_replaced_or_comes_with_the_program_is_not_exported(
    book: Book, tmp_path: Path
) -> None:
    with writing(book) as con:
        con.execute(
            "INSERT INTO retraction SELECT row_id, '2020-02-02', 'undone' FROM observation "
            "WHERE line <> 5"
        )
        con.execute(
            "INSERT INTO retraction SELECT row_id, '2020-02-02', 'undone' FROM printed_figure"
        )
        con.execute(
            "INSERT INTO ingredient_fact (batch, ingredient_id, base, aliases) "
            "VALUES (1, 1, 'g', [])"
        )
        con.execute(
            "INSERT INTO load_batch VALUES (8, 'index', 'bundled', 'f00d', '2020-01-01', 1, 0, '')"
        )
        con.execute(
            "INSERT INTO series_value (batch, series, month, value) "
            "VALUES (8, 'us-bls:SA0', '2020-01-01', 257.971)"
        )
    held = {file.stem: file.read_text() for file in export(book, tmp_path / "out")}
    assert held["prices"].count("\n") == 2
    assert "Pearl barley,2020-01-08,3.1," in held["prices"]
    assert "printed" not in held  # a file without rows would be refused by a load
    assert "printed_evidence" not in held  # its figure is not in force
    assert "Leek,,g,,,,,,\n" in held["ingredients"]
    assert "us-bls" not in held["index"]


def test_numbers_are_written_without_an_exponent_and_lose_nothing(
    book: Book, tmp_path: Path
) -> None:
    with writing(book) as con:
        con.execute(
            "INSERT INTO measure (batch, ingredient_id, measure, measure_key, grams) "
            "VALUES (2, 2, 'grain', 'grain', 0.000000001), (2, 2, 'sack', 'sack', 25000)"
        )
        con.execute(
            "INSERT INTO series_value (batch, series, month, value) VALUES "
            "(7, 'harbour:FOOD', '2021-01-01', 1e-7), "
            "(7, 'harbour:FOOD', '2021-02-01', 0.1::DOUBLE + 0.2::DOUBLE), "
            "(7, 'harbour:FOOD', '2021-03-01', 1e22)"
        )
    held = {file.stem: file.read_text() for file in export(book, tmp_path / "out")}
    assert "grain,0.000000001," in held["measures"]
    assert "sack,25000," in held["measures"]
    values = [line.split(",")[2] for line in held["index"].splitlines()[3:]]
    assert values == ["0.0000001", "0.30000000000000004", "1" + "0" * 22]
    assert [float(text) for text in values] == [1e-7, 0.1 + 0.2, 1e22]


def test_an_amount_is_said_otherwise_where_its_words_now_mean_another(
    book: Book, tmp_path: Path
) -> None:
    """An own measure wins over a unit of its name, so those loaded later change old words."""
    with writing(book) as con:
        con.execute(
            """INSERT INTO measure (batch, ingredient_id, measure, measure_key, grams)
               VALUES (2, 2, 'lb', 'lb', 500), (2, 3, 'dozen', 'dozen', 700),
                      (2, 3, 'each', 'each', 60), (2, 1, 'g', 'g', 2)"""
        )
    held = {file.stem: file.read_text() for file in export(book, tmp_path / "out")}
    packs = [line.split(",")[4] for line in held["prices"].splitlines()[1:]]
    # 2 lb = 907.18474 g; 12 each and 1 dozen are both taken, so the first words stand
    assert packs == ["0.5 kg", "1 bunch", "0.5 kg", "1 dozen", "907.18474 g"]
    lines = [line.split(",")[5:8] for line in held["dishes"].splitlines()[1:]]
    assert lines == [
        ["Pearl barley", "226.796185", "g"],  # ½ lb
        ["dish:Stock", "500", "g"],
        ["Leek", "1", "bunch"],
    ]


def test_an_export_does_not_mix_with_other_files(book: Book, tmp_path: Path) -> None:
    with pytest.raises(BookUnreadable, match="Found files in"):
        export(book, tmp_path)
    assert names(tmp_path) == ["kitchen.duckdb"]
    (tmp_path / "out").mkdir()
    assert len(export(book, tmp_path / "out")) == 9
    with pytest.raises(BookUnreadable, match="Found files in"):
        export(book, tmp_path / "out")


@pytest.mark.parametrize("made_before", [True, False])
def test_an_export_that_fails_leaves_nothing(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, made_before: bool
) -> None:
    folder = tmp_path / "out"
    if made_before:
        folder.mkdir()
    opened = Path.open

    def full(path: Path, *arguments: object, **named: object) -> object:
        if path.name == "swaps.csv":
            raise OSError(28, "No space left on device")
        return opened(path, *arguments, **named)  # type: ignore[call-overload]

    monkeypatch.setattr(Path, "open", full)
    with pytest.raises(BookUnreadable, match="No space left on device"):
        export(book, folder)
    assert names(tmp_path) == (["kitchen.duckdb", "out"] if made_before else ["kitchen.duckdb"])
    assert not made_before or names(folder) == []


def test_versions_stand_in_order_and_ties_as_loaded(book: Book, tmp_path: Path) -> None:
    with writing(book) as con:
        for row, label, on in ((901, "b", date(2021, 1, 1)), (902, "a", date(2021, 1, 1)),
                               (903, "0", date(2018, 1, 1))):  # fmt: skip
            con.execute(
                "INSERT INTO dish_version (row_id, batch, dish_id, version, effective_from, "
                "portions) VALUES ($row, 4, 2, $label, $on, 4)",
                {"row": row, "label": label, "on": on},
            )
            con.execute(
                "INSERT INTO dish_line (batch, version_row, position, ingredient_id, quantity, "
                "unit, amount, dimension, state, pantry) "
                "VALUES (4, $row, 1, 1, '5', 'g', 5, 'g', 'edible', true)",
                {"row": row},
            )
    files = {file.stem: file for file in export(book, tmp_path / "out")}
    lines = files["dishes"].read_text().splitlines()
    labels = [line.split(",")[1] for line in lines if line.startswith("Harbour soup")]
    assert labels == ["0", "1", "1", "b", "a"]


def test_an_open_book_of_an_export_is_not_needed(book: Book, tmp_path: Path) -> None:
    with pytest.raises(BookUnreadable, match="no price book at"):
        export(Book(path=tmp_path / "none.duckdb"), tmp_path / "out")
    assert names(tmp_path) == ["kitchen.duckdb"]
    assert open_book(book.path).path == book.path
