"""What a figure rests on, in words."""

from __future__ import annotations

import pytest

from dashboard.words.evidence import evidence_share


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.0, "all from prices seen"),
        (0.001, "nearly all from prices seen, a little estimated from official prices"),
        (0.31, "69 % from prices seen, 31 % estimated from official prices"),
        (0.999, "nearly all estimated from official prices, a little from prices seen"),
        (1.0, "all estimated from official prices"),
        (None, "nothing has a price"),
    ],
)
def test_evidence_of_a_figure_in_words(share: float | None, words: str) -> None:
    assert evidence_share(share, True) == words
