"""The commands that say why, run as a user runs them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.kitchen import make_book
from tests.pricing.change.test_drivers import FILES as DRIVERS
from tests.pricing.printed.test_check import FILES as PRINTED
from tests.terminal import answer, run


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_book(tmp_path_factory.mktemp("why"), DRIVERS, series=()).path


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_book(tmp_path_factory.mktemp("printed"), PRINTED).path


PERIOD = ("--then", "2020-01-20", "--now", "2022-01-20")


def test_drivers(book: Path) -> None:
    found = answer(
        "drivers", *PERIOD, "--half-products", "--json", book=book, status=1
    )  # leek has no price then
    assert found["dishes"] == 2
    total = sum(each["contribution"] for each in found["ingredients"])
    assert total == pytest.approx(found["mean_now"] - found["mean_then"], abs=1e-9)
    shown = run("drivers", *PERIOD, "--half-products", book=book).stdout
    assert "2 dishes, mean cost per portion: $0.50 on 20 January 2020, $0.61" in shown
    # the mean recipe of then now: 0.15 + 0.50 = 0.65
    assert "+$0.11: +$0.15 by prices, −$0.04 by recipes" in shown
    assert "Without leek in 1 dish: leek was first seen on 10 January 2022" in shown
    # butter rose a quarter, its series by 30 %
    assert "5 points less than Butter" in shown
    assert "Skerry butter at Quay shrank from 500 g ($4.00, 10 January 2020) to 400 g" in shown


def test_drivers_with_swings_and_what_if(book: Path) -> None:
    found = answer(
        "drivers", "pie", *PERIOD, "--monthly", "--what-if", "dairy=+10%", "--json", book=book,
        status=1,
    )  # fmt: skip
    assert {each["ingredient"] for each in found["swings"]} == {"butter", "cream", "flour"}
    # pie now: butter 0.25, cream 0.25: a tenth of 0.50
    assert found["what_if"]["dishes"][0]["change"] == pytest.approx(0.05)
    shown = run("drivers", *PERIOD, "--monthly", "--what-if", "butter=+20%", book=book).stdout
    assert "Swing" in shown
    assert "If butter rose by 20 % from the prices of 20 January 2022" in shown
    wrong = run("drivers", *PERIOD, "--what-if", "butter 20", book=book)
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert "NAME=+20%" in wrong.stderr


def test_inflation(book: Path) -> None:
    found = answer("inflation", "--from", "2022-01", "--to", "2022-03", "--json", book=book)
    assert [month["month"] for month in found["months"]] == ["2022-01", "2022-02", "2022-03"]
    assert found["left_out"] == []
    shown = run("inflation", "--from", "2022-01", "--to", "2022-03", book=book).stdout
    assert "The kitchen's own index: one portion of each of 1 dish" in shown
    # leek has no price before 2022 and no series: left out, status 1
    early = run("inflation", "--from", "2020-01", "--to", "2022-03", book=book)
    assert early.returncode == 1
    assert "Left out of every month, so that all compare: leek (" in early.stdout


def test_season(book: Path) -> None:
    refused = run("season", "butter", book=book)
    assert refused.returncode == 1
    assert "three years" in refused.stderr
    assert run("season", "buter", book=book).returncode == 2


def test_printed(printed: Path) -> None:
    found = answer("printed", "--on", "2022-01-20", "--json", book=printed, status=1)
    assert found["on"] == "2022-01-20"
    # tests/pricing/printed/test_check.py works these out by pencil
    assert [(each["then"], each["now"]) for each in found["figures"]] == [
        ("agrees", "stale"), ("differs", "holds"), ("cannot price", "cannot price"),
        ("agrees", "holds"), ("differs", "stale"), ("agrees", "stale"),
    ]  # fmt: skip
    done = run("printed", "--on", "2022-01-20", book=printed)
    assert done.returncode == 1
    said = " ".join(done.stdout.split())
    assert (
        "6 printed figures on 20 January 2022, tolerance 5 %. In force: 2 hold, 1 is stale, 1 "
        "cannot be priced, 1 differed on its own day; 2 superseded"
    ) in said
    assert (
        "loaf (Sheet 2): printed at $0.60 on 20 December 2021, but by what was known on 20 "
        "December 2021 a portion cost $0.55; it costs $0.60 now."
    ) in said
    assert "No price of saffron is in the book" in done.stdout
    _, superseded = done.stdout.split("Superseded: a later figure of the same dish was published.")
    assert superseded.count("loaf ") == 3  # two figures, and the sentence on Sheet 2
    assert run("printed", "--tolerance", "-5", book=printed).returncode == 2
    late = run("printed", "--on", "2026-11-25", book=printed)
    assert (late.returncode, late.stdout) == (2, "")


def test_the_former_kind_of_file_names_the_new_one(printed: Path, tmp_path: Path) -> None:
    (tmp_path / "old.csv").write_text("dish\n")
    done = run("load", "claims", str(tmp_path / "old.csv"), book=printed)
    assert done.returncode == 2
    assert "portiondrift load printed FILE" in done.stderr


def test_publish_and_its_evidence(tmp_path: Path) -> None:
    path = make_book(tmp_path, DRIVERS, series=()).path
    assert "No figure here has kept evidence" in run("evidence", book=path).stdout
    made = answer("publish", "pie", "--on", "2022-01-20", "--where", "Sheet 1", "--json", book=path)
    # half a portion of pastry 0.325, 50 g cream 0.25
    assert made["printed"] == pytest.approx(0.58)
    again = run("publish", "pie", "--on", "2022-01-20", "--where", "Sheet 1", book=path)
    assert again.returncode == 2
    assert "already" in again.stderr
    run("price", "cream", "6.00", "--pack", "1 kg", "--on", "2022-01-15", "--supplier", "Mill",
        book=path)  # fmt: skip
    shown = run("evidence", "pie", book=path).stdout
    assert "We said:       $0.58" in shown
    # 50 g of cream between 6.00 and 5.00 a kilo, seen five days before: the older counts
    # 2^(−5/180) of the other
    more = 0.05 * (6.00 - 5.00) / (1 + 2 ** (-5 / 180))
    assert "We know now:   $0.60 a portion for that same day (+$0.03)" in shown
    told = answer("evidence", "pie", "--on", "2022-01-20", "--json", book=path)["figures"][0]
    assert told["change"] == pytest.approx(more)
    assert told["evidence"]["costing"]["cost_per_portion"] == pytest.approx(0.575)
    ahead = run("publish", "pie", "--printed", "about 0.60", "--on", "2026-12-14", book=path)
    said = " ".join(ahead.stdout.split())
    assert "Recorded $0.60 (“about 0.60”) a portion of pie" in said
    assert "published on 14 December 2026. Costed for 24 November 2026 it is $" in said
    assert "Published prices fall under local law" in said
    missing = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\nsaffron,g",
            "dishes": "dish,version,effective_from,portions,ingredient,quantity,unit\n"
            "rice,1,2020-01-01,1,saffron,1,g",
        },
        name="gaps.duckdb",
    ).path
    gap = run("publish", "rice", "--on", "2022-01-20", book=missing)
    assert gap.returncode == 1
    assert "expected every line priced" in gap.stderr


def test_compare_in_words(book: Path) -> None:
    found = answer(
        "compare", "pie", "--then", "2020-01-20@1", "--now", "2022-01-20", "--json", book=book,
        status=1,
    )  # fmt: skip
    # then, without the leek that has no price then: pastry 0.50; now 0.575
    assert found["change"] == pytest.approx(0.575 - 0.50)
    *compared, leek = found["ingredients"]
    assert (leek["ingredient"], leek["left_out"], leek["price_parts"]) == ("leek", True, None)
    for part in compared:
        split = part["recipe_parts"]
        total = sum(value for name, value in split.items() if name != "swapped_with")
        assert total == pytest.approx(part["recipe_effect"], abs=1e-9)
        assert sum(part["price_parts"][name] for name in ("sticker", "pack")) == pytest.approx(
            part["price_effect"], abs=1e-9
        )
    # butter, from 500 g to 400 g at one sticker: all of the rise of 50 g is the pack
    butter = next(each for each in found["ingredients"] if each["ingredient"] == "butter")
    assert butter["price_parts"]["sticker"] == pytest.approx(0, abs=1e-12)
    assert butter["price_parts"]["pack"] == pytest.approx(50 * 0.002)
    assert found["rebased_own"]["amount"] == pytest.approx(found["corners"]["then_recipe_now"])
    assert found["then"]["portions"] == 2
    shown = run("compare", "pie", "--then", "2020-01-20@1", "--now", "2022-01-20", book=book).stdout
    assert "On 20 January 2020 a portion, without leek, cost $0.50." in shown
    assert "cream added (+$0.25)" in shown
    assert "Of the prices, $0.10 is smaller packs: butter." in shown.replace("\n", " ")
    assert "Without leek: leek was first seen on 10 January 2022" in shown
    assert "by its own ingredients" in shown


def test_printed_imports_nothing_heavy(printed: Path) -> None:
    code = (
        "import sys; sys.argv = ['portiondrift', 'printed', '--on', '2022-01-20']\n"
        "from dashboard.cli import app\n"
        "try: app()\n"
        "except SystemExit: pass\n"
        "heavy = {'numpy', 'pandas', 'scipy', 'altair', 'streamlit'}\n"
        "sys.exit(', '.join(sorted(heavy & set(sys.modules))) or 0)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PORTIONDRIFT_BOOK": str(printed)},
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
