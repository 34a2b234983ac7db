"""The paragraph that says why a dish costs more or less, in each of the cases there are."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

import pricing
from dashboard.words.change import (
    change_paragraph,
    change_remark,
    left_out_sentences,
    rebased_sentences,
    recipe_names,
    state_words,
)
from pricing.change.records import Comparison, When
from tests.kitchen import make_book

THEN, NOW = date(2020, 1, 20), date(2022, 1, 20)


def compared(
    folder: Path,
    prices: dict[str, tuple[str, str]],
    lines: list[str],
    then: When = THEN,
    *,
    now: When = NOW,
    other: Sequence[str] = (),
    more: str = "",
) -> Comparison:
    """Compare one dish; prices a kilo of 2020 and 2022, "" = not seen.

    `other`: lines of other dishes; `more`: further columns of the lines.
    """
    rows = [
        f"{name},{year}-01-10,{price},USD,1 kg"
        for name, both in prices.items()
        for year, price in zip((2020, 2022), both, strict=True)
        if price
    ]
    head = f"dish,version,effective_from,portions,ingredient,quantity,unit{more}"
    book = make_book(
        folder,
        {
            "ingredients": "\n".join(["ingredient,base", *(f"{name},g" for name in prices)]),
            "prices": "\n".join(["ingredient,date,price,currency,pack", *rows]),
            "dishes": "\n".join([head, *other, *(f"dish,{line}" for line in lines)]),
        },
        series=(),
    )
    return pricing.compare(book, "dish", then=then, now=now)


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
        "On 20 January 2020 a portion cost $3.40. The recipe as printed, on 20 January 2022, costs "
        "$4.21: $0.81 more, mostly butter. The rework adds $0.31 on that day: capers added "
        "(+$0.31). That makes $4.52 a portion."
    )
    assert rebased_sentences(found)[-1] == (
        # 0.80 + 2.00 + 0.60 then; the same recipe now is 0.81 more
        "$3.40 of January 2020 is $4.21 by its own ingredients: the recipe as printed, version 1, "
        "at the prices of 20 January 2022."
    )


def test_both_downwards(tmp_path: Path) -> None:
    found = compared(
        tmp_path,
        {"butter": ("10.00", "8.00"), "leek": ("5.00", "5.00")},
        ["1,2019-01-01,1,butter,100,g", "1,2019-01-01,1,leek,100,g", "2,2021-01-01,1,butter,100,g"],
    )
    assert change_paragraph(found) == (
        "On 20 January 2020 a portion cost $1.50. The recipe as printed, on 20 January 2022, costs "
        "$1.30: $0.20 less, mostly butter. The rework saves $0.50 on that day: leek left out "
        "(−$0.50). That makes $0.80 a portion."
    )


def test_only_the_prices_and_one_against_them(tmp_path: Path) -> None:
    found = compared(
        tmp_path,
        {"butter": ("8.00", "10.00"), "leek": ("5.00", "4.00")},
        ["1,2019-01-01,1,butter,100,g", "1,2019-01-01,1,leek,100,g"],
    )
    # butter +0.20, leek −0.10: half as much the other way is worth a word
    assert change_paragraph(found) == (
        "On 20 January 2020 a portion cost $1.30. The recipe as printed, on 20 January 2022, costs "
        "$1.40: $0.10 more, mostly butter, while leek became cheaper."
    )


def test_only_the_recipe(tmp_path: Path) -> None:
    found = compared(
        tmp_path,
        {"butter": ("8.00", "8.00")},
        ["1,2019-01-01,1,butter,100,g", "2,2021-01-01,1,butter,50,g"],
    )
    assert change_paragraph(found) == (
        "On 20 January 2020 a portion cost $0.80. The recipe as printed, on 20 January 2022, costs "
        "the same. The rework saves $0.40 on that day: less butter (−$0.40). That makes $0.40 a "
        "portion."
    )


def test_against_each_other_down_to_nothing(tmp_path: Path) -> None:
    # butter 10.00 → 20.00: price 100 g · 0.01 = +1.00, recipe −50 g · 0.02 = −1.00
    found = compared(
        tmp_path,
        {"butter": ("10.00", "20.00")},
        ["1,2019-01-01,1,butter,100,g", "2,2021-01-01,1,butter,50,g"],
    )
    assert change_paragraph(found) == (
        "On 20 January 2020 a portion cost $1.00. The recipe as printed, on 20 January 2022, costs "
        "$2.00: $1.00 more, mostly butter. The rework saves $1.00 on that day: less butter "
        "(−$1.00). That makes $1.00 a portion."
    )


@pytest.mark.parametrize(
    ("leek", "words"),
    [
        ("5.00", "."),
        ("3.00", ": what became dearer and what became cheaper cancel out."),
    ],
)
def test_nothing_changed(tmp_path: Path, leek: str, words: str) -> None:
    butter = "8.00" if leek == "5.00" else "10.00"
    found = compared(
        tmp_path,
        {"butter": ("8.00", butter), "leek": ("5.00", leek)},
        ["1,2019-01-01,1,butter,100,g", "1,2019-01-01,1,leek,100,g"],
    )
    assert change_paragraph(found) == (
        "On 20 January 2020 a portion cost $1.30. The recipe as printed, on 20 January 2022, costs "
        f"the same{words}"
    )


def test_the_recipe_as_printed_of_today_is_said_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PORTIONDRIFT_TODAY", NOW.isoformat())
    found = compared(
        tmp_path,
        {"butter": ("8.00", "10.00")},
        ["1,2019-01-01,1,butter,100,g", "2,2021-01-01,1,butter,50,g"],
    )
    assert change_paragraph(found) == (
        "On 20 January 2020 a portion cost $0.80. The recipe as printed, today, costs $1.00: $0.20 "
        "more, mostly butter. The rework saves $0.50 today: less butter (−$0.50). That makes $0.50 "
        "a portion."
    )


def test_two_versions_of_one_day(tmp_path: Path) -> None:
    found = compared(
        tmp_path,
        {"butter": ("8.00", "10.00")},
        ["1,2019-01-01,1,butter,100,g", "2,2021-01-01,1,butter,50,g"],
        (NOW, "1"),
    )
    assert change_paragraph(found) == (
        "On 20 January 2022 a portion of version 1 cost $1.00. The rework saves $0.50 on that day: "
        "less butter (−$0.50). That makes $0.50 a portion."
    )
    assert state_words(found.then) == (
        "version 1 as printed, on 20 January 2022 (recipe day 31 December 2020)"
    )
    assert state_words(found.now) == "version 2 on 20 January 2022"
    assert recipe_names(found) == ("recipe of then, version 1", "recipe of now, version 2")


def test_what_cannot_be_compared_is_said(tmp_path: Path) -> None:
    found = compared(
        tmp_path,
        {"butter": ("8.00", "10.00"), "leek": ("", "5.00")},
        ["1,2019-01-01,1,butter,100,g", "1,2019-01-01,1,leek,100,g"],
    )
    assert change_paragraph(found) == (
        "On 20 January 2020 a portion, without leek, cost $0.80. The recipe as printed, on 20 "
        "January 2022, costs $1.00: $0.20 more, mostly butter."
    )
    assert left_out_sentences(found.left_out) == [
        "Without leek: leek was first seen on 10 January 2022, and no official series of the book "
        "reaches from then to 20 January 2020."
    ]
    assert change_remark(found.ingredients[-1], "USD") == "left out: a price is missing"


def test_a_version_to_come_and_an_old_one_are_told_apart(tmp_path: Path) -> None:
    lines = [
        "1,2019-01-01,1,butter,100,g",
        "2,2021-01-01,1,butter,50,g",
        "3,2023-01-01,1,butter,80,g",
    ]
    book = compared(
        tmp_path, {"butter": ("8.00", "10.00")}, lines, now=(NOW, "1"), then=(THEN, "2")
    )
    # then 50 g at 0.008 = 0.40, now 0.50; version 1 takes 100 g: 1.00
    assert recipe_names(book) == ("recipe of then, version 2", "version 1 as printed")
    assert change_paragraph(book) == (
        "On 20 January 2020 a portion cost $0.40. Version 2 as printed, on 20 January 2022, costs "
        "$0.50: $0.10 more, mostly butter. The rework adds $0.50 on that day: more butter "
        "(+$0.50). That makes $1.00 a portion."
    )
    later = compared(tmp_path / "later", {"butter": ("8.00", "10.00")}, lines, now=(NOW, "3"))
    assert recipe_names(later) == ("recipe of then, version 1", "version 3, not in force yet")


def test_one_version_with_the_recipes_inside_it_of_two_days(tmp_path: Path) -> None:
    found = compared(
        tmp_path,
        {"butter": ("8.00", "10.00")},
        ["1,2019-01-01,1,dish:sauce,1,batch", "2,2021-06-01,1,butter,90,g"],
        now=(NOW, "1"),
        other=["sauce,1,2019-01-01,1,butter,100,g", "sauce,2,2021-01-01,1,butter,60,g"],
    )
    # the sauce takes 100 g then, 60 g when version 1 was last in force, on 31 May 2021
    assert recipe_names(found) == (
        "recipe of then, version 1", "version 1 as printed (recipe day 31 May 2021)",
    )  # fmt: skip
    assert change_paragraph(found) == (
        "On 20 January 2020 a portion cost $0.80. Version 1, with the recipes inside it of 20 "
        "January 2020, on 20 January 2022, costs $1.00: $0.20 more, mostly butter. The rework "
        "saves $0.40 on that day: less butter (−$0.40). That makes $0.60 a portion."
    )


def test_an_amount_written_before_trimming_and_then_after_it_is_one_change(tmp_path: Path) -> None:
    # 60 g of leek after trimming at 50 % = 120 g bought; then 150 g as bought. 30 g more at 0.01
    found = compared(
        tmp_path,
        {"leek": ("10.00", "10.00")},
        ["1,2019-01-01,1,leek,60,g,edible,50", "2,2021-01-01,1,leek,150,g,,"],
        more=",state,yield_pct",
    )
    assert "The rework adds $0.30 on that day: more leek to buy, the trim counted (+$0.30)." in (
        change_paragraph(found)
    )
