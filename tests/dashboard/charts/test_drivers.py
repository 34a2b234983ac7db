"""The chart of the drivers: ranked, with figures in words, and a texture for the recipe parts."""

from __future__ import annotations

from datetime import date
from typing import Any

from dashboard.charts.drivers import drivers_chart
from dashboard.tables.drivers import MOST_DRAWN, driver_parts
from dashboard.words.states import BY_PRICE, BY_RECIPE
from pricing.change.drivers import Driver, Drivers


def driver(name: str, price: float, recipe: float) -> Driver:
    return Driver(
        ingredient=name, category=None, contribution=price + recipe, price_effect=price,
        recipe_effect=recipe, price_relative=None, dishes=1, share_now=None,
        official_relative=None, series=None, series_title=None, basis_then="observed",
        basis_now="observed", marked=False, packs_changed=(),
    )  # fmt: skip


def drivers(*ranked: Driver) -> Drivers:
    return Drivers(
        currency="USD", then=date(2020, 1, 1), now=date(2021, 1, 1), dishes=1, mean_then=1.0,
        mean_now=1.0, change=0.0, price_effect=0.0, recipe_effect=0.0, complete=True,
        incomplete_dishes=(), ingredients=ranked,
    )  # fmt: skip


def drawn(*ranked: Driver) -> dict[str, Any]:
    spec: dict[str, Any] = drivers_chart(driver_parts(drivers(*ranked)), currency="USD").to_dict()
    return spec


def data_of(spec: dict[str, Any], mark: str) -> list[list[dict[str, Any]]]:
    found = [layer for layer in spec["layer"] if layer["mark"]["type"] == mark]
    return [spec["datasets"][layer["data"]["name"]] for layer in found]


def test_each_ingredient_has_a_bar_for_price_and_one_for_recipe() -> None:
    bars, _ = data_of(drawn(driver("leek", 0.125, -0.05), driver("rice", 0.01, 0.0)), "bar")
    assert [(bar["ingredient"], bar["part"], bar["said"]) for bar in bars] == [
        ("leek", BY_PRICE, "leek: +$0.125 by price"),
        ("leek", BY_RECIPE, "leek: −$0.050 by recipe"),
        ("rice", BY_PRICE, "rice: +$0.010 by price"),
        ("rice", BY_RECIPE, "rice: $0.000 by recipe"),
    ]


def test_only_recipe_parts_are_striped_on_their_own_side() -> None:
    _, stripes = data_of(drawn(driver("leek", 0.125, -0.05)), "bar")
    assert [(row["part"], row["amount"]) for row in stripes] == [(BY_RECIPE, -0.05)]
    assert len(data_of(drawn(driver("leek", 0.125, 0.0)), "bar")) == 1


def test_where_no_recipe_changed_there_is_one_bar_to_an_ingredient() -> None:
    (bars,) = data_of(drawn(driver("leek", 0.125, 0.0), driver("rice", -0.01, 0.0)), "bar")
    assert [(bar["ingredient"], bar["part"]) for bar in bars] == [
        ("leek", BY_PRICE),
        ("rice", BY_PRICE),
    ]


def test_figures_stand_beside_the_bar_on_the_side_it_grows_to() -> None:
    spec = drawn(driver("leek", 0.125, -0.05))
    sides = {
        layer["mark"]["align"]: spec["datasets"][layer["data"]["name"]][0]["words"]
        for layer in spec["layer"]
        if layer["mark"]["type"] == "text" and "condition" in layer["encoding"]["text"]
    }
    assert sides == {"left": "+$0.125 by price", "right": "−$0.050 by recipe"}


def test_what_is_not_drawn_is_one_row_that_adds_up() -> None:
    many = [driver(f"herb {number}", 0.02, 0.0) for number in range(MOST_DRAWN + 3)]
    (bars,) = data_of(drawn(*many), "bar")
    assert len(bars) == MOST_DRAWN + 1
    assert bars[-1]["said"] == "all others (3): +$0.060 by price"  # 3 × 2 cents
