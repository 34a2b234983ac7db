"""Which state a figure of a month is in."""

from __future__ import annotations

from dashboard.words.states import AT_LEAST, MOSTLY_MOVED, MOSTLY_SEEN, state_of


def test_a_month_is_seen_moved_or_at_least() -> None:
    assert state_of(True, 0.0) == MOSTLY_SEEN
    assert state_of(True, 0.5) == MOSTLY_SEEN  # half is still mostly seen
    assert state_of(True, 0.51) == MOSTLY_MOVED
    assert state_of(False, 0.0) == AT_LEAST
    assert state_of(True, None) == AT_LEAST  # nothing is priced
