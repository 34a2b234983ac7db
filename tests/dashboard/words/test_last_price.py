"""The last price of what was weighed is told by the kilo; a refused price by its currency."""

from __future__ import annotations

from dashboard.terminal.reports import report_text
from dashboard.words.tray import last_words
from ingest.report import FileReport
from ingest.tray.listing import WaitingWords


def waits(price: float | None, pack: str | None) -> WaitingWords:
    return WaitingWords(
        words="beef", sender=None, lines=1, last_price=price, currency="GBP", last_on=None,
        pack=pack, dishes=(), files=(), amounts=(), known_as=None, proposal=None,
    )  # fmt: skip


def test_a_weighed_line_is_told_by_the_kilo() -> None:
    # 18.40 for 2.3 kg: 18.40 / 2.3 = 8.00
    assert last_words(waits(18.40, "2.3 kg")) == "£8.00 per kg (£18.40 for 2.3 kg)"


def test_a_pack_is_told_as_it_is() -> None:
    assert last_words(waits(2.0, "500 g")) == "£2.00 for 500 g"
    assert last_words(waits(2.0, "1 kg")) == "£2.00 for 1 kg"
    assert last_words(waits(2.0, None)) == "£2.00"
    assert last_words(waits(None, None)) == ""


def test_a_load_whose_lines_all_wait_says_what_waits() -> None:
    report = FileReport(file="list.csv", load=7, added=0, already=0, waiting=3)
    said = report_text(report)
    assert said.startswith("list.csv: 3 lines wait for a decision, see `portiondrift tray`")
    assert "Load 7" in said
    assert "rows added" not in said
