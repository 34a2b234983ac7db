"""Swaps of a dish: figures by pencil, since when, allergens, and which reach a target."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from pricing.book.connect import Book
from pricing.errors import DateRefused, InputRefused, UnknownName
from pricing.swaps.history import swap_history
from pricing.swaps.of_dish import find_swaps
from pricing.swaps.records import SwapChoice, Swaps
from tests.kitchen import load, make_book

ON = date(2023, 6, 1)

INGREDIENTS = """
    ingredient,base,density_g_per_ml,grams_each,yield_pct,allergens
    butter,g,,,,milk
    margarine,g,,,,soya
    oil,ml,0.92,,,
    bread,g,,,,wheat; milk
    leek,g,,,50,none
    frozen leek,g,,,100,none
    cream,ml,1,,,milk
    bought stock,ml,1,,,celery; wheat
    bones,g,,,,none
    saffron,g,,,,none
"""
# per g or ml on 1 June 2023: butter 0.010, margarine 0.008, bread 0.002, leek 0.003, frozen leek
# 0.005, cream 0.006, bought stock 0.004, bones 0.001; saffron has no price, nor has oil
PRICES = """
    ingredient,date,price,currency,pack,supplier,product
    butter,2020-01-10,10.00,USD,1 kg,,
    margarine,2020-01-10,12.00,USD,1 kg,,
    margarine,2021-03-04,9.00,USD,1 kg,,
    margarine,2022-02-02,10.50,USD,1 kg,,
    margarine,2023-05-10,8.00,USD,1 kg,,
    butter,2023-05-10,10.00,USD,1 kg,,
    bread,2020-01-10,2.00,USD,1 kg,,
    leek,2020-01-10,3.00,USD,1 kg,,
    frozen leek,2020-01-10,5.00,USD,1 kg,,
    cream,2020-01-10,6.00,USD,1 l,,
    bought stock,2020-01-10,4.00,USD,1 l,,
    bones,2020-01-10,1.00,USD,1 kg,,
"""
# per portion: toast: 100 g butter, 200 g bread: 1.00 + 0.40 = 1.40
#   pie: 300 g leek (150 g edible), 50 ml cream, and a portion of sauce (25 g butter, 100 ml stock):
#        0.90 + 0.30 + 0.25 + 0.40 = 1.85
DISHES = """
    dish,version,effective_from,portions,batch_weight_g,ingredient,quantity,unit,state,group
    toast,1,2019-01-01,4,,butter,400,g,,breads
    toast,1,2019-01-01,4,,bread,800,g,,breads
    sauce,1,2019-01-01,4,480,butter,100,g,,
    sauce,1,2019-01-01,4,480,bought stock,400,ml,,
    home stock,1,2019-01-01,10,2000,bones,1000,g,,
    pie,1,2019-01-01,6,,leek,900,g,edible,
    pie,1,2019-01-01,6,,cream,300,ml,,
    pie,1,2019-01-01,6,,dish:sauce,6,portion,,
    risotto,1,2019-01-01,2,,saffron,1,g,,
    risotto,1,2019-01-01,2,,butter,20,g,,
"""
SWAPS = "ingredient,substitute,ratio,note\nbutter,margarine,1,\nbutter,oil,0.8,not for pastry"


def kitchen(folder: Path, swaps: str = SWAPS, **more: str) -> Book:
    """Make the book without official series: an old price is held as it was."""
    files = {"ingredients": INGREDIENTS, "prices": PRICES, "dishes": DISHES, "swaps": swaps}
    return make_book(folder, {**files, **more}, series=())


def one(found: Swaps, ingredient: str, substitute: str) -> SwapChoice:
    (swap,) = [s for s in found.swaps if (s.ingredient, s.substitute) == (ingredient, substitute)]
    return swap


def test_a_swap_saves_the_difference_of_both_costs(tmp_path: Path) -> None:
    found = find_swaps(kitchen(tmp_path), "toast", on=ON)
    swap = one(found, "butter", "margarine")
    # 100 g at 0.010 = 1.00; 100 g at 0.008 = 0.80
    assert found.cost_per_portion == pytest.approx(1.40, abs=1e-12)
    assert swap.saving == pytest.approx(0.20, abs=1e-12)
    assert swap.cost_per_portion == pytest.approx(1.20, abs=1e-12)
    assert swap.saving_pct == pytest.approx(100 * 0.20 / 1.40)
    assert (swap.quantity, swap.substitute_quantity) == (100, 100)
    assert swap.basis == "observed"
    assert swap.typical_error is None
    assert not swap.too_close


def test_the_keys_of_the_contract(tmp_path: Path) -> None:
    found = find_swaps(kitchen(tmp_path), "toast", on=ON, target=1.25).as_json()
    assert json.loads(json.dumps(found)) == found
    assert {"dish", "on", "currency", "cost_per_portion", "swaps", "target", "caution"} <= set(
        found
    )
    assert {
        "ingredient", "substitute", "ratio", "cost_per_portion", "saving", "saving_pct",
        "allergens_added", "allergens_removed", "cheaper_since", "note",
    } <= set(found["swaps"][0])  # fmt: skip
    assert found["on"] == "2023-06-01"
    assert found["target"]["reached"] is True
    (chosen,) = found["target"]["chosen"]
    assert (chosen["ingredient"], chosen["substitute"]) == ("butter", "margarine")
    assert found["target"]["cost_per_portion"] == pytest.approx(1.20)


def test_a_substitute_without_a_price_has_no_figures_and_is_never_chosen(tmp_path: Path) -> None:
    found = find_swaps(kitchen(tmp_path), "toast", on=ON, target=0.1)
    swap = found.swaps[-1]  # the one that saves is first
    assert (swap.substitute, swap.saving, swap.cost_per_portion, swap.saving_pct) == (
        "oil", None, None, None,
    )  # fmt: skip
    assert swap.cheaper_since is None
    assert swap.reason == "No price on this day: oil."
    assert swap.note == "not for pastry"
    assert found.target is not None
    assert [each.substitute for each in found.target.chosen] == ["margarine"]
    assert not found.target.reached


@pytest.mark.parametrize(
    ("on", "cheaper", "dearer"),
    [
        # margarine 12.00, then 9.00 from 4 March 2021, 10.50 from 2 February 2022, 8.00 from 10 May
        # 2023; butter 10.00 throughout. Prices are held, so the day of the change is the day.
        ("2020-06-01", None, "2020-01-10"),
        ("2021-03-04", "2021-03-04", None),
        ("2022-02-01", "2021-03-04", None),
        ("2022-02-02", None, "2022-02-02"),
        ("2023-06-01", "2023-05-10", None),
        ("2026-11-24", "2023-05-10", None),
    ],
)
def test_since_when_without_a_break(
    tmp_path: Path, on: str, cheaper: str | None, dearer: str | None
) -> None:
    found = find_swaps(kitchen(tmp_path), "toast", on=date.fromisoformat(on))
    swap = one(found, "butter", "margarine").as_json()
    assert (swap["cheaper_since"], swap["dearer_since"]) == (cheaper, dearer)
    # on the first day of prices nothing crossed: it is only where the records begin
    assert swap["since_first_seen"] is (dearer == "2020-01-10")


def test_equal_prices_are_neither_cheaper_nor_dearer_and_that_is_certain(tmp_path: Path) -> None:
    book = kitchen(tmp_path, "ingredient,substitute,ratio\nbutter,margarine,1.25")
    swap = one(find_swaps(book, "toast", on=ON), "butter", "margarine")  # 1.25 × 0.008 = 0.010
    assert swap.saving == pytest.approx(0, abs=1e-12)
    assert (swap.cheaper_since, swap.dearer_since, swap.too_close) == (None, None, False)


def test_lines_of_sub_recipes_are_swapped_too(tmp_path: Path) -> None:
    found = find_swaps(kitchen(tmp_path), "pie", on=ON)
    # 25 g of butter come in the sauce: 25 × 0.002
    assert found.cost_per_portion == pytest.approx(1.85, abs=1e-12)
    assert one(found, "butter", "margarine").saving == pytest.approx(0.05, abs=1e-12)


MANY = """
    ingredient,substitute,ratio,ratio_state,supplier,product,pack
    butter,leave out,0,,,,
    butter,butter,0.8,,,,
    leek,frozen leek,1,edible,,,
    bought stock,dish:home stock,1.1,,,,
    cream,cream,1,,Quay Market,,2 l
    bread,bread,1,,Quay Market,,
"""
CHEAPER_CREAM = """
    ingredient,date,price,currency,pack,supplier
    cream,2023-05-20,9.00,USD,2 l,Quay Market
    cream,2023-05-20,2.80,USD,500 ml,Quay Market
"""


def test_less_nothing_another_form_another_purchase_and_a_dish(tmp_path: Path) -> None:
    book = kitchen(tmp_path, MANY)
    load(book, "prices", CHEAPER_CREAM, accept_unusual=True)
    found = find_swaps(book, "pie", on=ON)
    assert one(found, "butter", "leave out").saving == pytest.approx(0.25, abs=1e-12)
    assert one(found, "butter", "butter").saving == pytest.approx(0.05, abs=1e-12)
    leek = one(found, "leek", "frozen leek")
    # 150 g edible: 300 g bought at half yield for 0.90, or 150 g frozen at 0.005 for 0.75
    assert leek.ratio == pytest.approx(0.5)
    assert (leek.stated_ratio, leek.ratio_state) == (1.0, "edible")
    assert leek.saving == pytest.approx(0.15, abs=1e-12)
    stock = one(found, "bought stock", "dish:home stock")
    # 1 kg of bones at 0.001 in 2,000 g: 0.0005 a g; 100 ml for 0.40, or 110 g for 0.055
    assert stock.saving == pytest.approx(0.40 - 0.055, abs=1e-12)
    assert (stock.substitute_quantity, stock.substitute_base) == (pytest.approx(110), "g")
    # Cream on 1 June 2023: Quay Market of 20 May is the median of 9.00 / 2,000 ml = 0.0045 and
    # 2.80 / 500 ml = 0.0056, 0.00505, and counts whole; the shop of 10 January 2020, 0.006, is
    # 1,226 days older and counts 2^(−1226/180) = 0.0089 of it. The 2 l pack alone is 0.0045.
    cream = one(found, "cream", "cream")
    faded = 2 ** (-1226 / 180)
    typical = (0.00505 + faded * 0.006) / (1 + faded)
    assert cream.saving == pytest.approx(50 * (typical - 0.0045), abs=1e-12)
    assert (cream.supplier, cream.pack) == ("Quay Market", "2 l")
    toast = find_swaps(book, "toast", on=ON)
    bread = one(toast, "bread", "bread")
    assert bread.reason == "No price of that supplier, product or pack on this day: bread."


def test_allergens_come_from_the_records_of_the_whole_dish(tmp_path: Path) -> None:
    book = kitchen(tmp_path, SWAPS + "\nbought stock,dish:home stock,1,\ncream,leave out,0,")
    pie = find_swaps(book, "pie", on=ON)
    swap = one(pie, "butter", "margarine")
    # the cream of the pie has milk too, so milk stays; nothing had soya before
    assert (swap.allergens_added, swap.allergens_removed) == (("soya",), ())
    assert one(pie, "butter", "oil").allergens_added == "unknown"  # no entry for oil
    assert one(pie, "butter", "oil").allergens_removed == "unknown"
    stock = one(pie, "bought stock", "dish:home stock")
    assert (stock.allergens_added, stock.allergens_removed) == ((), ("celery", "wheat"))
    out = one(pie, "cream", "leave out")
    assert (out.allergens_added, out.allergens_removed) == ((), ())  # butter has milk
    toast = find_swaps(book, "toast", on=ON, target=1.3)
    assert toast.target is not None
    assert toast.target.allergens_added == ("soya",)


def test_a_swap_of_the_same_ingredient_changes_no_allergen(tmp_path: Path) -> None:
    swap = one(find_swaps(kitchen(tmp_path, MANY), "toast", on=ON), "butter", "butter")
    assert (swap.allergens_added, swap.allergens_removed) == ((), ())


def test_allergens_of_two_swaps_together(tmp_path: Path) -> None:
    """Milk goes only when butter, cream and all that has it go together."""
    swaps = "ingredient,substitute,ratio\nbutter,margarine,1\ncream,leave out,0"
    found = find_swaps(kitchen(tmp_path, swaps), "pie", on=ON, target=1.55)
    # 0.05 + 0.30 = 0.35: 1.85 − 0.35 = 1.50; cream alone comes to 1.55 exactly
    assert found.target is not None
    assert [each.ingredient for each in found.target.chosen] == ["cream"]
    both = find_swaps(kitchen(tmp_path / "b", swaps), "pie", on=ON, target=1.50)
    assert both.target is not None
    assert both.target.allergens_removed == ("milk",)
    assert both.target.allergens_added == ("soya",)


def test_where_a_swap_works(tmp_path: Path) -> None:
    swaps = """
        ingredient,substitute,ratio,works_in,not_in
        butter,margarine,1,group:breads,
        butter,leave out,0,,toast
        butter,butter,0.9,pie,
    """
    book = kitchen(tmp_path, swaps)
    toast, pie = find_swaps(book, "toast", on=ON), find_swaps(book, "pie", on=ON)
    assert [each.substitute for each in toast.swaps] == ["margarine"]
    assert sorted(toast.elsewhere) == ["butter left out", "less butter (90 % of it)"]
    assert [each.substitute for each in pie.swaps] == ["leave out", "butter"]


def test_a_dish_is_not_put_into_itself(tmp_path: Path) -> None:
    swaps = "ingredient,substitute,ratio\nbutter,dish:sauce,1\nbread,dish:sauce,1"
    book = kitchen(tmp_path, swaps)
    # the sauce holds butter: in the pie, which takes the sauce, and in the sauce it would circle
    assert find_swaps(book, "pie", on=ON).swaps == ()
    assert find_swaps(book, "sauce", on=ON).swaps == ()
    toast = find_swaps(book, "toast", on=ON)
    # a portion of sauce, 120 g, costs 0.65; 100 g of it for the butter: 1.00 − 65 / 120
    assert one(toast, "butter", "dish:sauce").saving == pytest.approx(1 - 65 / 120, abs=1e-12)
    assert len(toast.swaps) == 2


TARGETS = """
    ingredient,substitute,ratio,not_with,only_with,disturbance
    leek,frozen leek,0.5,,,
    butter,margarine,1,,,1
    cream,leave out,0,,,5
    bought stock,bought stock,0.5,,,3
"""
# savings in the pie: frozen leek 0.90 − 0.75 = 0.15, margarine 0.05, cream 0.30, half of the stock
# 0.20


def chosen(found: Swaps) -> list[str]:
    assert found.target is not None
    return [each.ingredient for each in found.target.chosen]


@pytest.mark.parametrize(
    ("target", "keep", "least", "reached", "wanted"),
    [
        (2.00, (), False, True, []),
        (1.85, (), False, True, []),  # exactly what it costs
        (1.55, (), False, True, ["cream"]),
        (1.50, (), False, True, ["cream", "leek"]),  # 0.35: cream and butter are enough too; mass
        (1.40, (), False, True, ["bought stock", "cream"]),
        (1.20, (), False, True, ["bought stock", "cream", "leek"]),
        (1.15, (), False, True, ["bought stock", "butter", "cream", "leek"]),
        (1.00, (), False, False, ["bought stock", "butter", "cream", "leek"]),
        (1.55, ("cream",), False, True, ["bought stock", "leek"]),  # 0.35
        (1.55, ("CREAM", "leek"), False, False, ["bought stock", "butter"]),
        (1.55, (), True, True, ["bought stock", "leek"]),  # disturbance 3 + 1 is under cream's 5
    ],
)
def test_the_fewest_swaps_that_reach_a_target(
    tmp_path: Path, target: float, keep: tuple[str, ...], least: bool, reached: bool,
    wanted: list[str],
) -> None:  # fmt: skip
    book = kitchen(tmp_path, TARGETS)
    found = find_swaps(book, "pie", on=ON, target=target, keep=keep, least_disturbing=least)
    assert found.target is not None
    assert found.target.reached is reached
    if target == 1.50:
        # of two pairs: butter for margarine changes no mass, frozen leek takes 150 g from it
        assert sorted(chosen(found)) == ["butter", "cream"]
    else:
        assert sorted(chosen(found)) == wanted
    saved = sum(each.saving for each in found.target.chosen)
    assert found.target.cost_per_portion == pytest.approx(1.85 - saved, abs=1e-12)
    if not reached:
        assert found.target.short_by == pytest.approx(found.target.cost_per_portion - target)
        assert found.target.in_the_way


def test_what_stands_in_the_way(tmp_path: Path) -> None:
    found = find_swaps(kitchen(tmp_path, TARGETS), "pie", on=ON, target=0.5, keep=["leek"])
    assert found.target is not None
    told = {each.ingredient: (each.cost_per_portion, each.why) for each in found.target.in_the_way}
    assert told["leek"] == (pytest.approx(0.90), "it stays, as you asked")
    assert told["butter"] == (pytest.approx(0.20), "with margarine for butter")
    assert next(iter(told)) == "leek"  # the dearest first


def test_clashes_and_needs_are_kept(tmp_path: Path) -> None:
    swaps = """
        ingredient,substitute,ratio,not_with,only_with
        leek,frozen leek,0.5,,leave out
        butter,margarine,1,leave out,
        cream,leave out,0,,
    """
    found = find_swaps(kitchen(tmp_path, swaps), "pie", on=ON, target=0.5)
    assert sorted(chosen(found)) == ["cream", "leek"]  # margarine clashes with leaving out
    kept = find_swaps(kitchen(tmp_path / "b", swaps), "pie", on=ON, target=0.5, keep=["cream"])
    assert chosen(kept) == ["butter"]  # without leaving out, frozen leek is not to be had


@pytest.mark.parametrize(
    ("of_leek", "of_butter"), [("margarine", ""), ("", "frozen leek"), ("margarine", "frozen leek")]
)
def test_a_clash_counts_whichever_swap_states_it(
    tmp_path: Path, of_leek: str, of_butter: str
) -> None:
    swaps = f"""
        ingredient,substitute,ratio,not_with
        leek,frozen leek,0.5,{of_leek}
        butter,margarine,1,{of_butter}
    """
    found = find_swaps(kitchen(tmp_path, swaps), "pie", on=ON, target=0.5)
    # 0.15 and 0.05 are saved, but not both: 1.85 − 0.15
    assert chosen(found) == ["leek"]
    assert found.target is not None
    assert found.target.cost_per_portion == pytest.approx(1.70, abs=1e-12)
    assert [len(each.chosen) for each in found.target.frontier] == [0, 1]


@pytest.mark.parametrize("target", [1.199, 1.196])
def test_a_target_missed_by_less_than_half_a_cent_is_not_reached(
    tmp_path: Path, target: float
) -> None:
    # toast comes down to 1.40 − 0.20 = 1.20 at the lowest, which is shown as 1.20 like the target
    found = find_swaps(kitchen(tmp_path), "toast", on=ON, target=target).target
    assert found is not None
    assert not found.reached
    assert found.short_by == pytest.approx(1.20 - target, abs=1e-12)
    assert found.in_the_way


def test_the_frontier_is_the_lowest_cost_for_each_number_of_changes(tmp_path: Path) -> None:
    found = find_swaps(kitchen(tmp_path, TARGETS), "pie", on=ON, target=1.2)
    assert found.target is not None
    costs = [point.cost_per_portion for point in found.target.frontier]
    # 1.85, less 0.30, 0.20, 0.15, 0.05
    assert costs == pytest.approx([1.85, 1.55, 1.35, 1.20, 1.15], abs=1e-12)
    assert [point.changes for point in found.target.frontier] == [0, 1, 2, 3, 4]


def test_a_dish_with_a_gap_reaches_no_target(tmp_path: Path) -> None:
    found = find_swaps(kitchen(tmp_path), "risotto", on=ON, target=0.5)
    assert not found.complete
    assert found.target is not None
    assert not found.target.reached
    assert found.target.in_the_way[0].ingredient == "saffron"
    # the saving is right all the same: 10 g × 0.002
    assert one(found, "butter", "margarine").saving == pytest.approx(0.02, abs=1e-12)


def test_a_saving_within_the_error_of_its_bridge_is_too_close_to_call(tmp_path: Path) -> None:
    """Margarine seen once, 6 months before, moved by a series that stands still."""
    more = """
        ingredient,base,series,allergens
        margarine,g,own:fat,soya
    """
    index = "series,month,value\n" + "\n".join(
        f"own:fat,{year}-{month:02},100" for year in (2022, 2023) for month in range(1, 13)
    )
    prices = """
        ingredient,date,price,currency,pack
        butter,2023-05-20,10.00,USD,1 kg
        margarine,2022-12-01,9.95,USD,1 kg
        bread,2023-05-20,2.00,USD,1 kg
    """
    book = make_book(
        tmp_path,
        {"index": index, "ingredients": INGREDIENTS, "prices": prices, "dishes": DISHES,
         "swaps": "ingredient,substitute,ratio\nbutter,margarine,1"},
    )  # fmt: skip
    load(book, "ingredients", more, replace=True)
    swap = one(find_swaps(book, "toast", on=ON), "butter", "margarine")
    assert swap.saving == pytest.approx(0.005, abs=1e-9)
    assert swap.basis == "bridged"
    assert swap.substitute_price is not None
    pct = swap.substitute_price.typical_error_pct
    assert pct is not None
    assert swap.typical_error == pytest.approx(0.995 * pct / 100)
    assert swap.too_close
    # and far from it, it is not
    load(book, "swaps", "ingredient,substitute,ratio\nbutter,margarine,0.5", replace=True)
    assert not one(find_swaps(book, "toast", on=ON), "butter", "margarine").too_close


def test_what_is_wrong_is_said(tmp_path: Path) -> None:
    book = kitchen(tmp_path)
    with pytest.raises(UnknownName, match="toast"):
        find_swaps(book, "tost", on=ON)
    with pytest.raises(UnknownName, match="butter"):
        find_swaps(book, "toast", on=ON, keep=["buter"])
    with pytest.raises(InputRefused, match=r"Found a target of \$0.00; expected"):
        find_swaps(book, "toast", on=ON, target=0)
    with pytest.raises(DateRefused):
        find_swaps(book, "toast", on=date(2030, 1, 1))


def test_a_swap_over_the_years(tmp_path: Path) -> None:
    found = swap_history(kitchen(tmp_path), "toast", ("Butter", "margarine"), on=ON)
    by_day = {point.on.isoformat(): point.saving for point in found.points}
    # 100 g: 1.00 against 1.20, 0.90 from March 2021, 1.05 from February 2022, 0.80 from May 2023
    assert by_day["2020-02-15"] == pytest.approx(-0.20)
    assert by_day["2021-03-15"] == pytest.approx(0.10)
    assert by_day["2022-02-15"] == pytest.approx(-0.05)
    assert by_day["2023-06-01"] == pytest.approx(0.20)  # the day asked about ends it
    assert found.points[0].on == date(2020, 1, 15)
    with pytest.raises(UnknownName, match="swap of this dish"):
        swap_history(kitchen(tmp_path / "b"), "toast", ("bread", "oil"), on=ON)
