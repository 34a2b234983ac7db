"""A printed figure keeps what it rested on, whatever becomes of the book afterwards."""

from __future__ import annotations

import csv
import hashlib
import json
from datetime import date
from decimal import Decimal
from pathlib import Path

import duckdb
import pytest

import pricing
from ingest.load import load_bytes, load_file, undo
from pricing.book.connect import Book, reading, writing
from pricing.book.keeping.check import check
from pricing.book.keeping.export import export
from pricing.errors import DateRefused, InputRefused, MeasureRefused, NotComplete, UnknownName
from pricing.printed.evidence import as_text, frozen_figures
from tests.kitchen import TODAY, load, make_book

FILES = {
    "index": """
        series,month,value,title,released_on
        t:flour,2020-01,100,"Flour, invented",2020-02-14
        t:flour,2021-01,120,"Flour, invented",2021-02-14
    """,
    "ingredients": """
        ingredient,base,series
        flour,g,t:flour
        butter,g,
        saffron,g,
    """,
    "prices": """
        ingredient,date,price,currency,pack,supplier,kind,source
        flour,2020-01-10,1.00,USD,1 kg,Quay,receipt,receipt 7
        butter,2021-01-10,8.00,USD,1 kg,Mill,,
    """,
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit
        pastry,1,2019-01-01,4,flour,400,g
        pastry,1,2019-01-01,4,butter,200,g
        tart,1,2019-01-01,2,dish:pastry,2,portion
        paella,1,2019-01-01,1,saffron,1,g
    """,
}
ON = date(2021, 1, 20)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES)


def test_the_text_kept_is_the_same_whatever_the_order_of_its_keys() -> None:
    one = {"prices": [{"pack": "½ kg", "line": 2}], "format": 1}
    other = {"format": 1, "prices": [{"line": 2, "pack": "½ kg"}]}
    assert as_text(one) == as_text(other) == '{"format":1,"prices":[{"line":2,"pack":"½ kg"}]}'


def kept(book: Book) -> list[tuple[str, str]]:
    """Return the texts kept, byte for byte."""
    with reading(book) as con:
        return con.execute(
            "SELECT evidence, evidence_sha256 FROM printed_evidence ORDER BY row_id"
        ).fetchall()


def test_the_figure_and_all_that_is_behind_it(book: Book) -> None:
    made = pricing.record_printed(book, "TART", on=ON, where="Sheet 9", note="first page")
    # 100 g flour at 0.001 × 120/100 = 0.12 and 50 g butter at 0.008 = 0.40: 0.52 a portion
    assert (made.printed, made.version, made.currency) == (Decimal("0.52"), "1", "USD")
    (figure,) = pricing.check_printed(book, on=ON).figures
    assert (figure.printed, figure.where, figure.note, figure.frozen, figure.then) == (
        0.52, "Sheet 9", "first page", True, "agrees",
    )  # fmt: skip
    (frozen,) = frozen_figures(book)
    costing = frozen.evidence["costing"]
    told = pricing.cost_dish(book, "tart", on=ON).as_json()
    assert costing == json.loads(json.dumps(told))
    flour, butter = frozen.evidence["prices"][1], frozen.evidence["prices"][0]
    assert (flour["price"], flour["pack"], flour["source"], flour["kind"]) == (
        "1.0000", "1 kg", "receipt 7", "receipt",
    )  # fmt: skip
    assert (flour["file"], flour["line"], flour["supplier"]) == ("prices.csv", 2, "Quay")
    assert (butter["ingredient"], butter["observed_on"]) == ("butter", "2021-01-10")
    assert [
        (each["series"], each["month"], each["value"], each["released_on"])
        for each in frozen.evidence["index_values"]
    ] == [
        ("t:flour", "2020-01-01", 100.0, "2020-02-14"),
        ("t:flour", "2021-01-01", 120.0, "2021-02-14"),
    ]
    ((text, sha256),) = kept(book)
    assert hashlib.sha256(text.encode()).hexdigest() == sha256 == made.evidence_sha256
    assert check(book).problems == ()


def test_a_frozen_figure_never_changes(book: Book) -> None:
    pricing.record_printed(book, "tart", on=ON)
    before = kept(book)
    (same,) = pricing.said_and_known(book)
    assert (same.change, same.lines) == (0.0, ())
    # a price of that very time turns up, a series is revised, the recipe is replaced
    head = "ingredient,date,price,currency,pack,supplier"
    load(book, "prices", f"{head}\nflour,2021-01-12,2.00,USD,1 kg,Quay")
    (said,) = pricing.said_and_known(book)
    # 100 g flour at 0.002: 0.20 instead of 0.12
    assert said.said == pytest.approx(0.52)
    assert said.known == pytest.approx(0.60)
    (line,) = said.lines
    assert (line.ingredient, line.change) == ("flour", pytest.approx(0.08))
    assert line.said is not None
    assert line.known is not None
    assert (line.said.basis, line.known.basis) == ("bridged", "observed")
    load(
        book,
        "dishes",
        "dish,version,effective_from,portions,ingredient,quantity,unit\n"
        "pastry,1,2019-01-01,4,flour,800,g",
        replace=True,
    )
    (said,) = pricing.said_and_known(book)
    assert said.known == pytest.approx(0.40)  # 200 g flour at 0.002, no butter
    assert {line.ingredient: line.known is None for line in said.lines} == {
        "flour": False,
        "butter": True,
    }
    assert said.change == pytest.approx(sum(line.change for line in said.lines))
    assert kept(book) == before
    (figure,) = pricing.check_printed(book, on=ON).figures
    assert figure.printed == 0.52


def test_a_version_that_is_gone_still_shows_what_was_said(tmp_path: Path) -> None:
    book = make_book(tmp_path, {k: v for k, v in FILES.items() if k != "dishes"})
    report = load(book, "dishes", FILES["dishes"])
    pricing.record_printed(book, "tart", on=ON)
    assert report.load is not None
    with writing(book) as con:  # `undo` would refuse, since the figure needs it: so by hand
        con.execute(
            "INSERT INTO retraction SELECT row_id, '2022-01-01', 'gone' FROM dish_version "
            "WHERE dish_id = (SELECT dish_id FROM dish WHERE name = 'tart')"
        )
    (said,) = pricing.said_and_known(book)
    assert (said.known, said.change, said.said) == (None, None, pytest.approx(0.52))
    assert "no dish called 'tart'" in (said.reason or "")


def test_refusals(book: Book) -> None:
    with pytest.raises(NotComplete, match="saffron"):
        pricing.record_printed(book, "paella", on=ON)
    with pytest.raises(DateRefused, match="after today"):
        pricing.record_printed(book, "tart", on=date(2027, 2, 1), costed_on=date(2026, 11, 25))
    with pytest.raises(InputRefused, match="on or before the day it was published"):
        pricing.record_printed(book, "tart", on=ON, costed_on=date(2021, 1, 21))
    with pytest.raises(MeasureRefused, match="more than one number"):
        pricing.record_printed(book, "tart", on=ON, printed="2 for 3.50")
    with pytest.raises(InputRefused, match="an amount in £; expected one in USD"):
        pricing.record_printed(book, "tart", on=ON, printed="£3")
    with pytest.raises(UnknownName, match="It has: 1"):
        pricing.record_printed(book, "tart", on=ON, version="2")
    pricing.record_printed(book, "tart", on=ON, where="Sheet 9")
    with pytest.raises(InputRefused, match="already"):
        pricing.record_printed(book, "tart", on=ON, where="sheet  9")
    pricing.record_printed(book, "tart", on=ON, where="another sheet")
    assert len(frozen_figures(book)) == 2
    load(book, "prices", "ingredient,date,price,currency,pack\nsaffron,2021-01-12,0.01,USD,1 kg")
    with pytest.raises(NotComplete, match="above nothing"):
        pricing.record_printed(book, "paella", on=ON)
    assert len(frozen_figures(book)) == 2


def test_undo_takes_the_figure_and_its_evidence_back(book: Book) -> None:
    made = pricing.record_printed(book, "tart", on=ON)
    assert undo(book, made.load) == 1
    assert pricing.check_printed(book, on=ON).figures == ()
    assert frozen_figures(book) == []
    assert len(kept(book)) == 1  # it is still in the book, as everything is
    assert check(book).problems == ()
    pricing.record_printed(book, "tart", on=ON)
    assert len(frozen_figures(book)) == 1


def test_kept_text_cannot_be_edited(book: Book) -> None:
    pricing.record_printed(book, "tart", on=ON)
    with pytest.raises(duckdb.Error, match="never edited"), writing(book) as con:
        con.execute("UPDATE printed_evidence SET recorded_at = recorded_at")
    with pytest.raises(duckdb.Error, match="CHECK"), writing(book) as con:
        con.execute(
            "INSERT INTO printed_evidence (batch, figure_row, recorded_at, evidence, "
            "evidence_sha256) VALUES (1, 1, '2020-01-01', '{}', 'f00d')"
        )


def carried(book: Book, folder: Path) -> Book:
    """Export a book and load the files into a new one, each as the kind of its name."""
    new = make_book(folder, name="new.duckdb")
    for file in export(book, folder / "out"):
        if file.stem != "settings":
            report = load_file(new, file.stem, file, today=TODAY, replace=True, accept_unusual=True)
            assert report.problems == (), [each.sentence() for each in report.problems]
    return new


def test_evidence_travels_with_an_export(book: Book, tmp_path: Path) -> None:
    load(
        book,
        "printed",
        "dish,version,published_on,cost_per_portion,currency\ntart,1,2020-05-01,0.4,USD",
    )
    pricing.record_printed(book, "tart", on=ON, where="Sheet 9")
    new = carried(book, tmp_path)
    assert [each.as_json() for each in frozen_figures(new)] == [
        each.as_json() for each in frozen_figures(book)
    ]
    assert kept(new) == kept(book)
    assert check(new).problems == ()
    assert len(pricing.check_printed(new).figures) == 2
    again = export(new, tmp_path / "again")
    assert [file.read_text() for file in again] == [
        (tmp_path / "out" / file.name).read_text() for file in again
    ]
    # loading it once more adds nothing
    file = tmp_path / "out" / "printed_evidence.csv"
    report = load_file(new, "printed", file, today=TODAY)
    assert (report.added, report.already, report.load) == (0, 1, None)
    assert len(kept(new)) == 1


def test_an_evidence_file_brings_its_figures_along(book: Book, tmp_path: Path) -> None:
    pricing.record_printed(book, "tart", on=ON, where="Sheet 9")
    export(book, tmp_path / "out")
    new = make_book(tmp_path, FILES, name="new.duckdb")
    data = (tmp_path / "out" / "printed_evidence.csv").read_bytes()
    report = load_bytes(new, "printed", "printed_evidence.csv", data, today=TODAY)
    assert (report.added, report.already) == (1, 0)
    assert kept(new) == kept(book)
    assert check(new).problems == ()


@pytest.mark.parametrize(
    ("column", "value", "sentence"),
    [
        ("evidence", '{"costing":{}}', "SHA-256"),
        ("evidence_sha256", "", "all three"),
        ("recorded_at", "yesterday", "2026-11-24T09:30:00"),
        ("recorded_at", "2026-11-24T09:30:00+02:00", "2026-11-24T09:30:00"),
    ],
)
def test_evidence_that_was_touched_is_refused(
    book: Book, tmp_path: Path, column: str, value: str, sentence: str
) -> None:
    pricing.record_printed(book, "tart", on=ON)
    export(book, tmp_path / "out")
    file = tmp_path / "out" / "printed_evidence.csv"
    with file.open(newline="") as text:
        rows = list(csv.DictReader(text))
    rows[0][column] = value
    with file.open("w", newline="") as text:
        writer = csv.DictWriter(text, list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    new = make_book(tmp_path, FILES, name="new.duckdb")
    report = load_file(new, "printed", file, today=TODAY)
    assert (report.added, report.load) == (0, None)
    assert any(sentence in problem.sentence() for problem in report.problems)
    assert kept(new) == []


def test_a_text_that_is_no_costing_is_refused(book: Book) -> None:
    text = "not JSON"
    sha256 = hashlib.sha256(text.encode()).hexdigest()
    report = load(
        book,
        "printed",
        "dish,version,published_on,cost_per_portion,currency,recorded_at,evidence_sha256,evidence\n"
        f"tart,1,2021-01-20,0.52,USD,2021-01-20T10:00:00,{sha256},{text}",
    )
    assert "cannot be read" in report.problems[0].sentence()


def test_a_figure_is_recorded_as_printed_beside_its_costing(book: Book) -> None:
    made = pricing.record_printed(book, "tart", on=ON, printed="about 0.60", where="Sheet 9")
    # the costing is 0.52, as above
    assert (made.printed, made.as_printed) == (Decimal("0.60"), "about 0.60")
    assert made.cost_per_portion == pytest.approx(0.52)
    (checked,) = pricing.check_printed(book, on=ON).figures
    assert (checked.printed, checked.as_printed, checked.then) == (0.60, "about 0.60", "differs")
    (said,) = pricing.said_and_known(book)
    assert (said.printed, said.said) == (0.60, pytest.approx(0.52))


def test_a_figure_for_an_issue_not_out_yet_is_costed_today(book: Book) -> None:
    load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,ingredient,quantity,unit
        tart,2027,2027-02-01,2,butter,300,g
        """,
    )
    load(book, "prices", "ingredient,date,price,currency,pack\nbutter,2026-11-20,9.00,USD,1 kg")
    made = pricing.record_printed(book, "tart", on=date(2027, 2, 11))
    # the version in force that February, which is a draft today: 150 g butter at 9.00 and, a shop
    # of its own that was last seen in 2021, next to nothing of 8.00: 1.35
    assert (made.version, made.costed_on) == ("2027", TODAY)
    assert made.printed == Decimal("1.35")
    (checked,) = pricing.check_printed(book).figures
    assert (checked.recipe_day, checked.then, checked.now) == (TODAY, "agrees", "holds")


def test_evidence_of_words_and_days_travels_with_an_export(book: Book, tmp_path: Path) -> None:
    pricing.record_printed(
        book, "tart", on=date(2027, 2, 11), printed="from 0,55", costed_on=date(2021, 1, 20)
    )
    new = carried(book, tmp_path)
    (figure,) = pricing.check_printed(new).figures
    assert (figure.printed, figure.as_printed, figure.costed_on, figure.frozen) == (
        0.55, "from 0,55", ON, True,
    )  # fmt: skip
    assert kept(new) == kept(book)
