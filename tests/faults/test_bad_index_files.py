"""A file of an office that cannot be used gets a sentence, and nothing of it is stored."""

from __future__ import annotations

import gzip
import io
import os
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from ingest.load import FileReport, load_bytes, load_file
from ingest.offices.facts.ladders import table_rows
from pricing.book.connect import Book, reading
from tests.ingest.offices.test_specimens import FOLDER
from tests.kitchen import TODAY, make_book

SDMX = "DATAFLOW,freq,unit,coicop18,geo,TIME_PERIOD,OBS_VALUE\n"
ROW = "ESTAT:PRC_HICP_MINR(1.0),M,{unit},CP01148,{geo},{month},{value}\n"


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_book(tmp_path_factory.mktemp("empty"), currency="EUR", measures="metric").path


@pytest.fixture
def kitchen(empty: Path, tmp_path: Path) -> Book:
    return Book(path=Path(shutil.copyfile(empty, tmp_path / "kitchen.duckdb")))


def sdmx(*rows: tuple[str, str], unit: str = "I25", geo: str = "IE") -> bytes:
    lines = [ROW.format(unit=unit, geo=geo, month=month, value=value) for month, value in rows]
    return (SDMX + "".join(lines)).encode()


def own(book: Book) -> int:
    with reading(book) as con:
        row = con.execute(
            "SELECT count(*) FROM series_value WHERE NOT starts_with(series, 'us-bls:')"
        ).fetchone()
    return int(row[0]) if row else -1


def take(book: Book, data: bytes, name: str = "file.csv", **words: object) -> FileReport:
    return load_bytes(book, "index", name, data, today=TODAY, **words)  # type: ignore[arg-type]


def refused(book: Book, data: bytes, name: str = "file.csv", **words: object) -> str:
    """Load a file that must be refused; return every sentence."""
    report = take(book, data, name, **words)
    assert report.problems
    assert (report.load, report.added, own(book)) == (None, 0, 0)
    for problem in report.problems:
        assert problem.found
        assert problem.expected
        assert problem.remedy
    return "\n".join(problem.sentence() for problem in report.problems)


def specimen(name: str) -> bytes:
    return (FOLDER / name).read_bytes()


def test_a_web_page_saved_as_csv(kitchen: Book) -> None:
    page = b"<!DOCTYPE html><html><head><title>Consumer prices</title></head><body></body></html>"
    assert "Download the file itself, not its page" in refused(kitchen, page)


@pytest.mark.parametrize(
    "name", ["ons_single.csv", "mm23_small.csv", "eurostat_sdmx1.csv", "statcan_table.csv"]
)
def test_a_download_that_broke_off_inside_a_row(kitchen: Book, name: str) -> None:
    data = specimen(name)
    last = data.rstrip().rindex(b"\n")
    said = refused(kitchen, data[: last + 8])
    assert "download it again" in said
    assert f"line {data[: last + 1].count(10) + 1}" in said


@pytest.mark.parametrize(
    "name", ["eurostat_dense.json", "ons_json.json", "bls_api.json", "statcan_vectors.json"]
)
def test_a_json_that_broke_off(kitchen: Book, name: str) -> None:
    assert "Download it again" in refused(kitchen, specimen(name)[:-40], name)


def test_a_packed_file_that_broke_off(kitchen: Book, tmp_path: Path) -> None:
    whole = gzip.compress(specimen("eurostat_sdmx1.csv"))
    path = tmp_path / "file.csv.gz"
    path.write_bytes(whole[:-20])
    report = load_file(kitchen, "index", path, today=TODAY)
    assert report.problems
    assert own(kitchen) == 0


def test_two_reference_periods_of_one_series(kitchen: Book) -> None:
    both = sdmx(("2026-07", "101.2")) + sdmx(("2026-07", "131.0"), unit="I15")[len(SDMX) :]
    said = refused(kitchen, both)
    assert "line 3" in said
    assert "unit I15" in said
    assert "two reference periods are not mixed" in said


def test_two_series_in_a_file_of_two_columns(kitchen: Book) -> None:
    said = refused(kitchen, b"date,food,drink\n2020-01,100.0,100.0\n", series=["own:FOOD"])
    assert "found 3 columns; expected two" in said


def test_a_month_twice_with_different_values(kitchen: Book) -> None:
    said = refused(kitchen, sdmx(("2026-07", "101.2"), ("2026-08", "1"), ("2026-07", "101.3")))
    assert "line 4, column OBS_VALUE: found 101.3 for 2026-07 of eu-hicp:IE.CP01148 again" in said
    assert "101.2 as on line 2" in said


def test_a_month_twice_with_the_same_value_is_no_fault(kitchen: Book) -> None:
    report = take(kitchen, sdmx(("2026-07", "101.2"), ("2026-07", "101.2")))
    assert (report.added, report.problems) == (1, ())


@pytest.mark.parametrize("value", ["0", "0.0", "-0.4"])
def test_a_value_of_nought_or_less(kitchen: Book, value: str) -> None:
    said = refused(kitchen, sdmx(("2026-07", "101.2"), ("2026-08", value)))
    assert f"line 3, column OBS_VALUE: found '{value}' for 2026-08" in said
    assert "over 0" in said


@pytest.mark.parametrize("value", ["n.v.", "1_000", "inf", "101.2 e", "١٠١ x"])
def test_a_value_that_is_no_number(kitchen: Book, value: str) -> None:
    assert "an index value such as 128.4" in refused(kitchen, sdmx(("2026-08", value)))


def test_a_rate_series_is_refused_with_a_sentence(kitchen: Book) -> None:
    said = refused(kitchen, sdmx(("2026-07", "2.9"), unit="RCH_A"))
    assert "1 series of rates, changes or weights: left out" in said
    assert "download the index itself" in said


@pytest.mark.parametrize(
    "title",
    [
        "CPI ANNUAL RATE 01 : FOOD AND NON-ALCOHOLIC BEVERAGES 2015=100",
        "CPI WEIGHTS 01 : FOOD AND NON-ALCOHOLIC BEVERAGES",
        "CPI: % change over 12 months: Food",
        "CPI contribution to all items: Food",
    ],
)
def test_a_british_rate_or_weight_is_refused_by_its_title(kitchen: Book, title: str) -> None:
    data = specimen("ons_single.csv").replace(b"CPI INDEX 00: ALL ITEMS 2015=100", title.encode())
    said = refused(kitchen, data.replace(b"D7BT", b"D7G8"))
    assert "rates, changes or weights" in said


def test_an_identifier_whose_title_is_another_series(kitchen: Book) -> None:
    said = refused(kitchen, specimen("ons_single.csv").replace(b"D7BT", b"D7D6"))
    assert "column D7D6: found the title 'CPI INDEX 00: ALL ITEMS 2015=100'" in said
    assert "CPI INDEX 01.1.2 (Meat)" in said


def test_a_seasonally_adjusted_series_is_taken_with_a_warning(kitchen: Book) -> None:
    report = take(kitchen, specimen("abs_both.csv"))
    assert report.problems == ()
    assert any("Seasonally adjusted: au-abs:10001.20.50.M" in each for each in report.remarks)


def test_a_reference_period_that_the_values_do_not_bear_out(kitchen: Book) -> None:
    year = [(f"2025-{month:02}", "87.0") for month in range(1, 13)]
    report = take(kitchen, sdmx(*year))
    assert report.problems == ()
    assert any("calls itself 2025=100, but its mean over that time is 87.0" in each
               for each in report.remarks)  # fmt: skip


def test_a_new_reference_period_without_the_whole_history(kitchen: Book) -> None:
    assert take(kitchen, sdmx(("2024-01", "118.0"), ("2024-02", "118.5"), unit="I15")).added == 2
    report = take(kitchen, sdmx(("2024-02", "97.0"), ("2024-03", "97.2")))
    (problem,) = report.problems
    assert "2025=100, without 2024-01" in problem.sentence()
    assert "Levels on two reference periods are not mixed" in problem.sentence()
    whole = take(kitchen, sdmx(("2024-01", "96.6"), ("2024-02", "97.0"), ("2024-03", "97.2")))
    assert whole.added == 3
    assert any("re-referenced from 2015=100 to 2025=100" in each for each in whole.remarks)


@pytest.mark.parametrize("more", [0, 9000], ids=["short", "longer than a cell may be"])
@pytest.mark.parametrize("form", ["sdmx", "statcan", "two columns"])
def test_a_header_with_a_quotation_mark_that_is_never_closed(
    kitchen: Book, form: str, more: int
) -> None:
    header, row = {
        "sdmx": (SDMX.replace("freq", '"freq'), sdmx(("2026-07", "1"))[len(SDMX) :].decode()),
        "statcan": ('REF_DATE,"GEO,DGUID,Food,UOM,VECTOR,VALUE\n', "2020-01,Canada,x,y,z,v1,1\n"),
        "two columns": ('date,"value\n', "2020-01,100\n"),
    }[form]
    said = refused(kitchen, (header + row * (1 + more)).encode(), series=["own:FOOD"])
    assert "expected one" in said or "none of the series you named" in said


def test_decimal_commas_where_the_delimiter_does_not_allow_them(kitchen: Book) -> None:
    said = refused(kitchen, b"date;value\n2020-01;100,4\n", series=["own:FOOD"], title="Food")
    assert "'100,4' for 2020-01 of own:FOOD" in said
    assert "decimal comma" in said


def test_a_french_edition(kitchen: Book) -> None:
    data = (
        "\ufeff\"PÉRIODE DE RÉFÉRENCE\";\"GÉO\";\"DGUID\";\"Produits et groupes de produits\";"
        "\"UNITÉ DE MESURE\";\"VECTEUR\";\"VALEUR\"\n"
        "\"2024-02\";\"Canada\";\"2016A000011124\";\"Aliments\";\"2002=100\";\"v41690974\";\"187,4\"\n"
    ).encode()  # fmt: skip
    assert "in English" in refused(kitchen, data)


def test_a_month_that_is_still_to_come(kitchen: Book) -> None:
    said = refused(kitchen, sdmx(("2026-11", "101.2"), ("2026-12", "101.3")))  # today: 2026-11-24
    assert said.count("line") == 1
    assert "line 3" in said
    assert "which is still to come; expected months up to 2026-11" in said


def test_only_values_of_years(kitchen: Book) -> None:
    said = refused(kitchen, sdmx(("2024", "100.0"), ("2025", "101.0")))
    assert "with values of years or half-years only" in said


def test_a_period_that_is_none(kitchen: Book) -> None:
    assert "line 2, column TIME_PERIOD: found '2026-13'" in refused(
        kitchen, sdmx(("2026-13", "101.2"))
    )


def test_a_column_too_many_in_one_row(kitchen: Book) -> None:
    said = refused(kitchen, sdmx(("2026-07", "101.2"), ("2026-08", "101,4")))
    assert "line 3: found 8 cells; expected 7, as in the header" in said


def test_a_header_without_rows(kitchen: Book) -> None:
    assert "no index series to take" in refused(kitchen, SDMX.encode())


def test_a_file_of_two_columns_must_be_named(kitchen: Book) -> None:
    said = refused(kitchen, specimen("two_columns.csv"))
    assert "--series own:FOODX --title" in said
    wrong = refused(
        kitchen, specimen("two_columns.csv"), series=["own:X"], title="Food, annual rate"
    )
    assert "a rate, a change or a weight" in wrong


def test_a_named_series_that_the_file_does_not_have(kitchen: Book) -> None:
    said = refused(kitchen, specimen("eurostat_sdmx1.csv"), series=["CP01152"])
    assert "none of the series you named (cp01152)" in said


def test_quarters_do_not_mix_into_months(kitchen: Book) -> None:
    monthly = b"date,value\n2020-01,100\n2020-02,101\n"
    assert take(kitchen, monthly, series=["own:X"], title="X").added == 2
    report = take(kitchen, b"date,value\n2020-Q2,102\n", series=["own:X"], title="X")
    (problem,) = report.problems
    assert "quarterly values of own:X; expected monthly ones" in problem.sentence()


def test_a_bls_answer_without_values(kitchen: Book) -> None:
    data = (
        b'{"status":"REQUEST_SUCCEEDED","message":["Series does not exist for Series CUUR0000XX"],'
        b'"Results":{"series":[{"seriesID":"CUUR0000XX","data":[]}]}}'
    )
    assert "Series does not exist" in refused(kitchen, data, "bls.json")
    other = data.replace(b"CUUR0000XX", b"LNS14000000")
    assert "a series of another survey" in refused(kitchen, other, "bls.json")


def test_text_of_another_encoding(kitchen: Book) -> None:
    data = sdmx(("2026-08", "101.4")).decode().replace("CP01148", "café").encode("cp1252")
    assert "UTF-8" in refused(kitchen, data)


def test_a_zip_is_opened_and_its_metadata_left(kitchen: Book) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("18100004_MetaData.csv", "Cube Title\n" + "x" * 5000)
        archive.writestr("18100004.csv", specimen("statcan_table.csv"))
    report = take(kitchen, packed.getvalue(), "18100004-eng.zip")
    assert (report.added, report.problems) == (4, ())


def test_a_workbook_is_told_apart_from_a_zip_of_tables(kitchen: Book) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr("xl/worksheets/sheet1.xml", "<worksheet/>")
    assert "save its table as CSV" in refused(kitchen, packed.getvalue(), "cpi.xlsx")


def _big(rows: int) -> Iterator[str]:
    yield (
        "REF_DATE,GEO,DGUID,Products and product groups,UOM,UOM_ID,SCALAR_FACTOR,SCALAR_ID,VECTOR,"
        "COORDINATE,VALUE,STATUS,SYMBOL,TERMINATED,DECIMALS\n"
    )
    known = [row["key"] for row in table_rows("ladder_canada.csv")]
    for series in range(rows // 300):
        # the ladder of Canada first, then other products of other places
        canada = series < len(known)
        name = f'"{known[series]}"' if canada else f"Other product {series}"
        place = "Canada" if canada else f"Place {series % 30}"
        for month in range(300):
            yield (
                f"{2001 + month // 12}-{month % 12 + 1:02},{place},2016A000011124,{name},2002=100,"
                f"17,units,0,v{series},2.{series},{100 + month / 10:.1f},,,,1{' ' * 110}\n"
            )


def test_a_file_of_100_megabytes_is_streamed(tmp_path: Path) -> None:
    path = tmp_path / "18100004.csv"
    with path.open("w", encoding="utf-8") as file:
        file.writelines(_big(510_000))
    assert path.stat().st_size > 100_000_000
    book = make_book(tmp_path, currency="CAD", measures="metric")
    code = (
        "import resource, subprocess, sys\n"
        "done = subprocess.run([sys.executable, '-m', 'dashboard.cli', 'index', 'load', "
        f"{str(path)!r}])\n"
        "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)\n"
        "sys.exit(done.returncode)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PORTIONDRIFT_BOOK": str(book.path)},
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    path.unlink()  # tests' folders are kept for a while
    assert done.returncode == 0, done.stderr
    known = len(list(table_rows("ladder_canada.csv")))
    assert f"{known * 300:,} rows added" in done.stdout
    # MB; it takes 164 for a file of one megabyte, so reading this one whole would take over 260
    assert int(done.stdout.split()[-1]) / 1024 < 230
