"""Where the demo kitchen buys, and what its files hold of tax, trade prices and drafts."""

from __future__ import annotations

import csv
from datetime import date
from fractions import Fraction

import pytest

import pricing
from dashboard.demo import FOLDER
from pricing.book.connect import Book
from tests.kitchen import TODAY

OZ = 28.349523125  # g
SHOP = {"", "shelf", "receipt"}  # kinds of price; offers are left out
GRAMS = {"oz": OZ, "lb": 16 * OZ}


def rows(*names: str) -> list[dict[str, str]]:
    found: list[dict[str, str]] = []
    for name in names:
        with (FOLDER / name).open(encoding="utf-8", newline="") as file:
            found += csv.DictReader(file)
    return found


PRICES = rows(*sorted(each.name for each in FOLDER.glob("prices_*.csv")))


def nearest_in_a_shop(row: dict[str, str]) -> dict[str, str]:
    """Return the shop price of the same ingredient seen nearest in time."""
    day = date.fromisoformat(row["date"])
    return min(
        (
            each
            for each in PRICES
            if each["ingredient"] == row["ingredient"] and each["kind"] in SHOP
        ),
        key=lambda each: abs(date.fromisoformat(each["date"]) - day),
    )


def per_gram(row: dict[str, str]) -> float:
    """Return the price of a gram of a pack written as `25 lb`, `12 oz` or `6 x 16 oz`."""
    *times, amount, unit = row["pack"].replace(" x ", " ").split()
    grams = float(Fraction(amount)) * GRAMS[unit]
    return float(row["price"]) / (grams * int(times[0] if times else 1))


def test_taxed_are_wine_candy_and_what_is_not_food_at_one_rate() -> None:
    taxed = {(row["ingredient"], row["tax_pct"]) for row in PRICES if row["tax_pct"]}
    assert taxed == {
        ("dry white wine", "6.5"), ("chocolate chips", "6.5"), ("baking parchment", "6.5"),
    }  # fmt: skip
    # and always: a price of theirs without tax would be a slip
    assert all(row["tax_pct"] for row in PRICES if (row["ingredient"], "6.5") in taxed)


def test_trade_prices_stand_beside_shop_prices_and_are_lower() -> None:
    invoices = [row for row in PRICES if row["kind"] == "invoice"]
    assert {row["supplier"] for row in invoices} == {"Hobbleden Wholesale"}
    told = {row["ingredient"] for row in invoices}
    in_shops = {row["ingredient"] for row in PRICES if row["kind"] in SHOP}
    assert told - in_shops == {"rye flour"}  # from the wholesaler alone
    assert len(told & in_shops) == 5
    for row in invoices:
        if row["ingredient"] in in_shops:
            shop = per_gram(nearest_in_a_shop(row))
            # cheaper than in a shop, but not by two thirds: the check at load lets it in
            assert shop / 3 < per_gram(row) < shop, row


def test_a_shop_is_no_longer_visited_and_all_it_sold_is_bought_elsewhere(demo: Book) -> None:
    left = [row for row in PRICES if row["supplier"] == "Nettlow Store"]
    assert max(row["date"] for row in left) == "2019-07-27"
    for name in {row["ingredient"] for row in left}:
        assert any(
            row["ingredient"] == name and row["date"] > "2026-09-01" and row["kind"] in SHOP
            for row in PRICES
        )
    then = pricing.cost_dish(demo, "mushroom and rye bake", on=date(2019, 7, 27))
    shops = {
        line.ingredient: {each.supplier for each in line.observed}
        for line in then.lines
        if line.ingredient
    }
    assert all("Nettlow Store" in shops[name] for name in ("rye bread", "mushrooms", "whole milk"))


def test_some_ingredients_have_no_series_and_are_priced_all_the_same(demo: Book) -> None:
    blank = {row["ingredient"] for row in rows("ingredients.csv") if not row["series"]}
    assert blank == {"caraway seeds", "dried dulse flakes", "baking parchment"}
    for dish in ("mushroom and rye bake", "cod and mussel stew"):
        assert pricing.cost_dish(demo, dish, on=TODAY).complete


def test_a_draft_begins_after_today_and_can_be_costed_by_name(demo: Book) -> None:
    drafts = {row["dish"] for row in rows("dishes.csv") if row["effective_from"] > str(TODAY)}
    assert drafts == {"squash and rye hand pies"}
    (figure,) = (row for row in rows("printed.csv") if row["dish"] in drafts)
    assert (figure["published_on"] > str(TODAY), figure["costed_on"]) == (True, "2026-11-20")
    cost = pricing.cost_dish(demo, "squash and rye hand pies", on=TODAY, version="2027")
    assert (cost.complete, cost.version_in_force) == (True, False)
    lines = {line.ingredient: line.cost for line in cost.lines}
    assert lines["rye flour"] == pytest.approx(6 / 16 * 24.40 / 25)  # 6 oz of a sack of 25 lb
    # 1 1/4 lb, 84 % edible; a pound is 1.19 at the grocer and 1.20 at the farm stand
    assert lines["butternut squash"] == pytest.approx(1.25 / 0.84 * (1.19 + 1.20) / 2)
