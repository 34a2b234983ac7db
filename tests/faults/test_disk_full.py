"""When the disk fills up during a load, nothing of the file is stored and the book still opens."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from ingest.load import load_bytes
from pricing.book.connect import Book, open_book
from pricing.errors import BookUnreadable
from tests.kitchen import TODAY, load
from tests.loading import ask

resource = pytest.importorskip("resource")  # limits on the size of files are Unix's

_CHILD = """
import resource, sys
from datetime import date
from pathlib import Path
from ingest.load import load_file
from pricing.book.connect import Book
from pricing.errors import BookUnreadable
path, prices, limit, today = sys.argv[1:]
resource.setrlimit(resource.RLIMIT_FSIZE, (int(limit), int(limit)))
try:
    load_file(Book(path=Path(path)), "prices", Path(prices), today=date.fromisoformat(today))
except BookUnreadable as refused:
    print(refused)
"""


def prices(count: int) -> bytes:
    """Return a file whose rows hardly compress."""
    noise = random.Random(7)
    rows = [
        f"leek,2020-01-01,{1 + place / 100_000:.4f},USD,500 g,{noise.randbytes(40).hex()}"
        for place in range(count)
    ]
    return "\n".join(["ingredient,date,price,currency,pack,product", *rows]).encode()


def is_as_before(book: Book) -> bool:
    """Tell whether the book opens, holds no price, and takes one."""
    open_book(book.path)
    counts = ask(
        book, "SELECT (FROM (SELECT count(*) FROM observation)), max(batch) FROM load_batch"
    )
    one = load(book, "prices", "ingredient,date,price,currency,pack\nleek,2020-01-01,2,USD,1 kg")
    return counts == [(0, 4)] and one.added == 1


# The log of the transaction outgrows the room in the first two; in the third, which is large enough
# to go past the log, the book's own file does.
@pytest.mark.parametrize(
    ("rows", "room"), [(20_000, 20_000), (20_000, 600_000), (60_000, 3_000_000)]
)
def test_a_file_that_may_not_grow_any_more(
    book: Book, tmp_path: Path, rows: int, room: int
) -> None:
    file = tmp_path / "prices.csv"
    file.write_bytes(prices(rows))
    limit = book.path.stat().st_size + room
    child = subprocess.run(
        [sys.executable, "-c", _CHILD, str(book.path), str(file), str(limit), str(TODAY)],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
        cwd=Path(__file__).parents[2],
    )
    assert child.stderr == ""
    assert child.stdout.startswith("Found no room left on the disk while writing")
    assert is_as_before(book)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of 12 MB, where this user may mount one."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount = shutil.which("mount")
    if os.geteuid() != 0 or mount is None:
        pytest.skip("only root may mount a small file system")
    made = subprocess.run(
        [mount, "-t", "tmpfs", "-o", "size=12m", "tmpfs", str(folder)],
        capture_output=True,
        check=False,
    )
    if made.returncode != 0:
        pytest.skip("this machine does not let a test mount a file system")
    yield folder
    subprocess.run([shutil.which("umount") or "umount", str(folder)], check=True)


def test_a_disk_without_any_room_left(book: Book, small_disk: Path) -> None:
    there = Book(path=small_disk / "kitchen.duckdb")
    shutil.copyfile(book.path, there.path)
    with pytest.raises(BookUnreadable, match="no room left on the disk"):
        load_bytes(there, "prices", "prices.csv", prices(60_000), today=TODAY)
    assert is_as_before(there)
