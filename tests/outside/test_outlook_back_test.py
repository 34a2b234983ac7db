"""The outlook on the official US series: coverage and score as they were asked for beforehand.

Coverage within 80 ± 3 and 50 ± 4 per cent, and an interval score (Gneiting and Raftery, 2007) no
worse than the plain rule's; the plain rule itself was measured by other code: 79, 78, 74, 71 %.
"""

from __future__ import annotations

import pytest

from dashboard.terminal.outlook import checked
from pricing.ahead.back_test import BackTest


@pytest.fixture(scope="module")
def found() -> BackTest:
    return checked()


def test_every_horizon_and_level_is_covered_as_said(found: BackTest) -> None:
    assert (found.item_count, found.basket_count, len(found.horizons)) == (109, 1000, 16)
    for row in found.horizons:
        most = {0.8: 0.03, 0.5: 0.04}[row.share]
        assert row.covered == pytest.approx(row.share, abs=most), row
        assert row.forecasts > 20_000


def test_the_score_is_no_worse_than_the_plain_rules(found: BackTest) -> None:
    for row in found.horizons:
        assert row.score <= row.plain_score, row


def test_the_plain_rule_covers_what_other_code_measured(found: BackTest) -> None:
    plain = [row.plain_covered for row in found.horizons if (row.level, row.share) == ("item", 0.8)]
    assert plain == pytest.approx([0.79, 0.78, 0.74, 0.71], abs=0.01)
