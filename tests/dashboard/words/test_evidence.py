"""What a figure rests on, in words."""

from __future__ import annotations

import pytest

from dashboard.words.evidence import evidence_share


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.0, "all from prices seen"),
        (0.001, "nearly all from prices seen, a little moved by an official series"),
        (0.31, "69 % from prices seen, 31 % moved by an official series"),
        (0.999, "nearly all moved by an official series, a little from prices seen"),
        (1.0, "all moved by an official series"),
        (None, "nothing has a price"),
    ],
)
def test_evidence_of_a_figure_in_words(share: float | None, words: str) -> None:
    assert evidence_share(share, True) == words
