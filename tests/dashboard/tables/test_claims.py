"""The correction list, as it is downloaded."""

from __future__ import annotations

from datetime import date

from dashboard.tables.claims import SYMBOLS, correction_frame, correction_list, status_words
from pricing.printed.check import ClaimCheck, Claims, status


def claim(claimed: float, then: float | None, now: float | None) -> ClaimCheck:
    return ClaimCheck(
        dish=f"soup at {claimed}", version="1", published_on=date(2020, 2, 3), claimed=claimed,
        currency="USD", recosted_then=then, recosted_now=now, error_pct=None,
        drift_pct=None if now is None else (now / claimed - 1) * 100,
        status=status(claimed, then, now), rebased_food=None, rebased_all=None,
        where="Sheet_9", note=None, frozen=False, gaps=(),
    )  # fmt: skip


FOUND = Claims(
    on=date(2026, 11, 24), tolerance_pct=5.0, food_series=None, all_items_series=None,
    claims=(
        claim(1.00, 2.00, 3.00), claim(2.00, 2.00, 3.00), claim(4.00, None, 3.00),
        claim(3.00, 3.00, 3.00),
    ),
)  # fmt: skip


def test_only_what_was_wrong_or_drifted_is_corrected() -> None:
    frame = correction_frame(FOUND)
    assert list(frame["status"]) == ["was wrong", "drifted"]
    assert list(frame["recosted_now"]) == [3.00, 3.00]
    assert frame.to_csv(index=False).splitlines()[0] == (
        "dish,version,published_on,where,status,claimed,recosted_then,recosted_now,currency,"
        "drift_pct"
    )


def test_the_list_to_print_has_a_sentence_for_each() -> None:
    printed = correction_list(FOUND)
    assert printed.startswith("# Published figures to correct, 24 November 2026\n")
    wrong, drifted = printed.split("## Drifted since")
    assert "but by that day's prices a portion cost \\$2.00; it costs \\$3.00 now." in wrong
    assert "soup at 2.0 (Sheet\\_9): printed \\$2.00 on 3 February 2020" in drifted
    assert "(+50.0 %)" in drifted
    assert "soup at 3.0" not in printed


def test_every_status_has_a_symbol_of_its_own() -> None:
    assert len(set(SYMBOLS.values())) == 4
    assert status_words("was wrong") == "✗ was wrong"
