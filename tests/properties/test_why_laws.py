"""Laws of drivers, printed figures and the grid's short way, on random books."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import pricing
from pricing.book.connect import reading, writing
from pricing.dishes.matrix import read_catalogue
from pricing.dishes.recipes import read_recipes
from pricing.errors import RecipeRefused
from tests.kitchen import load, make_book
from tests.properties.test_costing_laws import (
    HEAD,
    LINES,
    PRICES,
    SLOW,
    START,
    Line,
    book_of,
    version,
)

DAYS = st.integers(0, 4500).map(lambda day: START + timedelta(days=day))
Prices = list[tuple[str, int, int, str]]


def dishes_of(lines: list[Line], other: list[Line]) -> str:
    return "\n".join(
        [
            HEAD,
            version("pie", "a", date(2010, 1, 1), 4, lines),
            version("pie", "b", date(2018, 1, 1), 6, other),
            version("half", "1", date(2010, 1, 1), 8, other),
            "half,1,2010-01-01,8,800,dish:pie,1,portion,",
            # before it begins it takes the pie of the day it does
            version("supper", "1", date(2019, 3, 1), 3, lines[:1]),
            "supper,1,2019-03-01,3,800,dish:half,0.5,batch,",
            "supper,1,2019-03-01,3,800,dish:pie,150,g,",
        ]
    )


@SLOW
@given(lines=LINES, other=LINES, prices=PRICES, then=DAYS, now=DAYS)
def test_drivers_are_the_mean_of_the_comparisons(
    lines: list[Line], other: list[Line], prices: Prices, then: date, now: date
) -> None:
    book = book_of(prices, dishes_of(lines, other))
    with reading(book):  # opened once for all that is asked
        dishes = ("pie", "half", "supper")
        found = pricing.rank_drivers(book, dishes, then=then, now=now)
        back = pricing.rank_drivers(book, dishes, then=now, now=then)
        alone = [pricing.compare(book, dish, then=then, now=now) for dish in dishes]
    assert found.mean_then == pytest.approx(sum(c.corners.then_recipe_then for c in alone) / 3)
    assert found.mean_now == pytest.approx(sum(c.corners.now_recipe_now for c in alone) / 3)
    total = sum(each.contribution for each in found.ingredients)
    assert total == pytest.approx(found.mean_now - found.mean_then, abs=1e-9)
    for each in found.ingredients:
        those = [p for c in alone for p in c.compared if p.ingredient == each.ingredient]
        assert each.dishes == len(those)
        price, recipe = (sum(p[effect] for p in those) / 3 for effect in
                         ("price_effect", "recipe_effect"))  # fmt: skip
        assert each.price_effect == pytest.approx(price, abs=1e-9)
        assert each.recipe_effect == pytest.approx(recipe, abs=1e-9)
    sizes = [abs(each.contribution) for each in found.ingredients]
    assert sizes == sorted(sizes, reverse=True)
    assert found.complete == all(c.complete for c in alone)
    left_out = [each for c in alone for each in c.left_out]
    assert {(each.ingredient, each.dishes) for each in found.left_out} == {
        (each.ingredient, sum(other.ingredient == each.ingredient for other in left_out))
        for each in left_out
    }
    if found.complete and back.complete:
        assert back.change == pytest.approx(-found.change, abs=1e-9)


@SLOW
@given(lines=LINES, other=LINES, day=DAYS, order=st.permutations(["pie", "half", "supper"]))
def test_the_quantity_matrix_unfolds_as_the_recipes_do(
    lines: list[Line], other: list[Line], day: date, order: list[str]
) -> None:
    book = book_of([], dishes_of(lines, other))
    with reading(book) as con:
        recipes = read_recipes(con, None)
        ids = {versions[0].dish: dish_id for dish_id, versions in recipes.versions.items()}
        catalogue = read_catalogue(con, [ids[dish] for dish in order])
        taken = catalogue.on(con, day)
    assert catalogue.dishes == tuple(order)
    for row, dish in enumerate(order):
        in_force, started = recipes.in_force(ids[dish], day)
        expected = recipes.per_portion(in_force, recipes.recipe_day(in_force, day))
        got = taken.quantities[[row]].toarray()[0]
        found = {
            int(each): quantity
            for each, quantity in zip(catalogue.ingredient_ids, got, strict=True)
            if quantity
        }
        assert found == pytest.approx(expected)
        assert (taken.labels[row], bool(taken.started[row])) == (in_force.version, started)


def test_the_matrix_refuses_what_the_recipes_refuse(tmp_path: Path) -> None:
    head = "dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit"
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base\nflour,g",
            "dishes": f"""{head}
                dough,1,2010-01-01,1,500,flour,400,g
                roll,1,2010-01-01,1,,dish:dough,100,g
                bread,1,2010-01-01,1,,flour,100,g
            """,
        },
    )
    with writing(book) as con:  # a load would refuse it, since the roll takes the dough by weight
        con.execute(
            "INSERT INTO dish_version (batch, dish_id, version, effective_from, portions) "
            "SELECT batch, dish_id, '2', '2020-01-01', 1 FROM dish_version_now WHERE dish = 'dough'"
        )
    with reading(book) as con:
        catalogue = read_catalogue(con, None)
        assert catalogue.on(con, date(2015, 1, 1)).quantities.sum() == pytest.approx(400 + 80 + 100)
        with pytest.raises(RecipeRefused, match="batch_weight_g in version 2 of 'dough'"):
            catalogue.on(con, date(2021, 1, 1))
        (bread,) = (each[0] for each in con.execute(
            "SELECT dish_id FROM dish WHERE name = 'bread'").fetchall())  # fmt: skip
        alone = read_catalogue(con, [bread])
        assert alone.on(con, date(2021, 1, 1)).quantities.sum() == pytest.approx(100)


@SLOW
@given(
    lines=LINES, prices=PRICES, later=PRICES, day=DAYS, cents=st.integers(1, 500),
    replaced=st.booleans(),
)  # fmt: skip
def test_a_frozen_figure_never_changes(
    lines: list[Line], prices: Prices, later: Prices, day: date, cents: int, replaced: bool
) -> None:
    book = book_of(prices, "\n".join([HEAD, version("pie", "a", date(2010, 1, 1), 1, lines)]))
    on = min(day, date(2026, 11, 24))
    if round(pricing.cost_dish(book, "pie", on=on).cost_per_portion, 2) == 0:
        return  # nothing to publish
    pricing.record_printed(book, "pie", on=on)
    (before,) = pricing.said_and_known(book)
    assert (before.change, before.lines) == (0.0, ())
    packs = {"flour": "1 kg", "milk": "1 l", "egg": "6 each", "butter": "8 oz", "leek": "500 g"}
    rows = [
        f"{name},{START + timedelta(days=at)},{c / 100:.2f},USD,{packs[name]}"
        for name, at, c, _ in [*later, ("flour", (on - START).days, cents, "")]
    ]
    load(book, "prices", "\n".join(["ingredient,date,price,currency,pack", *rows]),
         accept_unusual=True)  # fmt: skip
    if replaced:
        load(book, "dishes", "\n".join([HEAD, "pie,a,2010-01-01,1,800,milk,100,ml,"]), replace=True)
    (after,) = pricing.said_and_known(book)
    assert (after.said, after.evidence, after.evidence_sha256, after.printed) == (
        before.said, before.evidence, before.evidence_sha256, before.printed,
    )  # fmt: skip
    assert after.known == pytest.approx(pricing.cost_dish(book, "pie", on=on).cost_per_portion)
    assert after.change == pytest.approx(sum(line.change for line in after.lines), abs=1e-9)
