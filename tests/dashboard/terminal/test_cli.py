"""The commands, run as a user runs them: exit status, JSON, and sentences."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from ingest.offices.taking.recognise import READERS
from ingest.text.columns_help import columns_help
from tests.kitchen import make_book
from tests.pricing.dishes.test_cost import FILES
from tests.terminal import answer, in_a_process, run


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_book(tmp_path_factory.mktemp("cli"), FILES).path


@pytest.mark.parametrize(
    "arguments",
    [
        ("cost", "bake", "--on", "2019-01-31", "--json"),
        ("cost", "cake", "--on", "2019-01-31"),  # incomplete
        ("cost", "bak", "--on", "2019-01-31"),  # no such dish
    ],
)
def test_a_process_of_its_own_ends_with_the_same_status_and_words(
    book: Path, arguments: tuple[str, ...]
) -> None:
    here, apart = (each(*arguments, book=book) for each in (run, in_a_process))
    assert (here.returncode, here.stdout, here.stderr) == (
        apart.returncode, apart.stdout, apart.stderr,
    )  # fmt: skip


def test_init_makes_a_book_with_series_and_never_overwrites(tmp_path: Path) -> None:
    path = tmp_path / "new" / "kitchen.duckdb"
    found = answer("init", "--currency", "gbp", "--measures", "uk", "--json", book=path)
    assert (found["currency"], found["measures"]) == ("GBP", "uk")
    again = run("init", "--currency", "GBP", book=path)
    assert again.returncode != 0
    assert "nothing is overwritten" in again.stderr
    series = answer("index", "list", "--json", book=path)["series"]
    assert len(series) > 100
    assert run("init", "--currency", "XYZ", book=tmp_path / "x").returncode == 2
    assert run(
        "init", "--currency", "USD", "--measures", "imperial", book=tmp_path / "y"
    ).returncode
    assert not (tmp_path / "x").exists()


def test_the_help_of_load_ends_with_the_columns_of_every_kind_of_file() -> None:
    done = run("load", "--help")
    assert done.returncode == 0
    assert "--skip-bad" in done.stdout
    assert done.stdout.rstrip().endswith(columns_help())
    assert "  density_g_per_ml      weight of 1 ml" in done.stdout
    assert "effective_from" not in run("index", "load", "--help").stdout


def test_the_help_of_index_load_names_every_form_that_it_reads() -> None:
    said = " ".join(run("index", "load", "--help").stdout.replace("│", " ").split())
    assert [reader.NAME for reader in READERS if reader.NAME not in said] == []
    assert "in a zip or gz file" in said


def test_json_stands_before_or_after(book: Path) -> None:
    before = answer("--json", "cost", "bake", "--on", "2019-01-31", book=book)
    after = answer("cost", "bake", "--on", "2019-01-31", "--json", book=book)
    between = answer("cost", "--json", "bake", "--on", "2019-01-31", book=book)
    assert before == after == between
    assert before["display"]["cost_per_portion"] == "$0.53"


@pytest.mark.parametrize(
    ("arguments", "found"),
    [
        (("cost", "bake", "--on", "2019-01-31", "--versoin", "1", "--json"), "--versoin"),
        (("drivers", "--then", "2019-01-31", "--json"), "--now"),
        (("--json", "cots", "bake"), "cots"),
        (("printed", "--tolerance", "much", "--json"), "--tolerance"),
    ],
)
def test_a_wrong_command_is_one_json_object_too(
    book: Path, arguments: tuple[str, ...], found: str
) -> None:
    refused = answer(*arguments, book=book, status=2)
    assert set(refused) == {"error"}
    assert found in refused["error"]
    plain = run(*(each for each in arguments if each != "--json"), book=book)
    assert (plain.returncode, plain.stdout) == (2, "")
    assert found in plain.stderr


def test_incomplete_costing_is_answered_with_status_1(book: Path) -> None:
    found = answer("cost", "cake", "--on", "2019-01-31", "--json", book=book, status=1)
    assert found["complete"] is False
    assert found["cost_per_batch"] == pytest.approx(0.22)
    shown = run("cost", "cake", "--on", "2019-01-31", book=book)
    assert shown.returncode == 1
    assert "at least $0.22" in shown.stdout
    assert "No price of saffron" in shown.stdout


def test_cost_says_its_evidence_in_words(book: Path) -> None:
    shown = run("cost", "bake", "--on", "2019-01-31", book=book).stdout
    assert "$0.53 per portion" in shown
    assert "seen 21 days ago at" in shown  # barley, 10 January
    moved = run("cost", "broth", "--on", "2019-04-15", book=book).stdout
    # 2.20 × 120 / 100, by pencil in test_costing
    assert "moved from January 2019 by Narrow, ×1.20" in moved
    assert "April 2019 was not published" in moved


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("cost", "bak", "--on", "2019-01-31"), "Nearest: bake"),
        (("cost", "bake", "--on", "2019-13-01"), "expected YYYY-MM-DD"),
        (("cost", "bake", "--on", "2026-11-25"), "after today"),
        (("cost", "bake", "--on", "2019-01-31", "--version", "x"), "It has: old, new"),
        (("cost", "bake", "--on", "2019-01-31", "--basis", "guess"), "bridged or observed"),
        (("cost", "bake", "--on", "2019-01-31", "--supplier", "Kuay"), "Nearest: Quay"),
        (("drift", "--from", "2019-05", "--to", "2019-01"), "earlier month first"),
        (("drift", "--from", "2019-5", "--to", "2019-06"), "expected YYYY-MM"),
        (("rebase", "2.40", "--from", "2012-03", "--to", "2013-03", "--series", "us-bls:SAF12"),
         "Nearest: us-bls:SAF1"),
        (("rebase", "2,40", "--from", "2012-03", "--to", "2013-03", "--series", "us-bls:SAF1"),
         "point"),
        (("load", "prizes", "x.csv"), "prices"),
        (("load", "prices", "no-such-file.csv"), "no-such-file.csv"),
    ],
)  # fmt: skip
def test_a_wrong_command_gets_a_sentence_and_status_2(
    book: Path, arguments: tuple[str, ...], sentence: str
) -> None:
    done = run(*arguments, book=book)
    assert done.returncode == 2, done.stderr
    assert sentence in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


def test_rebase_stays_on_its_series(book: Path) -> None:
    found = answer(
        "rebase", "2.40", "--from", "2012-03", "--to", "2026-10", "--series", "us-bls:SAF11",
        "--json", book=book,
    )  # fmt: skip
    assert found.keys() >= {
        "amount", "from", "to", "series", "title", "index_from", "index_to", "factor", "result",
        "held_at", "filled",
    }  # fmt: skip
    assert (found["held_at"], found["filled"]) == ("2026-08", [])
    gap = answer(
        "rebase", "1", "--from", "2025-10", "--to", "2026-08", "--series", "us-bls:SAF11", "--json",
        book=book,
    )  # fmt: skip
    assert gap["filled"] == ["2025-10"]
    early = run("rebase", "1", "--from", "1946-12", "--to", "2026-08", "--series", "us-bls:SAF11",
                book=book)  # fmt: skip
    assert early.returncode == 1
    assert "begins in January 1947" in early.stderr
    ended = run("rebase", "1", "--from", "2010-01", "--to", "2018-01", "--series", "us-bls:SS05015",
                book=book)  # fmt: skip
    assert ended.returncode == 1
    assert "ends in April 2017" in ended.stderr


def test_drift_and_its_chart(book: Path, tmp_path: Path) -> None:
    for ending, start in (("svg", b"<svg"), ("png", b"\x89PNG"), ("html", b"<!"), ("pdf", b"%PDF")):
        chart = tmp_path / f"drift.{ending}"
        done = run("drift", "broth", "--from", "2019-01", "--to", "2019-08", "--chart", str(chart),
                   "--json", book=book)  # fmt: skip
        assert done.returncode == 0, done.stderr
        points = json.loads(done.stdout)["dishes"][0]["points"]
        assert [point["month"] for point in points] == [f"2019-{m:02d}" for m in range(1, 9)]
        assert chart.read_bytes().lstrip().lower().startswith(start.lower())
    refused = run("drift", "broth", "--from", "2019-01", "--to", "2019-08", "--chart", "x.gif",
                  book=book)  # fmt: skip
    assert refused.returncode == 2
    assert not Path("x.gif").exists()


@pytest.mark.parametrize(
    "asked",
    [
        ("compare", "broth", "--then", "2019-01-15", "--now", "2019-08-15"),
        ("drivers", "--then", "2019-01-15", "--now", "2019-08-15"),
        ("inflation", "--from", "2019-01", "--to", "2019-08"),
        ("season", "broth", "--dish"),
    ],
)
def test_other_answers_refuse_a_chart_of_no_known_ending(
    asked: tuple[str, ...], book: Path, tmp_path: Path
) -> None:
    refused = run(*asked, "--chart", str(tmp_path / "x.gif"), book=book)
    assert refused.returncode == 2
    assert "expected a name that ends in .svg, .png, .pdf or .html" in refused.stderr
    assert list(tmp_path.glob("x*")) == []


def test_drift_leaves_out_months_to_come(book: Path) -> None:
    done = run("drift", "broth", "--from", "2026-10", "--to", "2027-02", "--json", book=book)
    assert "December 2026 and later are left out" in done.stderr
    points = json.loads(done.stdout)["dishes"][0]["points"]
    assert [point["month"] for point in points] == ["2026-10", "2026-11"]


def test_compare_in_json_adds_up(book: Path) -> None:
    found = answer(
        "compare", "bake", "--then", "2019-01-31@old", "--now", "2019-03-31@new", "--json",
        book=book,
    )  # fmt: skip
    assert found["change"] == pytest.approx(found["price_effect"] + found["recipe_effect"])
    assert found["then"]["version"] == "old"
    assert [each["series"] for each in found["rebased"]] == ["us-bls:SAF11", "us-bls:SA0"]


def test_load_price_undo_and_export(tmp_path: Path) -> None:
    path = tmp_path / "kitchen.duckdb"
    assert run("init", "--currency", "USD", "--measures", "us", book=path).returncode == 0
    (tmp_path / "i.csv").write_text("ingredient,base\nflour,g\n")
    loaded = answer("load", "ingredients", str(tmp_path / "i.csv"), "--json", book=path)
    assert loaded["files"][0]["added"] == 1
    again = answer("load", "ingredients", str(tmp_path / "i.csv"), "--json", book=path)
    assert (again["files"][0]["added"], again["files"][0]["already"]) == (0, 1)
    priced = answer("price", "flour", "1.99", "--pack", "1 kg", "--on", "2026-11-01", "--json",
                    book=path)  # fmt: skip
    number = priced["files"][0]["load"]
    odd = run("price", "flour", "19.90", "--pack", "1 kg", "--on", "2026-11-02", book=path)
    assert odd.returncode == 1
    assert "accept-unusual" in odd.stdout + odd.stderr
    taken = run("price", "flour", "19.90", "--pack", "1 kg", "--on", "2026-11-02",
                "--accept-unusual", book=path)  # fmt: skip
    assert taken.returncode == 0
    undone = answer("undo", str(number), "--json", book=path)
    assert undone["retracted"] == 1
    assert run("undo", str(number), book=path).returncode == 2
    out = answer("export", str(tmp_path / "out"), "--json", book=path)
    prices = (tmp_path / "out" / "prices.csv").read_text()
    assert "19.9" in prices
    assert "1.99" not in prices
    assert any(name.endswith("ingredients.csv") for name in out["files"])


def test_bad_rows_are_listed_and_set_aside(tmp_path: Path) -> None:
    path = make_book(tmp_path, {"ingredients": "ingredient,base\nflour,g"}).path
    file = tmp_path / "p.csv"
    file.write_text(
        "ingredient,date,price,currency,pack\n"
        "flour,2026-11-01,1.99,USD,1 kg\n"
        "flower,2026-11-01,1.99,USD,1 kg\n"
        "flour,2026-02-30,1.99,USD,1 kg\n"
    )
    found = answer("load", "prices", str(file), "--json", book=path, status=1)["files"][0]
    assert (found["load"], found["added"]) == (None, 0)
    assert [(each["line"], each["column"]) for each in found["problems"]] == [
        (3, "ingredient"),
        (4, "date"),
    ]
    skipped = answer("load", "prices", str(file), "--skip-bad", "--json", book=path, status=1)
    assert skipped["files"][0]["added"] == 1
    assert (tmp_path / "p.refused.csv").read_text().count("\n") == 3


def test_backup_restore_check_info(book: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.duckdb"
    assert answer("backup", str(copy), "--json", book=book)["backup"] == str(copy)
    back = tmp_path / "back.duckdb"
    assert answer("restore", str(copy), "--json", book=back)["book"] == str(back)
    assert answer("check", "--json", book=back)["problems"] == []
    same = [
        answer("cost", "bake", "--on", "2019-01-31", "--json", book=each) for each in (book, back)
    ]
    assert same[0] == same[1]
    assert answer("info", "--json", book=back)["settings"]["currency"] == "USD"


def test_no_book_says_how_to_make_one(tmp_path: Path) -> None:
    done = run("cost", "bake", "--on", "2019-01-31", book=tmp_path / "none.duckdb")
    assert done.returncode == 1
    assert "portiondrift init" in done.stderr
    told = run("cost", "bake", "--on", "2019-01-31", "--json", book=tmp_path / "none.duckdb")
    assert "portiondrift init" in json.loads(told.stdout)["error"]


def test_cost_imports_nothing_heavy(book: Path) -> None:
    code = (
        "import sys; sys.argv = ['portiondrift', 'cost', 'bake', '--on', '2019-01-31']\n"
        "from dashboard.cli import app\n"
        "try: app()\n"
        "except SystemExit: pass\n"
        "heavy = {'numpy', 'pandas', 'scipy', 'altair', 'streamlit', 'pyarrow', 'requests'}\n"
        "sys.exit(', '.join(sorted(heavy & set(sys.modules))) or 0)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PORTIONDRIFT_BOOK": str(book)},
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr


def test_settings_change_and_are_checked(tmp_path: Path) -> None:
    path = make_book(tmp_path, FILES).path
    # barley is 21 days old on 31 January: with a limit of 20 days it is moved, factor 100 / 100
    assert answer("setting", "fresh_days", "20", "--json", book=path) == {"fresh_days": "20"}
    line = answer("cost", "broth", "--on", "2019-01-31", "--json", book=path)["lines"][0]
    assert (line["basis"], line["factor"]) == ("bridged", 1.0)
    for name, value in (("fresh_days", "-1"), ("food_series", "none"), ("currency", "GBP")):
        assert run("setting", name, value, book=path).returncode == 2


def test_published_weights_are_offered_with_their_source(tmp_path: Path) -> None:
    # USDA SR28, NDB 11282: medium onion 110 g edible, refuse 10 %: 110 / 0.9 = 122.2 as purchased
    shown = run("weights", "yellow onion")
    assert shown.returncode == 0, shown.stderr
    assert "USDA SR28, NDB 11282; refuse 10 %" in shown.stdout
    assert re.search(r"medium.* 110 g +122\.2 g", shown.stdout)
    assert "market form" in shown.stdout
    file = tmp_path / "measures.csv"
    file.write_text(shown.stdout.split("a measures file, to choose from:\n")[1])
    book = make_book(tmp_path, {"ingredients": "ingredient,base\nyellow onion,g"})
    assert run("load", "measures", str(file), book=book.path).returncode == 0
    assert run("weights", "qqqq").returncode == 1
    # USDA SR28, 01077: a quart of whole milk weighs 976 g; a US quart is 946.352946 ml: 1.0313
    milk = answer("weights", "whole milk", "--json", book=book.path)
    assert milk["facts"]["density_g_per_ml"]["value"] == "1.0313"
    assert "g of one ml: 1.0313 (USDA SR28, NDB 01077" in run("weights", "whole milk").stdout


def test_what_a_rough_hand_found(tmp_path: Path) -> None:
    """Each of these once went wrong."""
    book = make_book(tmp_path, FILES)
    dish = "dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit\n"
    # a version without the weight by which another dish takes it is refused
    (tmp_path / "d.csv").write_text(dish + "broth,2,2020-01-01,4,,barley,500,g\n")
    found = answer("load", "dishes", str(tmp_path / "d.csv"), "--json", book=book.path, status=1)
    assert found["files"][0]["problems"][0]["column"] == "batch_weight_g"
    # a quantity of several numbers: 2 × 400 g at 2.20 a kg is 1.76
    (tmp_path / "d.csv").write_text(dish + "double,1,2018-01-01,1,,barley,2 x 400,g\n")
    answer("load", "dishes", str(tmp_path / "d.csv"), "--json", book=book.path)
    cost = answer("cost", "double", "--on", "2019-01-31", "--json", book=book.path)
    assert cost["cost_per_batch"] == pytest.approx(1.76)
    assert (cost["lines"][0]["quantity"], cost["lines"][0]["unit"]) == (800, "g")
    # dishes that double: 2^40 lines if each were walked
    rows = ["n0,1,2018-01-01,1,,barley,1,g"]
    rows += [f"n{i},1,2018-01-01,1,,dish:n{i - 1},2,batch" for i in range(1, 41)]
    rows += [f"n{i},1,2018-01-01,1,,dish:n{i - 1},3,batch" for i in range(1, 41)]
    (tmp_path / "d.csv").write_text(dish + "\n".join(sorted(rows)) + "\n")
    answer("load", "dishes", str(tmp_path / "d.csv"), "--json", book=book.path)
    deep = answer("drift", "n40", "--from", "2019-01", "--to", "2019-01", "--json", book=book.path)
    point = deep["dishes"][0]["points"][0]
    assert point["cost_per_portion"] == pytest.approx(5**40 * 0.0022)  # 2 + 3 batches, 40 times
    refused = run("cost", "n40", "--on", "2019-01-31", book=book.path)
    assert refused.returncode == 1
    assert "100,000 lines" in refused.stderr
    # a report of what was stored is not lost with a missing second file
    (tmp_path / "p.csv").write_text(
        "ingredient,date,price,currency,pack\nbarley,2019-02-01,2.2,USD,1 kg\n"
    )
    partly = answer("load", "prices", str(tmp_path / "p.csv"), str(tmp_path / "none.csv"), "--json",
                    book=book.path, status=1)  # fmt: skip
    assert partly["files"][0]["added"] == 1
    assert "none.csv" in partly["error"]
    # dates in another ISO spelling, months of an early year, --book after the command
    assert run("cost", "broth", "--on", "2019-W05-1", book=book.path).returncode == 2
    early = run("drift", "broth", "--from", "0900-01", "--to", "0900-01", "--json",
                "--book", str(book.path))  # fmt: skip
    assert json.loads(early.stdout)["dishes"][0]["points"][0]["month"] == "0900-01"
    # a terminal that cannot show every character
    plain = subprocess.run(
        [sys.executable, "-m", "dashboard.cli", "cost", "bake", "--on", "2019-01-31"],
        env={**os.environ, "PORTIONDRIFT_BOOK": str(book.path), "PYTHONIOENCODING": "cp1252"},
        capture_output=True, check=False,
    )  # fmt: skip
    assert plain.returncode == 0, plain.stderr
    # a lone carriage return in a cell comes through an export
    (tmp_path / "p.csv").write_bytes(
        b'ingredient,date,price,currency,pack,note\nbarley,2019-02-02,2.2,USD,1 kg,"one\rtwo"\n'
    )
    answer("load", "prices", str(tmp_path / "p.csv"), "--json", book=book.path)
    answer("export", str(tmp_path / "out"), "--json", book=book.path)
    again = answer("load", "prices", str(tmp_path / "out" / "prices.csv"), "--json", book=book.path)
    assert (again["files"][0]["added"], again["files"][0]["problems"]) == (0, [])
    # a release dated before its month
    (tmp_path / "x.csv").write_text(
        "series,month,value,released_on\nus-bls:SEFJ01,2020-03,999,2010-01-01\n"
    )
    assert run("index", "load", str(tmp_path / "x.csv"), book=book.path).returncode == 1


def test_a_replaced_version_keeps_its_place_on_its_day(tmp_path: Path) -> None:
    head = "dish,version,effective_from,portions,ingredient,quantity,unit\n"
    book = make_book(
        tmp_path,
        {"ingredients": "ingredient,base\nleek,g",
         "prices": "ingredient,date,price,currency,pack\nleek,2024-01-01,1,USD,100 g",
         "dishes": head + "pie,a,2020-01-01,1,leek,100,g\npie,b,2020-01-01,1,leek,200,g"},
    )  # fmt: skip
    (tmp_path / "d.csv").write_text(head + "pie,a,2020-01-01,1,leek,300,g\n")
    answer("load", "dishes", str(tmp_path / "d.csv"), "--replace", "--json", book=book.path)
    assert answer("cost", "pie", "--on", "2024-01-02", "--json", book=book.path)["version"] == "b"
