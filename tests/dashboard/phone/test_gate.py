"""Who may enter the phone's room: one code, one phone; ten wrong codes close it for ten minutes."""

from __future__ import annotations

from dashboard.phone.gate import Entered, Gate


class Clock:
    now = 0.0

    def __call__(self) -> float:
        return self.now


def gate() -> tuple[Gate, list[str], Clock]:
    told: list[str] = []
    clock = Clock()
    return Gate(tell=told.append, clock=clock), told, clock


def wrong(code: str) -> str:
    return code[:-1] + ("1" if code[-1] == "0" else "0")


def test_a_code_lets_one_phone_in_and_then_another_code_is_told() -> None:
    made, told, _ = gate()
    came, secret = made.enter(told[0].replace(" ", ""))
    assert came is Entered.RIGHT
    assert made.session(secret) is not None
    assert len(told) == 2
    assert made.enter(told[0])[0] is Entered.WRONG
    assert made.enter(told[1])[0] is Entered.RIGHT


def test_without_the_secret_of_a_session_there_is_none() -> None:
    made, told, _ = gate()
    secret = made.enter(told[0])[1]
    assert secret is not None
    assert len(secret) >= 43  # 32 random bytes in base64
    for other in (None, "", "é", secret[:-1], secret + "x"):
        assert made.session(other) is None


def test_after_ten_wrong_codes_even_the_right_one_is_refused_for_ten_minutes() -> None:
    made, told, clock = gate()
    came = [made.enter(wrong(told[0]))[0] for _ in range(10)]
    assert came == [Entered.WRONG] * 9 + [Entered.REFUSED]
    clock.now = 599.0
    assert made.enter(told[0]) == (Entered.REFUSED, None)
    clock.now = 600.0
    assert made.enter(told[0])[0] is Entered.RIGHT


def test_a_phone_that_is_in_stays_in_while_codes_are_refused() -> None:
    made, told, _ = gate()
    secret = made.enter(told[0])[1]
    for _ in range(10):
        made.enter(wrong(told[1]))
    assert made.session(secret) is not None


def test_a_session_ends_after_twelve_hours() -> None:
    made, told, clock = gate()
    secret = made.enter(told[0])[1]
    clock.now = 12 * 3600 - 1.0
    assert made.session(secret) is not None
    clock.now = 12 * 3600.0
    assert made.session(secret) is None
