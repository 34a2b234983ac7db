"""--skip-bad stores what is fine and writes the rest beside the file, to be mended and loaded."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import pytest

from ingest.load import load_bytes, load_file
from pricing.book.connect import Book
from pricing.errors import BookUnreadable, InputRefused
from tests.kitchen import TODAY
from tests.kitchen import csv as csv_bytes
from tests.loading import ask

PRICES = """\
ingredient,date,price,currency,pack,note
leek,2024-05-02,1.89,USD,500 g,fine
leak,2024-05-01,"1,89",USD,500 g,"two
lines, one cell"
whole milk,2024-05-02,4.10,USD,1 gallon,fine
leek,2024-05-03,2.10,USD
leek,2024-05-04,2.10,USD,500 g,"never closed
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    file = tmp_path / "till.csv"
    file.write_text(PRICES, encoding="utf-8", newline="")
    return file


def test_the_good_rows_are_stored_and_the_others_written_as_they_were(
    book: Book, path: Path
) -> None:
    report = load_file(book, "prices", path, today=TODAY, skip_bad=True)
    assert (report.added, report.already, len(report.problems)) == (2, 0, 4)
    assert ask(book, "SELECT line FROM observation ORDER BY line") == [(2,), (5,)]
    assert report.refused_file == str(path.with_name("till.refused.csv"))
    written = Path(report.refused_file).read_text(encoding="utf-8")
    assert written == report.refused_text
    lines = written.splitlines()
    assert lines[0] == "ingredient,date,price,currency,pack,note,reason"
    assert lines[1:3] == ['leak,2024-05-01,"1,89",USD,500 g,"two', lines[2]]
    assert lines[2].startswith("lines, one cell\",\"ingredient: found 'leak'")
    assert lines[3].startswith("leek,2024-05-03,2.10,USD,")
    assert lines[4].startswith('leek,2024-05-04,2.10,USD,500 g,"never closed,')
    assert report.remarks == ("3 rows were refused and left out.",)


def test_the_mended_file_is_loaded_with_its_reasons_still_there(book: Book, path: Path) -> None:
    report = load_file(book, "prices", path, today=TODAY, skip_bad=True)
    refused = Path(report.refused_file or "")
    text = refused.read_text().replace("leak", "leeks").replace('"1,89"', "1.89")
    text = text.replace("2.10,USD,", "2.10,USD,500 g,,", 1).replace('"never closed', "closed")
    refused.write_text(text)
    again = load_file(book, "prices", refused, today=TODAY)
    assert [problem.sentence() for problem in again.problems] == []
    assert again.added == 3
    assert load_file(book, "prices", path, today=TODAY, skip_bad=True).already == 2


def test_rows_refused_a_second_time_keep_one_reason(book: Book, path: Path) -> None:
    path.write_text("ingredient,date,price,currency,pack\nleak,2024-05-02,1.89,USD,500 g\n")
    first = load_file(book, "prices", path, today=TODAY, skip_bad=True)
    refused = Path(first.refused_file or "")
    second = load_file(book, "prices", refused, today=TODAY, skip_bad=True)
    assert second.load is None
    assert second.refused_file == first.refused_file  # the same rows for the same reasons
    with refused.open(newline="") as file:
        assert [len(row) for row in csv.reader(file)] == [6, 6]


def test_a_file_of_that_name_is_not_overwritten(book: Book, path: Path) -> None:
    path.with_name("till.refused.csv").write_text("half mended")
    report = load_file(book, "prices", path, today=TODAY, skip_bad=True)
    assert report.refused_file == str(path.with_name("till.2.refused.csv"))
    assert path.with_name("till.refused.csv").read_text() == "half mended"


def test_nothing_is_written_when_all_rows_are_fine(book: Book, path: Path) -> None:
    path.write_text("\n".join(PRICES.splitlines()[:2]))
    report = load_file(book, "prices", path, today=TODAY, skip_bad=True)
    assert (report.added, report.refused_file, report.refused_text) == (1, None, None)
    assert not list(path.parent.glob("*.refused.csv"))


def test_a_dry_run_writes_and_stores_nothing(book: Book, path: Path) -> None:
    before = book.path.read_bytes()
    report = load_file(book, "prices", path, today=TODAY, skip_bad=True, dry_run=True)
    assert (report.load, report.added, report.refused_file) == (None, 2, None)
    assert not list(path.parent.glob("*.refused.csv"))
    assert book.path.read_bytes() == before


def test_an_upload_gets_the_refused_rows_as_text(book: Book) -> None:
    report = load_bytes(book, "prices", "till.csv", PRICES.encode(), today=TODAY, skip_bad=True)
    assert report.refused_file is None
    assert (report.refused_text or "").startswith("ingredient,date,")


def test_a_header_that_cannot_be_used_leaves_nothing_to_skip(book: Book, path: Path) -> None:
    path.write_text(PRICES.replace("price,", "cost,", 1))
    report = load_file(book, "prices", path, today=TODAY, skip_bad=True)
    assert (report.load, report.added, report.refused_file) == (None, 0, None)


def test_a_folder_that_cannot_be_written_stores_nothing(
    book: Book, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened = Path.open

    def open_to_read(self: Path, mode: str = "r", **options: Any) -> Any:
        if mode == "x":
            raise PermissionError(13, "Permission denied")
        return opened(self, mode, **options)

    monkeypatch.setattr(Path, "open", open_to_read)
    with pytest.raises(InputRefused, match=r"Cannot write the refused rows .*Permission denied"):
        load_file(book, "prices", path, today=TODAY, skip_bad=True)
    monkeypatch.undo()
    assert ask(book, "SELECT count(*) FROM observation") == [(0,)]


def test_no_refused_rows_are_left_beside_a_file_of_which_nothing_could_be_stored(
    book: Book, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: Any) -> int:
        raise BookUnreadable("no room left")

    monkeypatch.setattr("ingest.one_file.append_batch", full)
    with pytest.raises(BookUnreadable):
        load_file(book, "prices", path, today=TODAY, skip_bad=True)
    assert not list(path.parent.glob("*.refused.csv"))


def test_a_version_with_one_bad_line_is_left_out_whole(book: Book) -> None:
    text = """
        dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit
        soup,1,2020-01-01,4,,leek,500,g
        pie,1,2020-01-01,4,,dish:soup,1,portion
        soup,1,2020-01-01,4,,leak,1,g
        salad,1,2020-01-01,2,,egg,2,each
    """
    report = load_bytes(book, "dishes", "d.csv", csv_bytes(text), today=TODAY, skip_bad=True)
    assert (report.added, [problem.line for problem in report.problems]) == (1, [4])
    assert ask(book, "SELECT dish FROM dish_version_now ORDER BY dish_key") == [
        ("leek bake",),
        ("salad",),
        ("stock",),
        ("white sauce",),
    ]
    rows = list(csv.DictReader((report.refused_text or "").splitlines()))
    assert [row["dish"] for row in rows] == ["soup", "pie", "soup"]
    assert rows[0]["reason"] == "another row of this version was refused"
    assert rows[1]["reason"] == "'soup', which it takes, was refused"
    assert rows[2]["reason"].startswith("ingredient: found 'leak'")
    assert report.remarks[1].startswith("2 of them only because of another row")


def test_a_dish_row_that_says_no_version_keeps_every_version_out(book: Book) -> None:
    """It may be a line of any of them, and a recipe without one of its lines is another recipe."""
    text = """
        dish,version,effective_from,portions,ingredient,quantity,unit
        soup,1,2020-01-01,4,leek,500,g
        soup,,2020-01-01,4,pearl barley,100,g
        salad,1,2020-01-01,2,egg,2,each
    """
    report = load_bytes(book, "dishes", "d.csv", csv_bytes(text), today=TODAY, skip_bad=True)
    assert (report.load, report.added) == (None, 0)
    assert (report.refused_text or "").count("line 3 does not say which version") == 2


def test_two_rows_that_contradict_each_other_are_both_left_out(book: Book) -> None:
    text = """
        ingredient,base,grams_each
        kale,g,
        chard,g,
        kale,g,250
    """
    report = load_bytes(book, "ingredients", "i.csv", csv_bytes(text), today=TODAY, skip_bad=True)
    assert report.added == 1
    assert ask(book, "SELECT count(*) FROM ingredient_now WHERE name IN ('kale', 'chard')") == [
        (1,)
    ]
    first, second = csv.DictReader((report.refused_text or "").splitlines())
    assert (first["ingredient"], first["reason"]) == ("kale", "line 4 contradicts it")
    assert (second["ingredient"], second["grams_each"]) == ("kale", "250")


def test_every_reason_of_a_row_is_written(book: Book) -> None:
    text = "ingredient,date,price,currency,pack\nleak,2024-02-30,0,USD,500 g\n"
    report = load_bytes(book, "prices", "p.csv", text.encode(), today=TODAY, skip_bad=True)
    (row,) = csv.DictReader((report.refused_text or "").splitlines())
    for reason in ("ingredient: found 'leak'", "date: found '2024-02-30'", "price: found '0'"):
        assert reason in row["reason"]


@pytest.mark.parametrize(
    ("kind", "header", "held", "row", "why"),
    [
        ("ingredients", "ingredient,base,grams_each", "", "leek,g,200", "line 2 was refused"),
        ("measures", "ingredient,measure,grams", "", "leek,bunch,600", "line 2 was refused"),
        ("swaps", "ingredient,substitute,ratio", "leek,syrup,1", "leek,syrup,2",
         "line 2 was refused"),
        ("index", "series,month,value", "own:X,2020-01,100", "own:X,2020-01,101",
         "line 2 was refused"),
        ("prices", "ingredient,date,price,currency,pack", "leek,2024-05-02,1,USD,1 kg",
         "leek,2024-05-03,9,USD,1 kg", "the same price on another line was refused"),
    ],
)  # fmt: skip
def test_a_second_copy_of_a_refused_row_is_refused_with_it(
    book: Book, kind: str, header: str, held: str, row: str, why: str
) -> None:
    if held:
        load_bytes(book, kind, "f.csv", f"{header}\n{held}\n".encode(), today=TODAY)
    twice = f"{header}\n{row}\n{row}\n".encode()
    report = load_bytes(book, kind, "f.csv", twice, today=TODAY, skip_bad=True)
    assert (report.load, report.added, report.already) == (None, 0, 0)
    first, second = csv.DictReader((report.refused_text or "").splitlines())
    assert first["reason"].split(": ")[0] in header.split(",")
    assert second["reason"] == why


def test_no_value_is_stored_of_a_series_that_a_file_describes_in_two_ways(book: Book) -> None:
    text = """
        series,month,value,title
        town:tea,2020-01,100,Tea
        town:tea,2020-02,101,Coffee
        town:milk,2020-01,100,Milk
    """
    report = load_bytes(book, "index", "i.csv", csv_bytes(text), today=TODAY, skip_bad=True)
    assert (report.added, [problem.line for problem in report.problems]) == (1, [3])
    assert ask(book, "SELECT series FROM series_value WHERE series LIKE 'town:%'") == [
        ("town:milk",)
    ]
    refused = csv.DictReader((report.refused_text or "").splitlines())
    assert [row["month"] for row in refused] == ["2020-01", "2020-02"]
