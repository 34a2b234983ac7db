"""How a choice stands in an address: there and back, and what the address cannot mean."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from dashboard.views import address
from dashboard.views.address import Kept

FIRST, LAST = date(2012, 1, 15), date(2026, 11, 24)
EVERY: dict[str, Kept] = {
    "choice": address.choice(["in force that day", "1", "2 & more"]),
    "choice with none": address.choice([None, "retail", "any"]),
    "some": address.some_of(["leek", "pearl barley", "salt, fine"]),
    "day": address.day(LAST, FIRST, LAST),
    "number": address.number(None, 0.0, 1e9),
    "whole number": address.whole_number(4, 1, 36),
    "words": address.words(),
    "one word": address.one_word(),
    "tick": address.yes_or_no(),
    "tick that is set": address.yes_or_no(True),
    "years": address.years(2012, 2026),
}


@pytest.mark.parametrize(
    ("name", "value", "written"),
    [
        ("choice", "2 & more", ["2 & more"]),
        ("choice with none", "any", ["any"]),
        ("some", ["salt, fine", "leek"], ["salt, fine", "leek"]),
        ("day", date(2020, 2, 29), ["2020-02-29"]),
        ("number", 0.45, ["0.45"]),
        ("whole number", 18, ["18"]),
        ("number", 1234567.89, ["1234567.89"]),
        ("words", "SAFFRON bar", ["SAFFRON bar"]),
        ("one word", "celeriac for leek (roast it first)", ["celeriac for leek (roast it first)"]),
        ("tick", True, ["yes"]),
        ("tick that is set", False, ["no"]),
        ("years", (2015, 2015), ["2015-2015"]),
    ],
)
def test_what_was_chosen_is_written_and_read_again(
    name: str, value: Any, written: list[str]
) -> None:
    kept = EVERY[name]
    assert kept.write(value) == written
    assert kept.read_from(written) == value


@pytest.mark.parametrize("name", sorted(EVERY))
def test_an_address_that_says_nothing_means_the_start(name: str) -> None:
    kept = EVERY[name]
    assert kept.read_from(None) == kept.read_from([]) == kept.start
    # and the start itself, were it written, would be read as the start
    assert kept.read_from(kept.write(kept.start)) == kept.start


def test_a_field_that_was_emptied_is_told_from_one_that_was_not_touched() -> None:
    # a dish has a target of 0.45; who looks without one says so
    target = address.number(0.45, 0.0, 1e9)
    assert target.read_from(target.write(None)) is None
    assert target.read_from(None) == 0.45
    # a date that was emptied is the start
    on = EVERY["day"]
    assert on.read_from(on.write(None)) == LAST


@pytest.mark.parametrize(
    ("name", "said", "meant"),
    [
        ("day", "1900-01-01", FIRST),
        ("day", "2030-01-01", LAST),
        ("number", "-3", 0.0),
        ("number", "1e12", 1e9),
        ("whole number", "99", 36),
        ("whole number", "0", 1),
        ("years", "1990-2050", (2012, 2026)),
        ("years", "2020-2015", (2015, 2020)),
    ],
)
def test_what_lies_outside_is_drawn_to_the_nearest(name: str, said: str, meant: Any) -> None:
    assert EVERY[name].read_from([said]) == meant


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("choice", "3"),
        ("choice with none", "both"),
        ("day", "24.11.2026"),
        ("day", ""),
        ("number", "cheap"),
        ("number", "nan"),
        ("whole number", "4.5"),
        ("years", "2015"),
        ("years", "2012-2014-2016"),
        ("years", "long ago"),
    ],
)
def test_words_that_mean_nothing_here_are_the_start(name: str, said: str) -> None:
    kept = EVERY[name]
    assert kept.read_from([said]) == kept.start


def test_of_several_those_that_are_not_there_are_left_out() -> None:
    assert EVERY["some"].read_from(["leek", "leak", "pearl barley"]) == ["leek", "pearl barley"]
    assert EVERY["some"].read_from(["leek", "leek"]) == ["leek"]


def test_a_day_that_starts_outside_starts_at_the_nearest() -> None:
    # a figure that was costed after the day in the bar
    late = address.day(date(2026, 11, 15), FIRST, date(2026, 11, 12))
    assert late.read_from(None) == late.start == date(2026, 11, 12)


def test_a_choice_starts_with_its_first_unless_told() -> None:
    assert address.choice(["1", "2"]).start == "1"
    assert address.choice(["1", "2"], "2").start == "2"
    assert address.choice([]).start is None


def test_a_start_that_is_no_longer_offered_is_the_first() -> None:
    assert address.choice(["1", "2"], "3").start == "1"
