"""One dish's costed lines: what each thing cost, what a portion cost, and whether it adds up."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from ingest.tables.costed_lines import CostedDish, dish_of_table
from ingest.tables.costed_sheet import is_costing, is_dish_costing, is_price_list
from ingest.tables.propose import table_to_read
from tests.ingest.tables.reading import asked, grids, proposed

DAY = date(2019, 10, 13)
ENGLISH = (
    "Leek bake,,,,,\nIngredient,Quantity,Unit,Pack,Pack price,Cost\nLeek,800,g,1 kg,1.80,1.44\n"
    "Butter,50,g,250 g,1.50,0.30\nTotal,,,,,1.74\nCost per portion,,,,,0.44\n"
    "Selling price,,,,,4.50\n"
)


def costed(
    text: str, told: dict[str, str] | None = None, portions: int | None = None
) -> CostedDish:
    proposal = proposed(text, {"day": DAY.isoformat(), **(told or {})}, kind="costed")
    assert proposal.sure, proposal.questions
    return dish_of_table(
        proposal.table, proposal.layout, day=proposal.day or DAY,
        portions=None if portions is None else Fraction(portions), dishes=["White sauce"],
    )  # fmt: skip


def prices(dish: CostedDish) -> list[tuple[str, str, str | None]]:
    return [(each.words, f"{each.price.normalize():f}", each.pack) for each in dish.lines]


def test_packs_and_their_prices_and_what_a_portion_cost() -> None:
    read = costed(ENGLISH)
    assert prices(read) == [("Leek", "1.8", "1 kg"), ("Butter", "1.5", "250 g")]
    assert {(each.day, each.currency, each.kind) for each in read.lines} == {(DAY, "EUR", "shelf")}
    assert (read.portion, read.portion_line, read.problems) == (Decimal("0.44"), 6, [])
    assert read.remarks == []  # 1.44 + 0.30 = 1.74


def test_a_price_is_for_what_makes_the_costs_right() -> None:
    # 800 g at 1.70 a kilo: 1.36; 50 g at 5.80: 0.29; half a litre at 0.90: 0.45. Together 2.10, for
    # 4: 0.525, to the cent 0.53
    text = (
        "Kalkulation;;;;\nfür 4 Personen;;;;\nZutat;Menge;Einheit;Preis;Kosten\n"
        "Lauch;800;g;1,70;1,36\nButter;50;g;5,80;0,29\nMilch;0,5;l;0,90;0,45\nSumme;;;;2,10\n"
    )
    read = costed(text)
    assert prices(read) == [
        ("Lauch", "1.7", "1 kg"),
        ("Butter", "5.8", "1 kg"),
        ("Milch", "0.9", "1 l"),
    ]
    assert read.portion == Decimal("0.53")


def test_quantities_and_costs_alone() -> None:
    # 0.75 for 3 eggs; salt at 1 cent may have cost 0.5 to 1.5: no price
    text = (
        "Ingrédient;Quantité;Coût\nOeufs;3;0,75\nFarine;250 g;0,20\nSel;2 g;0,01\n"
        "Coût par portion;;0,24\n"
    )
    read = costed(text)
    assert prices(read) == [("Oeufs", "0.75", None), ("Farine", "0.2", "250 g")]
    assert (read.lines[0].count, read.lines[0].unit) == (3, "each")
    assert read.portion == Decimal("0.24")
    assert read.remarks == ["1 line whose cost is too small for its rounding: no price (line 4)."]


def test_edible_quantities_are_priced_as_bought() -> None:
    text = "Ingredient,Weight (g),Yield %,Cost\nleek,600,76,1.20\nTotal,,,1.20\n"
    assert asked(proposed(text, {"day": "2019-10-13"}, kind="costed")) == ["state"]
    # 600 g of 76 % are 600 ÷ 0.76 g bought for 1.20, so that 600 g bought cost 1.20 × 0.76 = 0.912
    assert prices(costed(text, {"state": "edible"})) == [("leek", "0.912", "600 g")]
    assert prices(costed(text, {"state": "as_purchased"})) == [("leek", "1.2", "600 g")]


def test_costs_of_a_portion_for_the_quantities_of_the_batch() -> None:
    text = "Serves 4,,\nIngredient,Qty,Cost per portion\nleek,800 g,0.35\nTotal,,0.35\n"
    assert asked(proposed(text, {"day": "2019-10-13"}, kind="costed")) == ["quantity of"]
    read = costed(text, {"quantity of": "the batch"})  # 4 × 0.35
    assert (prices(read), read.portion) == ([("leek", "1.4", "800 g")], Decimal("0.35"))
    assert prices(costed(text, {"quantity of": "one portion"})) == [("leek", "0.35", "800 g")]


def test_a_total_that_is_not_the_sum_is_said() -> None:
    # three costs and a total, each to the cent: the sum may be off by 4 × 0.005 = 0.02
    lines = "Ingredient,Qty,Cost\nleek,800 g,1.44\nbutter,50 g,0.30\nflour,100 g,0.11\n"
    assert costed(f"{lines}Total,,1.87\n", portions=4).remarks == [
        "A portion cost 0.47 EUR: the total, 1.87, for 4."  # 0.4675
    ]
    off = costed(f"{lines}Total,,1.90\n", portions=4)
    assert off.remarks[0] == (
        "Its lines add up to 1.85 EUR, and its total says 1.90: that is 0.05 apart, more than "
        "rounding explains."
    )


def test_without_a_total_the_lines_are_added_and_without_portions_nothing_is_divided() -> None:
    text = "Ingredient,Qty,Cost\nleek,800 g,1.44\nseasoning,,0.16\n"
    assert costed(text, portions=4).portion == Decimal("0.40")  # 1.60 ÷ 4
    alone = costed(text)
    assert (alone.portion, alone.has_sum) == (None, True)


def test_a_portion_that_is_not_its_share_of_the_total_is_said() -> None:
    read = costed(f"Serves 6,,,,,\n{ENGLISH}")  # 1.74 ÷ 6 = 0.29
    assert read.portion == Decimal("0.44")
    assert "is 0.29 a portion, and it says 0.44" in read.remarks[0]


def test_a_dish_of_the_book_is_no_price_and_counts_in_the_sum() -> None:
    text = (
        "Ingredient,Qty,Cost\nleek,800 g,1.44\nWhite sauce,200 ml,0.40\nTotal,,1.84\n"
        "Per portion,,0.46\n"
    )
    read = costed(text)
    assert prices(read) == [("leek", "1.44", "800 g")]
    assert read.remarks == ["1 line for a dish of the book, which is no price (line 3)."]


def test_kitchen_quantities_and_a_wrong_price() -> None:
    text = (
        "Ingredient,Qty,Cost\nparsley,1/2 bunch,0.45\nbutter,2 tbsp,0.20\npepper,to taste,0.05\n"
        "leek,800 g,n.k.\nTotal,,2.00\nPer portion,,0.50\n"
    )
    read = costed(text)
    assert [(each.words, each.count, each.unit) for each in read.lines] == [
        ("parsley", Decimal("0.5"), "bunch"), ("butter", Decimal(2), "tbsp"),
    ]  # fmt: skip
    assert [(each.line, each.column) for each in read.problems] == [(5, "Cost")]


COSTINGS = {
    "en": "Ingredient;Quantity;Cost\nx;250 g;1.44\nCost per portion;;0.36\n",
    "fr": "Ingrédient;Quantité;Coût\nx;250 g;1,44\nCoût par portion;;0,36\n",
    "de": "Zutat;Menge;Kosten\nx;250 g;1,44\nKosten pro Portion;;0,36\n",
    "es": "Ingrediente;Cantidad;Coste\nx;250 g;1,44\nCoste por ración;;0,36\n",
    "it": "Ingrediente;Quantità;Costo\nx;250 g;1,44\nCosto per porzione;;0,36\n",
    "nl": "Ingrediënt;Hoeveelheid;Kosten\nx;250 g;1,44\nKosten per portie;;0,36\n",
    "pt": "Ingrediente;Quantidade;Custo\nx;250 g;1,44\nCusto por porção;;0,36\n",
    "pl": "Składnik;Ilość;Koszt\nx;250 g;1,44\nKoszt porcji;;0,36\n",
    "sv": "Ingrediens;Mängd;Kostnad\nx;250 g;1,44\nKostnad per portion;;0,36\n",
}


@pytest.mark.parametrize("language", COSTINGS)
def test_a_costing_in_each_language(language: str) -> None:
    table, _ = table_to_read(grids(COSTINGS[language]), "costed", {}, {})
    assert is_costing(table, {})
    assert is_dish_costing(table)
    read = costed(COSTINGS[language])
    assert (prices(read), read.portion) == ([("x", "1.44", "250 g")], Decimal("0.36"))


@pytest.mark.parametrize(
    ("text", "costing", "price_list"),
    [
        ("Article,Pack,Price,Date\nleek,500 g,1.20,2024-10-13\n", False, True),
        ("Dish,Date,Cost per portion\nleek bake,2024-10-13,1.20\n", False, False),
        ("Item,Qty,Price,Total\nleek,2,1.20,2.40\n", True, False),  # a receipt has them, too
        ("Item,Qty,Price\nPie for 4 people,1,3.50\n", True, False),
    ],
)
def test_other_tables(text: str, costing: bool, price_list: bool) -> None:
    table, _ = table_to_read(grids(text), "costed", {}, {})
    assert (is_costing(table, {}), is_price_list(table)) == (costing, price_list)
    assert not (costing and is_dish_costing(table))  # so it is a costing only if loaded as printed
