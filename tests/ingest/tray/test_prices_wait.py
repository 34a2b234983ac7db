"""Prices whose words nobody knows wait; what was decided once comes in from then on."""

from __future__ import annotations

import hashlib
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from ingest.report import FileReport
from ingest.tray import taking
from pricing.book.connect import Book
from tests.ingest.tray.bring import bring, decide, decided, line, rows_of, seen, waiting
from tests.kitchen import load
from tests.loading import ask, only, places

GTIN = "6291041500213"  # an invented number with a right check digit


def test_what_waits_is_kept_as_it_came_with_its_file(book: Book) -> None:
    report = bring(book, line("ZRV BTR 454G", "3.90", supplier="Shop A", line=7, raw="x;ZRV;3.90"))
    assert (report.load, report.added, report.already, report.waiting) == (4, 0, 0, 1)
    assert report.remarks == (
        "1 line waits for a decision (1 description): see `portiondrift tray`.",
    )
    kept = ask(
        book,
        "SELECT line, raw, words, sender, observed_on, price, file_name, file_sha256 "
        "FROM tray_waiting JOIN load_batch USING (batch)",
    )
    sha = hashlib.sha256(b"x;ZRV;3.90").hexdigest()
    assert kept == [
        (7, "x;ZRV;3.90", "ZRV BTR 454G", "Shop A", date(2026, 11, 3), Decimal("3.90"),
         "list.csv", sha)
    ]  # fmt: skip
    assert seen(book) == []


@pytest.mark.parametrize("count", ["1", "0.333333333", "12"])
def test_a_list_brought_twice_waits_once(book: Book, count: str) -> None:
    lines = [line("ZRV", "3.9001", count=Decimal(count)), line("QLP", supplier="Shop A", line=3)]
    bring(book, *lines)
    again = bring(book, *lines, name="copy.csv")
    assert (again.load, again.added, again.already, again.waiting) == (None, 0, 2, 2)
    assert len(waiting(book)) == 2


def test_a_line_twice_in_one_list_waits_once(book: Book) -> None:
    assert bring(book, line("ZRV"), line("zrv", line=3)).already == 1
    assert waiting(book) == ["ZRV"]


def test_another_tax_or_kind_is_another_price(book: Book) -> None:
    bring(book, line("ZRV"), line("ZRV", tax_pct=Decimal(7)), line("ZRV", kind="offer"))
    assert len(waiting(book)) == 3


def test_a_dry_run_stores_nothing(book: Book) -> None:
    assert bring(book, line("ZRV"), dry_run=True).waiting == 1
    assert waiting(book) == []
    bring(book, line("ZRV"))
    assert decide(book, ",ZRV,leek,500 g", dry_run=True).added == 1
    assert (waiting(book), seen(book)) == (["ZRV"], [])
    assert rows_of(book, ["decision", "tray_settled"]) == {"decision": 0, "tray_settled": 0}


@pytest.mark.parametrize(
    ("more", "column"),
    [
        ({"currency": "XQX"}, "currency"),
        ({"price": "3.90001"}, "price"),
        ({"price": "1000000000000000"}, "price"),
        ({"day": date(2027, 1, 1)}, "date"),
        ({"tax_pct": Decimal(-1)}, "tax_pct"),
    ],
)
def test_what_can_never_be_a_price_does_not_wait(
    book: Book, more: dict[str, object], column: str
) -> None:
    """Once it waited, no decision could bring it in, and nobody could mend it any more."""
    price = str(more.pop("price", "5"))
    bad = line("ZRV", price, line=7, **more)
    assert places(bring(book, bad, line("QLP"))) == [(7, column)]
    assert waiting(book) == []
    bring(book, bad, line("QLP"), skip_bad=True)
    assert waiting(book) == ["QLP"]


def test_decisions_settle_the_same_words_from_several_files(book: Book) -> None:
    """Butter of 454 g is said by the words; of two for 7.80 one is 3.90."""
    bring(book, line("ZRV LK 454G", "3.90", supplier="Shop A"))
    bring(book, line("zrv  lk 454g", "7.80", count=Decimal(2), supplier="Shop B"), name="b.csv")
    bring(book, line("other"), name="c.csv")
    report = decide(book, ",ZRV LK 454G,leek,")
    assert (report.added, report.problems) == (1, ())
    assert report.remarks == ("2 lines of the tray settled: 2 new prices.",)
    assert seen(book) == [
        ("leek", Decimal("3.90"), "454 g", "Shop A"),
        ("leek", Decimal("3.90"), "454 g", "Shop B"),
    ]
    assert waiting(book) == ["other"]
    assert ask(book, "SELECT line, raw FROM tray_settled") == [(2, ",ZRV LK 454G,leek,")] * 2


def test_from_then_on_the_words_come_in_without_waiting(book: Book) -> None:
    bring(book, line("ZRV", supplier="Shop A"))
    decided(book, ",ZRV,leek,500 g")
    report = bring(book, line("Zrv", "4", supplier="Shop B"))
    assert (report.added, report.waiting) == (1, 0)
    assert seen(book)[-1] == ("leek", Decimal(4), "500 g", "Shop B")


def test_a_list_again_after_the_decision_adds_nothing(book: Book) -> None:
    bring(book, line("ZRV", supplier="Shop A"))
    decided(book, ",ZRV,leek,500 g")
    again = bring(book, line("ZRV", supplier="Shop A"))
    assert (again.load, again.added, again.already, again.waiting) == (None, 0, 1, 0)


def test_an_item_number_goes_before_words(book: Book) -> None:
    """The sender sells item 7 under the words by which it sold item 8 before."""
    bring(
        book,
        line("ZRV", supplier="Shop A", item_number="7"),
        line("QLP", "6", supplier="Shop A", item_number="8", line=3),
    )
    decided(book, "Shop A,ZRV,leek,500 g", "Shop A,QLP,pearl barley,1 kg")
    assert bring(book, line("QLP", "4.50", supplier="shop a", item_number="7")).waiting == 0
    assert seen(book)[-1][:3] == ("leek", Decimal("4.50"), "500 g")
    # of another sender the number says nothing
    assert bring(book, line("new", supplier="Shop B", item_number="7")).waiting == 1


def test_a_gtin_is_the_same_thing_at_any_sender_once_it_is_decided(book: Book) -> None:
    bring(book, line("ZRV", supplier="Shop A", gtin=GTIN))
    assert bring(book, line("LCK", supplier="Shop B", gtin=GTIN)).waiting == 1
    decided(book, "Shop A,ZRV,leek,500 g")
    assert bring(book, line("LK", "4", supplier="Shop C", gtin=GTIN)).waiting == 0
    assert seen(book)[-1] == ("leek", Decimal(4), "500 g", "Shop C")
    # what came before the decision goes on waiting: its own words were not decided
    assert waiting(book) == ["LCK"]


def test_a_decision_of_the_sender_goes_before_one_of_anyone(book: Book) -> None:
    bring(book, line("ZRV", supplier="Shop A"), line("ZRV", "6", supplier="Shop B", line=3))
    decided(book, ",ZRV,leek,500 g", "Shop B,ZRV,pearl barley,1 kg")
    assert [row[0] for row in seen(book)] == ["leek", "pearl barley"]
    bring(book, line("ZRV", "4", supplier="Shop C"), line("ZRV", "7", supplier="Shop B", line=3))
    assert [row[0] for row in seen(book)[2:]] == ["leek", "pearl barley"]


def test_a_decision_of_one_sender_leaves_the_others_waiting(book: Book) -> None:
    bring(book, line("ZRV", supplier="Shop A"), line("ZRV", "6", supplier="Shop B", line=3))
    decided(book, "Shop A,ZRV,leek,500 g")
    assert (len(seen(book)), waiting(book)) == (1, ["ZRV"])
    assert bring(book, line("ZRV", "4", supplier="Shop C")).waiting == 1


def test_what_is_no_ingredient_is_set_aside_now_and_later(book: Book) -> None:
    bring(book, line("Crate, deposit"))
    report = decide(book, ",crate,leek,1 kg", ',"Crate, deposit",not an ingredient,')
    assert "1 line of the tray settled: 0 new prices." in report.remarks
    assert (waiting(book), seen(book)) == ([], [])
    later = bring(book, line("CRATE, DEPOSIT", "2"), line("leek", "3", pack="1 kg", line=3))
    assert (later.added, later.waiting) == (1, 0)
    assert later.remarks == ("1 line set aside: decided before to be no ingredient.",)


def test_names_and_aliases_need_no_decision(book: Book) -> None:
    assert (
        bring(
            book, line("Leeks", "3", pack="1 kg"), line("x", item_number="whole milk", pack="1 l")
        ).added
        == 2
    )


def test_a_known_thing_without_a_pack_waits(book: Book) -> None:
    assert bring(book, line("leek", unit="box")).waiting == 1
    problem = only(decide(book, ",leek,leek,"))
    assert problem.sentence() == (
        "line 2, column pack: found no pack of 'leek' that leek can be counted in; expected what "
        "one of it is, such as 500 g or 6 x 330 ml. Write the pack in this row, or load the "
        "missing measure of leek first."
    )
    assert waiting(book) == ["leek"]
    decided(book, ",leek,leek,5 kg")
    assert seen(book) == [("leek", Decimal(5), "5 kg", None)]


def test_the_pack_of_a_line_goes_before_that_of_the_decision(book: Book) -> None:
    bring(book, line("ZRV", pack="2 kg"), line("ZRV", "6", line=3))
    decided(book, ",ZRV,leek,500 g")
    assert [row[1:3] for row in seen(book)] == [(Decimal(5), "2 kg"), (Decimal(6), "500 g")]


def test_an_unusual_price_is_refused_with_the_row_that_decides(book: Book) -> None:
    """3 a kilo is expected; 50 for 500 g is 100 a kilo."""
    load(book, "prices", "ingredient,date,price,currency,pack\nleek,2026-11-02,3,USD,1 kg")
    bring(book, line("ZRV", "50"), line("QLP", "1.60", line=3))
    report = decide(book, ",QLP,pearl barley,1 kg", ",ZRV,leek,500 g")
    assert [(each.line, each.code) for each in report.problems] == [(3, "unusual-price")]
    assert (report.load, len(seen(book)), len(waiting(book))) == (None, 1, 2)
    good = decide(book, ",QLP,pearl barley,1 kg", ",ZRV,leek,500 g", skip_bad=True)
    assert (good.added, waiting(book)) == (1, ["ZRV"])
    assert good.refused_text is not None
    assert ",ZRV,leek,500 g," in good.refused_text
    assert rows_of(book, ["decision"]) == {"decision": 1}
    assert decide(book, ",ZRV,leek,500 g", accept_unusual=True).added == 1
    assert seen(book)[-1] == ("leek", Decimal(50), "500 g", None)


def test_a_refused_price_among_several_of_the_same_words_keeps_all_waiting(book: Book) -> None:
    load(book, "prices", "ingredient,date,price,currency,pack\nleek,2026-11-02,3,USD,1 kg")
    bring(book, line("ZRV", "50"), line("ZRV", "1.60", line=3))
    assert decide(book, ",ZRV,leek,500 g", skip_bad=True).added == 0
    assert (len(seen(book)), len(waiting(book))) == (1, 2)


def test_what_two_programs_bring_at_once_waits_once(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other program stores its lines after ours were read and before they are stored."""
    take = taking.take

    def after_the_other(*args: Any, **more: Any) -> FileReport:
        monkeypatch.setattr(taking, "take", take)
        bring(book, line("ZRV"), line("moo"), name="same.csv")
        return take(*args, **more)

    monkeypatch.setattr(taking, "take", after_the_other)
    report = bring(book, line("ZRV"), line("moo"), line("crate"), name="list.csv")
    assert waiting(book) == ["ZRV", "moo", "crate"]
    assert (report.waiting, report.already) == (3, 2)
