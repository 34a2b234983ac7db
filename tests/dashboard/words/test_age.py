"""How long ago a price was seen, as a cook says it."""

from __future__ import annotations

import pytest

from dashboard.words.evidence import age_words


@pytest.mark.parametrize(
    ("days", "words"),
    [
        (0, "today"),
        (1, "1 day ago"),
        (59, "59 days ago"),
        (61, "2 months ago"),  # a month of the Gregorian calendar has 30.44 days in the mean
        (365, "1 year ago"),
        (3 * 365 + 122, "3 years 4 months ago"),
    ],
)
def test_an_age_in_the_unit_that_is_worth_saying(days: int, words: str) -> None:
    assert age_words(days) == words
