"""One question has one answer: what a recipe as printed costs, asked of four commands."""

from __future__ import annotations

import tempfile
from datetime import date, timedelta
from pathlib import Path
from random import Random

import pytest

import pricing
from pricing.book.connect import Book, reading
from pricing.change.overview import then_and_now
from pricing.contents.printed import first_printed, list_printed
from tests.kitchen import TODAY, make_book
from tests.loops import rounds


def check_one_answer(book: Book) -> dict[str, int]:
    """Ask the four commands about every printed figure; return how often each was asked."""
    asked = {"printed": 0, "compare": 0, "drift": 0, "catalogue": 0}
    catalogue = {each.dish: each for each in then_and_now(book, on=TODAY)}
    first = first_printed(list_printed(book))
    for figure in pricing.check_printed(book).figures:
        dish, version, day = figure.dish, figure.version, figure.costed_on
        assert figure.recipe_day == day
        then, now = (
            pricing.cost_dish(book, dish, on=on, version=version, recipe_day=day)
            for on in (day, TODAY)
        )
        if not (then.complete and now.complete):
            assert "cannot price" in (figure.then, figure.now)
            continue
        asked["printed"] += 1
        costs = pytest.approx((then.cost_per_portion, now.cost_per_portion), rel=1e-9)
        assert (figure.recosted_then, figure.recosted_now) == costs
        found = pricing.compare(book, dish, then=(day, version), now=TODAY, recipe_day=day)
        # where one market was settled for both days, the question is another
        if found.complete and not any(each.marked for each in found.ingredients):
            asked["compare"] += 1
            assert found.then.recipe_day == day
            assert (found.corners.then_recipe_then, found.corners.then_recipe_now) == costs
            own = first[dish]
            if (own.costed_on, own.version) == (day, version):
                asked["catalogue"] += 1
                row = catalogue[dish]
                assert (row.cost_then, row.cost_moved) == costs
        month = f"{day:%Y-%m}"
        drifted = pricing.drift_points(book, [dish], start=month, end=month, version=version)
        (point,) = drifted.dishes[0].points or (None,) if drifted.dishes else (None,)
        if point is not None and day.day == 15 and point.recipe_day == day:
            asked["drift"] += 1
            assert point.cost_per_portion == pytest.approx(then.cost_per_portion, rel=1e-9)
    return asked


def test_as_printed_has_one_answer_from_four_commands_in_the_demo(demo: Book) -> None:
    with reading(demo):  # opened once for all
        asked = check_one_answer(demo)
    assert asked["printed"] == 32
    assert asked["compare"] >= 20
    assert asked["catalogue"] >= 12


FOODS = ("flour", "butter", "leek", "cream")
START = date(2016, 1, 1)
KITCHENS = "abcd"  # in one book: whatever is asked is asked of one of them, and a book is dear


def random_files(chance: Random) -> dict[str, str]:
    """Return a book of four kitchens that share nothing but their shops."""
    heads = {
        "ingredients": "ingredient,base,series",
        "prices": "ingredient,date,price,currency,pack,supplier",
        "dishes": "dish,version,effective_from,portions,ingredient,quantity,unit",
        "printed": "dish,version,published_on,cost_per_portion,currency,costed_on",
    }
    files = {kind: [head] for kind, head in heads.items()}
    for kitchen in KITCHENS:
        for kind, rows in random_kitchen(chance, kitchen).items():
            files[kind] += rows
    return {kind: "\n".join(rows) for kind, rows in files.items()}


def random_kitchen(chance: Random, kitchen: str) -> dict[str, list[str]]:
    """Return the rows of a pie of a pastry, each in several versions, with figures on a 15th."""
    names = [f"{food} {kitchen}" for food in FOODS]

    def day(least: int = 0, most: int = 3900) -> date:
        return START + timedelta(days=chance.randint(least, most))

    prices = [
        f"{name},{day()},{chance.randint(50, 900) / 100:.2f},USD,1 kg,{chance.choice('ABC')}"
        for name in names
        for _ in range(chance.randint(1, 6))
    ]
    lines = []
    for dish in ("pastry", "pie"):
        starts = sorted({day(most=3600) for _ in range(chance.randint(1, 3))})
        for number, start in enumerate(starts, 1):
            head = f"{dish} {kitchen},{number},{start},{chance.randint(1, 8)}"
            lines += [f"{head},{name},{chance.randint(5, 900)},g" for name in names[:3]]
            if dish == "pie":
                lines.append(f"{head},dish:pastry {kitchen},{chance.randint(1, 4)},portion")
    versions = {tuple(line.split(",")[:2]) for line in lines}
    figures = []
    for dish, version in sorted(versions):
        costed = day(200).replace(day=15)
        figures.append(f"{dish},{version},{costed + timedelta(days=90)},1.00,USD,{costed}")
    return {
        "ingredients": [f"{name},g,us-bls:SAF11" for name in names],
        "prices": prices,
        "dishes": lines,
        "printed": figures,
    }


def test_as_printed_has_one_answer_from_four_commands_in_random_books() -> None:
    chance, asked = Random(20261124), {"printed": 0, "compare": 0, "drift": 0, "catalogue": 0}
    books = rounds(7)
    for _ in range(books):
        with tempfile.TemporaryDirectory() as folder:
            book = make_book(Path(folder), random_files(chance), series=["us-bls:SAF11"])
            with reading(book):  # opened once for all
                for command, many in check_one_answer(book).items():
                    asked[command] += many
    assert all(many > books * len(KITCHENS) / 6 for many in asked.values()), asked
