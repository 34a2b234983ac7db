"""The day of a receipt is read where it can mean one day alone; else it is asked for."""

from __future__ import annotations

from datetime import date

import pytest

from ingest.till_text.day import find_day

TODAY = date(2026, 11, 24)


def days(*lines: str) -> tuple[date | None, str | None]:
    day, problem = find_day(list(enumerate(lines, start=1)), TODAY)
    return day, problem.sentence() if problem else None


@pytest.mark.parametrize(
    ("line", "day"),
    [
        ("2026-11-03 18:04", date(2026, 11, 3)),
        ("03.11.2026", date(2026, 11, 3)),  # a point stands behind a day
        ("03.11.26 18:04", date(2026, 11, 3)),
        ("13/02/2026", date(2026, 2, 13)),
        ("02/13/2026", date(2026, 2, 13)),
        ("05/05/2026", date(2026, 5, 5)),
        ("3 Nov 2026", date(2026, 11, 3)),
        ("Nov 3, 2026 6:04 PM", date(2026, 11, 3)),
        ("3. März 2026", date(2026, 3, 3)),
        ("3 août 2026", date(2026, 8, 3)),
        ("3 de mayo de 2026", date(2026, 5, 3)),
        ("3 lipca 2026", date(2026, 7, 3)),
    ],
)
def test_a_date_of_one_meaning_is_read(line: str, day: date) -> None:
    assert days("Shop", line) == (day, None)


def test_a_date_of_two_meanings_is_asked_for() -> None:
    day, told = days("Shop", "03/04/2026 18:04")
    assert day is None
    assert told is not None
    assert told.startswith(
        "line 2: found the date '03/04/2026', which may be 2026-03-04 or 2026-04-03;"
    )
    assert days("26-11-24")[0] is None  # 26 November 2024, or 24 November 2026


def test_another_date_settles_the_order() -> None:
    assert days("Since 13/02/2020", "03/04/2026 18:04")[0] == date(2026, 4, 3)
    assert days("Since 02/13/2020", "03/04/2026 18:04")[0] == date(2026, 3, 4)


def test_the_date_beside_a_time_is_the_receipts() -> None:
    assert days("Points end 2026-10-31", "2026-11-03 18:04")[0] == date(2026, 11, 3)


def test_no_date_and_a_day_to_come_are_asked_for() -> None:
    assert "found a receipt without a date" in str(days("Shop", "Tel 020 7946 0123")[1])
    assert "found the date 2026-11-25, which is after today" in str(days("2026-11-25")[1])
    assert "without a date" in str(days("31.02.2026")[1])
