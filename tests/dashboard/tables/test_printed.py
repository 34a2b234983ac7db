"""The tables and the correction list of printed figures, as they are shown and downloaded."""

from __future__ import annotations

from datetime import date

from dashboard.tables.printed import correction_frame, correction_list, figure_rows
from dashboard.words.printed import SYMBOLS, verdict_words
from pricing.printed.records import CheckedFigure, CheckedFigures
from pricing.printed.verdict import verdict_now, verdict_then

ON = date(2026, 11, 24)


def figure(
    printed: float, then: float | None, now: float | None, superseded_by: date | None = None
) -> CheckedFigure:
    return CheckedFigure(
        row=1, dish=f"soup at {printed}", version="1", published_on=date(2020, 2, 3),
        costed_on=date(2020, 1, 5), recipe_day=date(2020, 1, 5), printed=printed, as_printed=None,
        currency="USD", known_then=then, recosted_then=then, recosted_now=now, off_then_pct=None,
        off_now_pct=None if now is None else (now / printed - 1) * 100,
        then=verdict_then(printed, then), now=verdict_now(printed, now), rebased_food=None,
        rebased_all=None, superseded_by=superseded_by, where="Sheet_9", note=None, frozen=False,
        gaps=(),
    )  # fmt: skip


FOUND = CheckedFigures(
    on=ON, tolerance_pct=5.0, pantry_counted=True, food_series=None, all_items_series=None,
    figures=(
        figure(1.00, 2.00, 3.00), figure(2.00, 2.00, 3.00), figure(4.00, None, None),
        figure(3.00, 3.00, 3.00), figure(5.00, 2.00, 3.00, superseded_by=date(2021, 2, 3)),
    ),
)  # fmt: skip


def test_only_what_is_in_force_and_differed_or_is_stale_is_corrected() -> None:
    frame = correction_frame(FOUND)
    assert list(frame["then"]) == ["differs", "agrees"]
    assert list(frame["now"]) == ["stale", "stale"]
    assert list(frame["printed"]) == [1.00, 2.00]
    assert frame.to_csv(index=False).splitlines()[0] == (
        "dish,version,published_on,costed_on,where,then,now,printed,as_printed,known_then,"
        "recosted_now,currency,off_then_pct,off_now_pct"
    )


def test_the_list_to_print_has_a_sentence_for_each() -> None:
    listed = correction_list(FOUND)
    assert listed.startswith("# Printed figures to correct, 24 November 2026\n")
    wrong, stale = listed.split("## Stale now")
    assert (
        "but by what was known on 5 January 2020 a portion cost \\$2.00; it costs \\$3.00 now."
    ) in wrong
    assert "soup at 2.0 (Sheet\\_9): printed at \\$2.00 on 3 February 2020" in stale
    assert "(+50.0 %)" in stale
    assert "soup at 3.0" not in listed
    assert "soup at 5.0" not in listed


def test_a_table_row_tells_both_days_and_both_verdicts() -> None:
    rows = figure_rows(FOUND.superseded, ON, replaced=True)
    (row,) = rows.to_dict("records")
    days = [row[name].replace("\u2011", "-") for name in ("Published", "Replaced on")]
    assert days == ["2020-02-03; costed for 2020-01-05", "2021-02-03"]
    assert (row["Then"], row["Now"]) == ("✗\u00a0differs", "↕\u00a0stale")


def test_the_verdicts_on_one_day_have_symbols_of_their_own() -> None:
    assert len({SYMBOLS[each] for each in ("agrees", "differs", "cannot price")}) == 3
    assert len({SYMBOLS[each] for each in ("holds", "stale", "cannot price")}) == 3
    assert verdict_words("differs") == "✗ differs"
