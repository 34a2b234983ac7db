"""The house's rules of what it prints: rounding against published rules, the sentence, settings."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from pricing.book.connect import Book
from pricing.contents.house_rules import HouseRules, refuse_sentence
from pricing.contents.settings import book_settings, change_setting
from pricing.dishes.cost import cost_dish
from pricing.errors import InputRefused
from pricing.money import round_to
from pricing.printed.check import check_printed
from pricing.printed.publish import record_printed
from pricing.printed.said_and_known import said_and_known
from tests.kitchen import TODAY, load, make_book
from tests.terminal import answer, run

# Canada Revenue Agency, "Phasing out the penny" (cash payments from 4 February 2013): amounts
# ending in 1 and 2 cents go down, 3 and 4 up to 5, 6 and 7 down to 5, 8 and 9 up to 10
CANADA = {
    "7.00": "7.00", "7.01": "7.00", "7.02": "7.00", "7.03": "7.05", "7.04": "7.05",
    "7.05": "7.05", "7.06": "7.05", "7.07": "7.05", "7.08": "7.10", "7.09": "7.10",
}  # fmt: skip
# Sweden 1992 to 2010, to 50 öre: 1 to 24 öre down, 25 to 49 up, 51 to 74 down, 75 to 99 up (from
# memory); the receipts 223.20 → 223.00 and 65.40 → 65.50 as shown by Wikipedia, "Swedish rounding"
SWEDEN = {
    "223.20": "223.00", "65.40": "65.50", "8.24": "8.00", "8.25": "8.50", "8.49": "8.50",
    "8.50": "8.50", "8.74": "8.50", "8.75": "9.00", "8.99": "9.00",
}  # fmt: skip


@pytest.mark.parametrize(("paid", "rounded"), CANADA.items())
def test_canada_rounds_to_five_cents(paid: str, rounded: str) -> None:
    assert round_to(Decimal(paid), "CAD", 5) == Decimal(rounded)


@pytest.mark.parametrize(("paid", "rounded"), CANADA.items())
def test_ireland_rounds_to_five_cent_in_the_same_way(paid: str, rounded: str) -> None:
    # Central Bank of Ireland, rounding of totals since 28 October 2015: to the nearest 5 cent, 1,
    # 2, 6 and 7 down, 3, 4, 8 and 9 up (from memory)
    assert round_to(Decimal(paid), "EUR", 5) == Decimal(rounded)


@pytest.mark.parametrize(("paid", "rounded"), SWEDEN.items())
def test_sweden_rounded_to_fifty_ore(paid: str, rounded: str) -> None:
    assert round_to(Decimal(paid), "SEK", 50) == Decimal(rounded)


def test_half_a_step_goes_up_and_up_goes_up() -> None:
    # 1.025 lies in the middle of 1.00 and 1.05; as a float it is 1.02499999999999991
    assert round_to(1.025, "USD", 5) == Decimal("1.05")
    assert round_to(1.075, "USD", 5) == Decimal("1.10")
    assert round_to(0.05, "USD", 10) == Decimal("0.10")
    assert round_to(1.5, "USD", 100) == Decimal("2.00")
    assert round_to(1.0001, "USD", 5, up=True) == Decimal("1.05")
    assert round_to(0.1 + 0.2, "USD", 10, up=True) == Decimal("0.30")  # a sum of floats is snapped
    assert str(round_to(1234.5, "JPY", 10)) == "1230"
    assert str(round_to(1.0025, "KWD", 5)) == "1.005"  # a thousand fils to the dinar


FILES = {
    "ingredients": "ingredient,base\nflour,g\noil,g",
    # 500 g flour at 2.00 a kg is 1.00, 100 g oil at 4.20 a kg is 0.42: 1.42 for 2 portions, 0.71
    # a portion, 0.50 without the oil of the store cupboard
    "dishes": """
        dish,version,effective_from,portions,ingredient,quantity,unit,pantry
        flatbread,1,2026-01-01,2,flour,500,g,no
        flatbread,1,2026-01-01,2,oil,100,g,yes
        plate,1,2026-01-01,1,dish:flatbread,1,portion,no
    """,
    "prices": """
        ingredient,date,price,currency,pack
        flour,2026-11-20,2.00,USD,1 kg
        oil,2026-11-20,4.20,USD,1 kg
    """,
    "printed": """
        dish,version,published_on,cost_per_portion,currency
        flatbread,1,2026-11-21,0.50,USD
        plate,1,2026-11-21,0.71,USD
    """,
}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return make_book(tmp_path, FILES)


def test_without_rules_nothing_is_said(book: Book) -> None:
    cost = cost_dish(book, "flatbread", on=TODAY)
    assert cost.to_print is None
    assert "to_print" not in cost.as_json()
    assert "To print" not in run("cost", "flatbread", "--on", "2026-11-24", book=book.path).stdout


def test_the_figure_to_print_follows_the_rules(book: Book) -> None:
    change_setting(book, "rounding", "10")
    found = answer("cost", "flatbread", "--on", "2026-11-24", "--json", book=book.path)
    assert (found["to_print"], found["cost_per_portion"]) == (0.7, pytest.approx(0.71))
    change_setting(book, "rounding_way", "up")
    assert cost_dish(book, "flatbread", on=TODAY).to_print == Decimal("0.80")
    change_setting(book, "pantry_counted", "no")
    assert cost_dish(book, "flatbread", on=TODAY).to_print == Decimal("0.50")
    assert cost_dish(book, "plate", on=TODAY).to_print == Decimal("0.50")
    said = run("cost", "flatbread", "--on", "2026-11-24", book=book.path).stdout
    assert "$0.71 per portion" in said
    assert "To print: $0.50 (rounded up to the next $0.10, store cupboard not counted)" in said


def test_printed_figures_are_checked_by_the_rules(book: Book) -> None:
    known = {each.dish: each.known_then for each in check_printed(book, on=TODAY).figures}
    assert known == {"flatbread": pytest.approx(0.71), "plate": pytest.approx(0.71)}
    change_setting(book, "pantry_counted", "no")
    found = check_printed(book, on=TODAY)
    known = {each.dish: each.known_then for each in found.figures}
    assert known == {"flatbread": pytest.approx(0.50), "plate": pytest.approx(0.50)}
    assert {each.dish: each.then for each in found.figures} == {
        "flatbread": "agrees", "plate": "differs",
    }  # fmt: skip
    said = run("printed", book=book.path).stdout
    assert "tolerance 5 %, store cupboard not counted" in said


def test_the_house_sets_the_tolerance_and_an_option_wins(book: Book) -> None:
    # 0.50 is printed, 0.71 known: 42 % off
    change_setting(book, "tolerance", "50")
    assert {each.then for each in check_printed(book, on=TODAY).figures} == {"agrees"}
    found = answer("printed", "--tolerance", "41", "--json", book=book.path)
    assert found["tolerance_pct"] == 41.0
    assert {each["then"] for each in found["figures"]} == {"agrees", "differs"}


def test_a_figure_is_recorded_by_the_rules_with_the_costing_it_rests_on(book: Book) -> None:
    change_setting(book, "pantry_counted", "no")
    change_setting(book, "rounding", "100")
    made = record_printed(book, "flatbread", on=TODAY)
    assert made.printed == Decimal("1.00")  # half a dollar goes up
    assert made.cost_per_portion == pytest.approx(0.50)
    change_setting(book, "pantry_counted", "yes")  # what was said then stays what it was
    (said,) = said_and_known(book, "flatbread")
    assert (said.said, said.known) == (pytest.approx(0.50), pytest.approx(0.50))
    assert said.lines == ()
    change_setting(book, "pantry_counted", "no")
    words = run("publish", "plate", "--on", "2026-12-01", book=book.path).stdout
    assert "rounded to the nearest $1.00, store cupboard not counted" in " ".join(words.split())


def test_a_figure_that_rounds_to_nothing_is_not_recorded(book: Book) -> None:
    change_setting(book, "pantry_counted", "no")
    change_setting(book, "rounding", "100")
    heading = "dish,version,effective_from,portions,ingredient,quantity,unit"
    assert not load(book, "dishes", f"{heading}\nbite,1,2026-01-01,1,flour,100,g").problems
    done = run("publish", "bite", "--on", "2026-11-24", book=book.path)
    assert done.returncode == 1
    assert "house's rounding" in done.stderr


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("rounding", "7", "expected 1, 5, 10, 50 or 100"),
        ("rounding", "5.0", "expected 1, 5, 10, 50 or 100"),
        ("rounding_way", "down", "expected nearest (half a step up) or up"),
        ("pantry_counted", "maybe", "expected yes"),
        ("tolerance", "-1", "expected a percentage from 0 to 100"),
        ("tolerance", "101", "expected a percentage from 0 to 100"),
        ("sentence", "{dish} for {price}", "Found the field '{price}' in the sentence; expected "
         "one of {dish}, {cost}, {portions}, {month}"),
        ("sentence", "{dish} costs {cost:>9}", "Found the field '{cost:>9}'"),
        ("sentence", "{cost.__class__}", "Found the field '{cost.__class__}'"),
        ("sentence", "{} costs {cost}", "Found the field '{}'"),
        ("sentence", "{dish} costs {cost", "brace without its partner"),
        ("sentence", "{dish} costs little", "without {cost}"),
        ("sentence", "", "without {cost}"),
        ("sentence", "{cost}" + "x" * 500, "at most 500"),
    ],
)  # fmt: skip
def test_a_wrong_rule_is_refused_with_a_sentence(
    book: Book, name: str, value: str, said: str
) -> None:
    before = book_settings(book)
    with pytest.raises(InputRefused) as refused:
        change_setting(book, name, value)
    assert said in str(refused.value)
    assert book_settings(book) == before
    assert run("setting", name, "--", value, book=book.path).returncode == 2


def test_the_sentence_is_filled_in(book: Book) -> None:
    change_setting(book, "sentence", "{dish}: {cost} ({portions} portions), {month} {{net}}")
    refuse_sentence(book_settings(book).sentence)
    house = HouseRules.of(book_settings(book))
    said = house.say(dish="tart {x}", cost="$1.20", portions="4", month="May 2026")
    assert said == "tart {x}: $1.20 (4 portions), May 2026 {net}"
