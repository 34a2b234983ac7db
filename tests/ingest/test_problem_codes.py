"""Problems and remarks that someone decides by carry a code, and print as they did without it."""

from __future__ import annotations

import ast
import json
import pickle
from collections.abc import Iterator
from pathlib import Path

import pytest

import ingest
from ingest.load import FileReport, load_bytes
from ingest.offices.reading.source import Source
from ingest.offices.taking.office_file import read_office
from ingest.problem_codes import Code
from ingest.report import Remark
from pricing.book.connect import Book
from tests.ingest.offices.mm23 import write_mm23
from tests.kitchen import TODAY, load

SEEN = "ingredient,date,price,currency,pack\nleek,2024-05-02,{},USD,1 kg"
DISH = "dish,version,effective_from,portions,ingredient,quantity,unit\n"


def codes(report: FileReport) -> list[str | None]:
    return [problem.code for problem in report.problems]


def index(book: Book, data: bytes, **words: object) -> FileReport:
    return load_bytes(book, "index", "file", data, today=TODAY, **words)  # type: ignore[arg-type]


def test_an_unusual_price(book: Book) -> None:
    load(book, "prices", SEEN.format(1))
    assert codes(load(book, "prices", SEEN.format(4))) == [Code.UNUSUAL_PRICE]


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("ingredients", "ingredient,base,grams_each\nleek,g,200"),
        ("measures", "ingredient,measure,grams\nleek,bunch,600"),
    ],
)
def test_a_fact_that_is_not_the_book_s(book: Book, kind: str, text: str) -> None:
    assert codes(load(book, kind, text)) == [Code.FACT_DIFFERS]


def test_a_swap_that_is_not_the_book_s(book: Book) -> None:
    load(book, "swaps", "ingredient,substitute,ratio\nleek,pearl barley,1")
    report = load(book, "swaps", "ingredient,substitute,ratio\nleek,pearl barley,2")
    assert codes(report) == [Code.FACT_DIFFERS]


@pytest.mark.parametrize(
    "lines", ["stock,1,2012-01-01,10,leek,2,bunch", "stock,1,2012-01-01,10,leek,1,bunch\n" * 2]
)
def test_a_recipe_that_is_not_the_book_s(book: Book, lines: str) -> None:
    assert codes(load(book, "dishes", DISH + lines)) == [Code.RECIPE_DIFFERS]


def test_a_dish_as_substitute_without_its_weight(book: Book) -> None:
    report = load(book, "swaps", "ingredient,substitute,ratio\nleek,dish:stock,1")
    assert codes(report) == [Code.DISH_UNWEIGHED]


def test_another_value_of_the_same_release(book: Book) -> None:
    row = "series,month,value,released_on\nown:X,2020-01,{},2020-02-12"
    load(book, "index", row.format(100))
    assert codes(load(book, "index", row.format(101))) == [Code.VALUE_DIFFERS]


def test_a_file_that_does_not_say_which_series_it_holds(book: Book) -> None:
    (dates,) = index(book, b"date,Food at home\n2020-01,100\n").problems
    assert (dates.code, dates.series) == (Code.SERIES_UNNAMED, "own:Food-at-home")
    months = b'{"months":[{"date":"2020 JAN","value":"100"}],"quarters":[],"years":[]}'
    (nameless,) = index(book, months).problems
    assert (nameless.code, nameless.series) == (Code.SERIES_UNNAMED, "D7BU")


def test_an_office_without_a_value_of_a_series(book: Book) -> None:
    said = (
        b'{"status":"REQUEST_SUCCEEDED","message":[],'
        b'"Results":{"series":[{"seriesID":"CUUR0000SEFH","data":[]}]}}'
    )
    (problem,) = index(book, said).problems
    assert (problem.code, problem.series) == (Code.NO_VALUE, "us-bls:SEFH")


def test_text_that_no_reader_knows() -> None:
    source = Source(name="x", data=b"come back tomorrow")
    assert [p.code for p in read_office(source, TODAY).problems] == [Code.UNKNOWN_LAYOUT]


def test_a_file_with_too_many_series_to_take_all(book: Book) -> None:
    rows = "".join(
        f"ESTAT:PRC_HICP_MINR(1.0),M,I25,X{number},IE,2020-01,100\n" for number in range(301)
    )
    header = "DATAFLOW,freq,unit,coicop18,geo,TIME_PERIOD,OBS_VALUE\n"
    assert codes(index(book, (header + rows).encode())) == [Code.MANY_SERIES]


def test_what_of_a_large_file_was_left_out_is_a_remark_with_its_number(
    book: Book, tmp_path: Path
) -> None:
    """Of 400 columns 24 are the ladder, 126 weights and 125 rates; 125 other indices stay out."""
    data = write_mm23(tmp_path / "mm23.csv", columns=400, months=24).read_bytes()
    (remark,) = [
        each
        for each in index(book, data, dry_run=True).remarks
        if isinstance(each, Remark) and each.code == Code.SERIES_LEFT_OUT
    ]
    assert remark.number is not None
    assert remark == (
        f"{remark.number} series besides the food ladder; name those you want with --series: "
        "left out."
    )


def test_neither_code_nor_series_is_printed(book: Book) -> None:
    (problem,) = index(book, b"date,Food\n2020-01,100\n").problems
    assert list(problem.as_json()) == ["line", "column", "found", "expected", "remedy"]
    assert problem.sentence() == (
        "found a file of dates and values that does not say which series it is; expected one "
        'series id and a title. Name it: --series own:Food --title "Food, my office".'
    )


def test_a_remark_is_its_sentence_and_keeps_its_facts_when_it_is_kept() -> None:
    remark = Remark("3 series: left out.", Code.SERIES_LEFT_OUT, 3)
    assert json.dumps([remark]) == '["3 series: left out."]'
    kept = pickle.loads(pickle.dumps(remark))
    assert (kept, kept.code, kept.number) == (remark, Code.SERIES_LEFT_OUT, 3)


def calls(tree: ast.AST) -> Iterator[tuple[ast.Call, str]]:
    """Yield each call that makes a problem, with the words written in it."""
    for node in ast.walk(tree):
        name = ""
        if isinstance(node, ast.Call):
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
        if isinstance(node, ast.Call) and name in ("problem", "Problem"):
            words = [
                each.value
                for each in ast.walk(node)
                if isinstance(each, ast.Constant) and isinstance(each.value, str)
            ]
            yield node, " ".join(words)


def test_every_remedy_that_names_an_option_of_the_terminal_has_a_code() -> None:
    """A page has no options: by the code it names its own field."""
    (folder,) = ingest.__path__
    seen = 0
    for path in sorted(Path(folder).rglob("*.py")):
        for call, words in calls(ast.parse(path.read_text(encoding="utf-8"))):
            if "--" in words:
                seen += 1
                assert "Code." in ast.unparse(call), f"{path.name}, line {call.lineno}"
    assert seen >= 7
