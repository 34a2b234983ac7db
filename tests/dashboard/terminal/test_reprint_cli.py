"""`reprint` in the terminal: its JSON, the list to take along, the file that comes back."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from pricing.book.connect import Book
from pricing.reprint.round import reprint_round
from tests.kitchen import TODAY, make_book
from tests.pricing.reprint.kitchen import FILES
from tests.terminal import answer, run


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES, series=())


def test_the_keys_of_the_contract(book: Book) -> None:
    found = answer("reprint", "--json", book=book.path, status=1)  # saffron has no price
    assert set(found) >= {"on", "check", "dishes", "corrections"}
    assert found["on"] == "2026-11-24"
    keys = "ingredient supplier last_price pack seen_on age_days worth figures"
    assert all(set(each) >= set(keys.split()) for each in found["check"])
    keys = "dish version printed recosted_now new_figure why sentence"
    assert all(set(each) >= set(keys.split()) for each in found["dishes"])
    keys = "dish version published_on printed known_then off_then_pct"
    assert all(set(each) >= set(keys.split()) for each in found["corrections"])
    (short,) = (each for each in found["dishes"] if each["dish"] == "shortbread")
    assert (short["printed"], short["new_figure"]) == (0.4, 0.48)
    assert short["why"].startswith("It costs $0.08 more than printed: prices added $0.22 (butter")
    assert run("reprint", "shortbread", book=book.path).returncode == 0


def test_the_text_has_the_three_parts(book: Book) -> None:
    said = run("reprint", book=book.path).stdout
    words = " ".join(said.split())
    assert "3 figures at prices of 24 November 2026; 1 cannot be priced." in words
    assert "saffron 100.0 % 1 never seen" in words
    assert "A portion of shortbread costs about $0.48 at prices of November 2026." in words
    assert (
        "salt crust (Harbour Sheet no. 2): printed at $2.00 on 15 January 2026; by what was known "
        "on 15 January 2026 a portion cost $1.00 (−50.0 %)." in words
    )
    assert "local law" in words


def test_the_list_to_take_along(book: Book, tmp_path: Path) -> None:
    file = tmp_path / "shops.md"
    done = run("reprint", "--write", str(file), "--by", "2026-12-05", book=book.path)
    assert f"The prices to check are in {file}." in done.stderr
    assert file.read_text("utf-8") == (
        "# Prices to check, 24 November 2026, to print by 5 December 2026\n"
        "\n"
        "## No shop named\n"
        "\n"
        "- [ ] saffron, any pack: \\_\\_\\_\\_\\_\\_\\_\\_ (last never seen)\n"
        "\n"
        "## Quay Market\n"
        "\n"
        "- [ ] salt, 1 kg: \\_\\_\\_\\_\\_\\_\\_\\_ (last \\$1.00 on 10 January 2026)\n"
        "- [ ] flour, 2 kg: \\_\\_\\_\\_\\_\\_\\_\\_ (last \\$4.00 on 20 November 2026)\n"
    )
    again = run("reprint", "--write", str(file), book=book.path)
    assert again.returncode == 2
    assert "nothing is overwritten" in again.stderr
    wrong = run("reprint", "--write", str(tmp_path / "shops.txt"), book=book.path)
    assert "ends in .csv" in wrong.stderr


def test_the_file_comes_back_filled_in(book: Book, tmp_path: Path) -> None:
    file = tmp_path / "shops.csv"
    run("reprint", "--write", str(file), book=book.path)
    rows = list(csv.DictReader(file.read_text("utf-8").splitlines()))
    assert [(each["ingredient"], each["price"]) for each in rows] == [
        ("saffron", ""), ("salt", ""), ("flour", ""),
    ]  # fmt: skip
    text = file.read_text("utf-8")
    line = "salt,2026-11-24,,USD,1 kg,Quay Market,shelf"
    assert line in text
    file.write_text(text.replace(line, line.replace(",,USD", ",1.20,USD")), "utf-8")
    done = run("load", "prices", str(file), book=book.path)
    assert (done.returncode, "2 prices to check were left empty" in done.stderr) == (0, True)
    salt = answer("prices", "salt", "--json", book=book.path)["observations"][0]
    assert (salt["observed_on"], salt["price"], salt["supplier"]) == (
        "2026-11-24", 1.2, "Quay Market",
    )  # fmt: skip
    assert "salt" not in {each.ingredient for each in reprint_round(book, on=TODAY).check}


def test_an_empty_price_elsewhere_is_a_problem(book: Book, tmp_path: Path) -> None:
    file = tmp_path / "prices.csv"
    heading = "ingredient,date,price,currency,pack,note\n"
    file.write_text(f"{heading}flour,2026-11-24,,USD,1 kg,to check\n", "utf-8")
    done = run("load", "prices", str(file), book=book.path)
    assert done.returncode == 1
    assert "an empty cell" in done.stdout
    file.write_text(f"{heading}flour,2026-11-24,lots,USD,1 kg,price to check\n", "utf-8")
    assert "'lots'" in run("load", "prices", str(file), book=book.path).stdout
