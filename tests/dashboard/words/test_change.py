"""The paragraph that says why a dish costs more or less, in each of the cases there are."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import pricing
from dashboard.words.change import change_paragraph, rebased_sentences
from pricing.change.records import Comparison
from tests.kitchen import make_book

THEN, NOW = date(2020, 1, 20), date(2022, 1, 20)


def compared(folder: Path, prices: dict[str, tuple[str, str]], lines: list[str]) -> Comparison:
    """Compare one dish; prices a kilo of 2020 and 2022, "" = not seen."""
    rows = [
        f"{name},{year}-01-10,{price},USD,1 kg"
        for name, both in prices.items()
        for year, price in zip((2020, 2022), both, strict=True)
        if price
    ]
    head = "dish,version,effective_from,portions,ingredient,quantity,unit"
    book = make_book(
        folder,
        {
            "ingredients": "\n".join(["ingredient,base", *(f"{name},g" for name in prices)]),
            "prices": "\n".join(["ingredient,date,price,currency,pack", *rows]),
            "dishes": "\n".join([head, *(f"dish,{line}" for line in lines)]),
        },
    )
    return pricing.compare(book, "dish", then=THEN, now=NOW)


def test_both_the_same_way(tmp_path: Path) -> None:
    # butter 100 g 8.00 → 12.50: +0.45; haddock 200 g 10.00 → 11.50: +0.30; flour 600 g 1.00 → 1.10:
    # +0.06: prices +0.81. Capers 31 g at 10.00 added: +0.31. 1.12 more.
    found = compared(
        tmp_path,
        {"butter": ("8.00", "12.50"), "haddock": ("10.00", "11.50"), "flour": ("1.00", "1.10"),
         "capers": ("10.00", "10.00")},
        ["1,2019-01-01,1,butter,100,g", "1,2019-01-01,1,haddock,200,g",
         "1,2019-01-01,1,flour,600,g",
         "2,2021-01-01,1,butter,100,g", "2,2021-01-01,1,haddock,200,g",
         "2,2021-01-01,1,flour,600,g", "2,2021-01-01,1,capers,31,g"],
    )  # fmt: skip
    assert change_paragraph(found) == (
        "Of the $1.12 more per portion, $0.81 is prices, mostly butter; $0.31 is the recipe: "
        "capers added (+$0.31)."
    )
    assert rebased_sentences(found)[-1] == (
        # 0.80 + 2.00 + 0.60 then; the same recipe now is 0.81 more
        "$3.40 of January 2020 is $4.21 by its own ingredients: the recipe of version 1 at the "
        "prices of 20 January 2022."
    )


def test_both_downwards(tmp_path: Path) -> None:
    found = compared(
        tmp_path,
        {"butter": ("10.00", "8.00"), "leek": ("5.00", "5.00")},
        ["1,2019-01-01,1,butter,100,g", "1,2019-01-01,1,leek,100,g", "2,2021-01-01,1,butter,100,g"],
    )
    assert change_paragraph(found) == (
        "Of the $0.70 less per portion, $0.20 is prices, mostly butter; $0.50 is the recipe: leek "
        "left out (−$0.50)."
    )


def test_only_the_prices_and_one_against_them(tmp_path: Path) -> None:
    found = compared(
        tmp_path,
        {"butter": ("8.00", "10.00"), "leek": ("5.00", "4.00")},
        ["1,2019-01-01,1,butter,100,g", "1,2019-01-01,1,leek,100,g"],
    )
    # butter +0.20, leek −0.10: half as much the other way is worth a word
    assert change_paragraph(found) == (
        "All of the $0.10 more per portion is prices, mostly butter, while leek became cheaper."
    )


def test_only_the_recipe(tmp_path: Path) -> None:
    found = compared(
        tmp_path,
        {"butter": ("8.00", "8.00")},
        ["1,2019-01-01,1,butter,100,g", "2,2021-01-01,1,butter,50,g"],
    )
    assert change_paragraph(found) == (
        "All of the $0.40 less per portion is the recipe: less butter (−$0.40)."
    )


def test_against_each_other_down_to_nothing(tmp_path: Path) -> None:
    # butter 10.00 → 20.00: price ½(100 + 50) g · 0.01 = +0.75, recipe −50 g · 0.015 = −0.75
    found = compared(
        tmp_path,
        {"butter": ("10.00", "20.00")},
        ["1,2019-01-01,1,butter,100,g", "2,2021-01-01,1,butter,50,g"],
    )
    assert change_paragraph(found) == (
        "Prices added $0.75 per portion, mostly butter; the recipe took off $0.75: less butter "
        "(−$0.75). That leaves the same cost as before."
    )


@pytest.mark.parametrize(
    ("leek", "words"),
    [
        ("5.00", "A portion costs what it cost on 20 January 2020."),
        ("3.00", "A portion costs what it cost on 20 January 2020: what became dearer and what "
                 "became cheaper cancel out."),
    ],
)  # fmt: skip
def test_nothing_changed(tmp_path: Path, leek: str, words: str) -> None:
    butter = "8.00" if leek == "5.00" else "10.00"
    found = compared(
        tmp_path,
        {"butter": ("8.00", butter), "leek": ("5.00", leek)},
        ["1,2019-01-01,1,butter,100,g", "1,2019-01-01,1,leek,100,g"],
    )
    assert change_paragraph(found) == words


def test_a_price_of_one_day_only_is_said(tmp_path: Path) -> None:
    found = compared(
        tmp_path,
        {"butter": ("8.00", "10.00"), "leek": ("", "5.00")},
        ["1,2019-01-01,1,butter,100,g", "1,2019-01-01,1,leek,100,g"],
    )
    assert change_paragraph(found) == (
        "All of the $0.20 more per portion is prices, mostly butter. Priced on one of the days "
        "only, or on neither: leek."
    )
