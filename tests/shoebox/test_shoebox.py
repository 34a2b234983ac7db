"""A kitchen's shoebox goes in as it is: a description is decided on once, next month none is."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.shoebox.kitchen import OTHERS, TABLES, TOLD, Shoebox, empty, first_month, second_month
from tests.terminal import answer, run

Typed = tuple[Shoebox, dict[str, int]]  # and how many descriptions were typed in
OCTOBER, TODAY = "2026-10-31", "2026-11-24"
DISHES = {
    "Chicken and leek pie", "Chickpea and tomato stew", "Leek and potato gratin", "Kartoffelsuppe",
    "Lentil patties", "Lemon lentil soup", "TOMATO RICE",
}  # fmt: skip


@pytest.fixture(scope="module")
def october(tmp_path_factory: pytest.TempPathFactory) -> Typed:
    box = empty(tmp_path_factory.mktemp("shoebox"))
    return box, first_month(box)


@pytest.fixture(scope="module")
def both(october: Typed) -> Shoebox:
    box, _ = october
    box.trays["october"] = box.tray()
    costs = {name: cost(box, name, OCTOBER) for name in DISHES}
    box.reports["costs"] = costs
    second_month(box)
    return box


def cost(box: Shoebox, dish: str, on: str) -> dict[str, object]:
    done = run("cost", dish, "--on", on, "--json", book=box.book)
    found = json.loads(done.stdout)
    assert done.returncode == (0 if found["complete"] else 1), done.stderr
    lacking = {line["ingredient"] for line in found["lines"] if line["cost"] is None}
    return {
        "portion": found["cost_per_portion"], "complete": found["complete"], "lacking": lacking
    }  # fmt: skip


def test_each_description_is_decided_on_once(both: Shoebox, october: Typed) -> None:
    typed = october[1]
    # October's lists, invoices and receipt hold 29 different descriptions (Wendlhuber 6, Brenouse
    # 6, Plumley 2, Marchland 4, Mühlbach 2, Oxlease 4, Nettlow 5), none of them known in a new
    # book. Of the names proposed by their words 14 are taken: two that are no food (Küchenrolle,
    # crate), butter, chicken thighs, crème fraîche, double cream, gruyère, black pepper, carrots,
    # garlic, lemons, onions, red lentils, wild rice. Typed are 29 − 14 = 15: eleven that this
    # kitchen calls by an English name (Lauch, Eier, Kartoffeln, …; flour twice), and milk, parsley,
    # salt and smoked paprika, of which the list names a kind.
    assert len(both.trays["prices"]) == 29
    assert typed["prices"] == 15
    # Seven recipes have 45 lines. Most are named as an ingredient is by now, or in its singular
    # (onion, egg); of eight other descriptions five proposals are right as they are written (cold
    # butter, Lauch, Petersilie, Salz, pepper), and the name of the stock.
    words = [each["words"] for each in both.trays["recipes"]]
    assert set(words) == {
        "cold butter", "Lauch", "Petersilie", "Salz", "Kartoffeln", "Sahne", "pepper",
        "vegetable stock",
    }  # fmt: skip
    assert len(words) == 8
    assert typed["recipes"] == 2
    assert both.trays["october"] == []


def test_no_series_of_another_country_is_proposed(both: Shoebox) -> None:
    # the bundled series are of the United States, the book is in euros
    written = [row for name in both.trays if name != "october" for row in both.rows(name)]
    assert len(written) == 29 + 8
    assert {row["series"] for row in written} == {""}


def test_one_table_is_asked_about_and_only_its_dollars(tmp_path: Path) -> None:
    box = empty(tmp_path)
    for name in ("wendlhuber.csv", "brenouse.csv"):
        assert box.loaded("prices", f"october/{name}")["problems"] == []
    report = box.loaded("prices", "october/plumley.csv", status=1)
    (problem,) = report["problems"]
    assert "currency" in problem["found"]
    assert report["load"] is None


def test_the_second_month_needs_no_decision_but_of_the_new_mustard(both: Shoebox) -> None:
    assert [each["words"] for each in both.tray()] == ["Moutarde de Brenouse 370 g"]
    # lines of each file that are prices: those of October's goods, without kitchen roll and bag
    assert {
        name: tuple(both.reports[f"november/{name}"][what] for what in ("added", "waiting"))
        for name in (*TABLES, *OTHERS)
        if name != "oxlease_credit.xml"
    } == {
        "wendlhuber.csv": (5, 0), "brenouse.csv": (5, 1), "plumley.csv": (2, 0),
        "marchland.xlsx": (4, 0), "muehlbach.pdf": (1, 0), "oxlease_1.xml": (1, 0),
        "oxlease_2.xml": (2, 0), "till.txt": (5, 0),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("dish", "portion"),
    [
        # chickpeas 800 g at 0.85 for 400 g: 1.70; tomatoes 400 g: 0.95; an onion of 122 g (USDA
        # SR28: 110 g, 10 % refuse) at 1.20 a kilo: 0.1464; oil 2 × 15 ml at 9.50 a litre: 0.285;
        # rice 300 g at 11.00 for 5 kg: 0.66. Together 3.7414, for 4
        ("Chickpea and tomato stew", 3.7414 / 4),
        # lentils 250 g at 1.80 for 500 g (the shop's, not the sack): 0.90; an onion 0.1464; 2 eggs
        # of 10 for 3.20: 0.64; flour 70 g (60 to 80) at 0.95: 0.0665; oil 45 ml: 0.4275; salt a
        # teaspoon, 5 ml × 1.2 = 6 g at 1.00 and 7 % tax a kilo: 0.00642. Together 2.18682, for 5 (4
        # to 6)
        ("Lentil patties", 2.18682 / 5),
        # thighs 600 g at 7.20 + 7 %: 4.6224; 3 leeks of 200 g at 1.75 for 500 g: 2.10; butter 15 g
        # (a knob) + 125 g at 2.40 for 250 g: 1.344; cream 200 ml at 4.20 + 7 %: 0.8988; parsley 30
        # g (a handful) 0.75; salt 1 g: 0.00107; flour 250 g: 0.2375; an egg 0.32. Together
        # 10.27377, for 6
        ("Chicken and leek pie", 10.27377 / 6),
        # potatoes 800 g at 3.25 for 2.5 kg: 1.04; a stalk of leek, 200 g: 0.70; butter 30 ml × 0.96
        # = 28.8 g: 0.27648; cream 0.8988; a bunch of parsley, 30 g: 0.75; salt 0.3 g: 0.000321.
        # Together 3.665601, for 4
        ("Kartoffelsuppe", 3.665601 / 4),
        # potatoes 1.04; leeks 400 g: 1.40; cream 300 ml: 1.3482; milk 100 ml at 1.10 + 7 %: 0.1177;
        # Gruyère 100 g at 18.50 + 7 %: 1.9795; a clove of garlic, 5 g at 0.60 for 50 g: 0.06;
        # butter 5 g (for the dish): 0.048; salt, 1 g: 0.00107; pepper,
        # 0.5 g at 9.00 + 7 % for 500 g: 0.00963. Together 6.0041, for 4
        ("Leek and potato gratin", 6.0041 / 4),
    ],
)  # fmt: skip
def test_a_dish_costs_what_a_pencil_says(both: Shoebox, dish: str, portion: float) -> None:
    found = both.reports["costs"][dish]
    assert found["portion"] == pytest.approx(portion, abs=1e-9)
    assert found["complete"]


def test_only_what_nobody_sells_in_euros_leaves_a_dish_at_least(both: Shoebox) -> None:
    lacking = {name: found["lacking"] for name, found in both.reports["costs"].items()}
    assert {name: gaps for name, gaps in lacking.items() if gaps} == {
        "Lemon lentil soup": {"vegetable stock"},  # never bought
        "TOMATO RICE": {"smoked paprika"},  # bought in dollars
    }


def test_november_counts_in_november(both: Shoebox) -> None:
    # tins 1.70 and 0.99; onion 0.122 × 1.25; oil 0.03 × 9.80; rice as before, 0.66
    expected = (1.70 + 0.99 + 0.1525 + 0.294 + 0.66) / 4
    assert cost(both, "Chickpea and tomato stew", TODAY)["portion"] == pytest.approx(expected)


def test_a_credit_note_and_what_went_back_are_no_prices(both: Shoebox) -> None:
    credit = both.reports["october/oxlease_credit.xml"]
    assert (credit["added"], credit["waiting"], credit["load"]) == (0, 0, None)
    seen = answer("prices", "chicken thighs", "--json", book=both.book)["observations"]
    assert [each["observed_on"] for each in seen] == ["2026-11-05", "2026-10-22", "2026-10-08"]
    # a reduction under its line: four lemons for 1.80 − 0.30
    lemons = answer("prices", "lemons", "--json", book=both.book)["observations"]
    assert [each["price"] for each in lemons] == [1.90, 1.50]


def test_old_costings_are_printed_figures(both: Shoebox) -> None:
    done = run("printed", "--on", TODAY, "--json", book=both.book)
    figures = json.loads(done.stdout)["figures"]
    assert done.returncode == 1  # one is stale
    assert {each["dish"]: (each["published_on"], each["printed"]) for each in figures} == {
        "Chicken and leek pie": ("2019-10-01", 1.80),
        "Lemon lentil soup": ("2019-10-01", 0.55),
        "Kartoffelsuppe": ("2021-03-01", 0.70),
    }


def test_nothing_is_added_by_loading_all_again(both: Shoebox) -> None:
    names = [name for name in both.reports if "." in name]
    kinds = {"recipes": "dishes", "october": "prices", "november": "prices"}
    others = {"measures.csv": "measures", "old_costings.ods": "printed"}
    loads = len(answer("info", "--json", book=both.book)["loads"])
    for name in names:
        kind = kinds.get(name.partition("/")[0]) or others.get(name, "decisions")
        report = both.loaded(kind, name)
        assert (report["problems"], report["added"], report["load"]) == ([], 0, None), name
    assert len(answer("info", "--json", book=both.book)["loads"]) == loads


def test_the_book_is_sound(both: Shoebox) -> None:
    assert answer("check", "--json", book=both.book)["problems"] == []


def test_all_taken_back_in_reverse_is_an_empty_book(both: Shoebox, tmp_path: Path) -> None:
    box = empty(tmp_path)
    new = {each["load"] for each in answer("info", "--json", book=box.book)["loads"]}
    asked = (("ingredients",), ("dishes",), ("tray",), ("printed", "--on", TODAY))
    expected = [answer(*each, "--json", book=box.book) for each in asked]
    box.book.write_bytes(both.book.read_bytes())
    loads = {each["load"] for each in answer("info", "--json", book=box.book)["loads"]} - new
    assert len(loads) > 20
    for load in sorted(loads, reverse=True):
        done = run("undo", str(load), book=box.book)
        assert done.returncode == 0, done.stderr
    assert [answer(*each, "--json", book=box.book) for each in asked] == expected
    assert answer("check", "--json", book=box.book)["problems"] == []
    # what the user said of Plumley's table went, too
    assert box.loaded("prices", "november/plumley.csv", status=1)["problems"]
    assert box.loaded("prices", "november/plumley.csv", *TOLD["plumley.csv"])["waiting"] == 2
