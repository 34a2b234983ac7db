"""The command that shops for dishes, run as a user runs it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.kitchen import make_book
from tests.pricing.till.test_shop import FILES
from tests.terminal import answer, run


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_book(tmp_path_factory.mktemp("till_cli"), FILES, series=()).path


def test_a_shop_reads_like_a_list(book: Path) -> None:
    done = run("till", "bake", "--on", "2026-11-24", book=book)
    assert done.returncode == 0, done.stderr
    # by pencil in tests/pricing/till/test_shop.py: 3.99 at the till, 1.083 of it left over,
    # 1.636 on the plate
    assert "Shopping for bake on 24 November 2026" in done.stdout
    assert "At the till $3.99, on the plate $1.64 ($1.00 and $0.41 a portion" in done.stdout
    assert "Left over: $1.08 of it (27 %)" in done.stdout
    rows = {line.split("  ")[0]: line for line in done.stdout.splitlines()}
    assert "2 × 250 g at $1.20" in rows["flour"]
    assert "none" in rows["flour"]
    assert "1 × 500 ml at $0.99" in rows["milk"]
    assert rows["milk"].endswith("Mill, 10 October 2026")
    assert "490 g  $0.59  place not stated, 1 November 2026" in rows["salt (pantry)"]
    assert "Shelf prices differ by shop and day" in done.stderr
    assert "Shelf prices" not in done.stdout


def test_several_dishes_with_batches(book: Path) -> None:
    found = answer("till", "bake=2", "bars", "--on", "2026-11-24", "--json", book=book)
    assert [(each["dish"], each["batches"]) for each in found["dishes"]] == [
        ("bake", 2.0), ("bars", 1.0),
    ]  # fmt: skip
    flour = found["ingredients"][0]
    assert (flour["needed"], flour["cost"]) == (1300, pytest.approx(5.40))
    shown = run("till", "bake = 2", "bars=1/2", "--on", "2026-11-24", book=book).stdout
    assert "bake, version new: 2 batches, 8 portions" in shown
    assert "bars, version 1: 0.5 batches, 1 portion;" in shown
    # 1.00 × 1.5, by the series; three dates in full
    assert "1 × 500 g at $1.50" in shown
    assert "Mill, 12 January 2024, moved by Grain, ×1.50" in shown
    # a second kind of pack stands under the first: 1,150 g is 1 kg and 250 g
    assert "and 1 × 1 kg at $3.00" in shown


def test_without_the_pantry_and_at_one_shop(book: Path) -> None:
    shown = run("till", "bake", "--on", "2026-11-24", "--no-pantry", book=book).stdout
    assert "salt (pantry)" not in shown
    assert "Not bought, since the pantry has it: salt 10 g." in shown
    done = run("till", "bake", "--on", "2026-11-24", "--supplier", "Mill", book=book)
    assert done.returncode == 1
    assert "at Mill only" in done.stdout
    assert "At the till at least $1.19" in done.stdout
    assert "held as it was: no official series is named" in done.stdout.replace("\n", " ")
    assert "At least, because these have no pack:" in done.stdout
    assert "  salt: No price of salt from Mill" in done.stdout
    nothing = run("till", "pinch", "--on", "2026-11-24", "--no-pantry", book=book)
    assert nothing.returncode == 0
    assert "Nothing to buy: every line is a store-cupboard line." in nothing.stdout


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["baek"], "no dish called 'baek'. Nearest: bake"),
        (["bake", "--on", "2026-12-01"], "1 December 2026, which is after today"),
        (["bake=0"], "expected a number above 0"),
        (["bake=-2"], "amounts are above 0"),
        (["bake=", "--on", "2026-11-24"], "no dish called 'bake='. Nearest: bake"),
        (["bake", "bars", "--version", "old"], "beside 2 dishes; expected one dish"),
    ],
)
def test_a_wrong_command_is_one_sentence(book: Path, arguments: list[str], sentence: str) -> None:
    done = run("till", *arguments, book=book)
    assert (done.returncode, done.stdout) == (2, "")
    assert sentence in done.stderr
    assert "Traceback" not in done.stderr


def test_it_loads_no_frames_and_no_charts(book: Path) -> None:
    import subprocess
    import sys

    script = (
        "import sys; sys.argv = ['portiondrift', '--book', sys.argv[1], 'till', 'bake']\n"
        "from dashboard import cli\n"
        "try: cli.main()\n"
        "except SystemExit: pass\n"
        "print([m for m in ('numpy', 'pandas', 'altair', 'streamlit') if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(book)], capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "[]"
