"""A pack is read out of a description as a cook reads it, and no text makes the reader fail."""

from __future__ import annotations

import csv
import time
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.matching.packs import LONGEST_WORDS, pack_in_words, times
from pricing.errors import MeasureRefused
from pricing.measures.read import SYSTEMS, read_pack
from pricing.reference.table import data_lines

TABLE = Path(__file__).with_name("packs.csv")


def labelled() -> list[dict[str, str]]:
    return list(csv.DictReader(data_lines(TABLE.read_text("utf-8"))))


def right(row: dict[str, str]) -> bool:
    found = pack_in_words(row["words"], row["measures"])
    if not row["pack"] or found is None:
        return not row["pack"] and found is None
    held, wanted = (read_pack(each, row["measures"]) for each in (found.pack, row["pack"]))
    counted = row["pack"].split(" x ")[:-1] == found.pack.split(" x ")[:-1]
    return held == wanted and counted and found.approx == (row["approx"] == "yes")


def test_97_of_100_invented_descriptions_have_their_pack_read() -> None:
    rows = labelled()
    wrong = [f"{row['words']}: {row['pack'] or 'none'}" for row in rows if not right(row)]
    print(f"{1 - len(wrong) / len(rows):.1%} of {len(rows)} packs read right", *wrong, sep="\n")
    assert len(rows) >= 120
    assert len(wrong) <= 0.03 * len(rows), wrong


def pack(words: str, measures: str = "uk") -> str | None:
    found = pack_in_words(words, measures)
    return None if found is None else found.pack


def test_a_pack_of_several_is_counted() -> None:
    found = pack_in_words("ZORVIK BTR 454G 2PK", "uk")
    assert found is not None
    assert (found.pack, found.count, found.approx, found.rest) == (
        "2 x 454 g", 2, False, "ZORVIK BTR",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("words", "read"),
    [
        ("Lemonade 6 x 330ml (1.98l)", "6 x 330 ml"),  # 6 x 330 ml = 1980 ml
        ("Lemonade 1.98l (6 x 330ml)", "6 x 330 ml"),
        ("Soup 454 g / 16 oz", "454 g"),
    ],
)
def test_of_several_sizes_the_multiplied_one_counts_else_the_first(words: str, read: str) -> None:
    assert pack(words) == read


def test_pieces_beside_a_weight_are_told_too() -> None:
    found = pack_in_words("Fishcakes 4 pcs 400g", "uk")
    assert found is not None
    assert (found.pack, found.pieces) == ("400 g", "4 each")


@pytest.mark.parametrize(
    ("words", "read"),
    [
        ("Joghurt 1.000 g", "1000 g"),  # a German thousand
        ("FILET 1.000 kg", "1 kg"),  # a till's kilo with three decimals
        ("FILET 0,843 kg", "0.843 kg"),
        ("Water 1,5 L", "1.5 l"),
    ],
)
def test_three_decimals_are_a_thousand_of_grams_but_parts_of_a_kilo(words: str, read: str) -> None:
    assert pack(words, "metric") == read


@pytest.mark.parametrize(
    ("words", "read"),
    [
        ("Corn 340/285g", "340 g"),  # net before drained
        ("Tonic 6/330ml", "6 x 330 ml"),
        ("Juice 12/1L", "12 x 1 l"),
        ("Ham 1/2 lb", "1/2 lb"),
        ("Ham 1 1/2 lb", "1 1/2 lb"),
    ],
)
def test_a_slash_is_a_case_a_drained_weight_or_a_fraction(words: str, read: str) -> None:
    assert pack(words) == read


@pytest.mark.parametrize(
    "words",
    ["FAT 3.5%", "Tin 20x30cm", "Foil 28mm", "Rioja 2018", "B12", "E471", "4011", "", "Size L"],
)
def test_a_percentage_a_dimension_a_year_or_an_item_number_is_no_pack(words: str) -> None:
    assert pack(words) is None


def test_a_size_of_egg_is_no_litre_but_liquid_egg_is_sold_by_it() -> None:
    assert pack("EGGS 12L") == "12 each"
    assert pack("LIQUID EGG 12L") == "12 l"


def test_a_pint_is_read_only_where_it_has_one_size() -> None:
    assert pack("Milk 2 pints", "uk") == "2 pint"
    assert pack("Milk 2 pints", "metric") is None


def test_several_packs_are_one_text() -> None:
    assert times("500 g", Decimal(2), "uk") == "2 x 500 g"
    assert times("6 x 330 ml", Decimal(3), "uk") == "5940 ml"  # 3 x 6 x 330
    assert times("500 g", Decimal("0.5"), "uk") == "250 g"
    assert times("2 x 454 g", Decimal(1), "uk") == "2 x 454 g"
    assert times("1 bunch", Decimal(3), "uk", {"bunch"}) == "3 x 1 bunch"


@pytest.mark.parametrize("count", ["0", "-1"])
def test_no_packs_at_all_are_refused(count: str) -> None:
    with pytest.raises(MeasureRefused):
        times("500 g", Decimal(count), "uk")


@given(
    words=st.text(max_size=80)
    | st.text(alphabet="0123456789.,/x× kglLmoz%-()½½Kereggs12doz", max_size=80),
    measures=st.sampled_from(SYSTEMS),
)
def test_any_text_is_read_or_left_alone_and_what_is_read_is_a_pack(
    words: str, measures: str
) -> None:
    found = pack_in_words(words, measures)
    if found is not None:
        assert read_pack(found.pack, measures).amount > 0
        assert found.count >= 1


@pytest.mark.parametrize("piece", ["1", "1x", "1 x ", "a ", "1/", "1.", "12 doz", "½", "( x", "kg"])
@pytest.mark.parametrize("length", [LONGEST_WORDS, 100_000])
def test_a_long_text_takes_no_time(piece: str, length: int) -> None:
    text = (piece * length)[:length]
    begun = time.perf_counter()
    pack_in_words(text, "uk")
    assert time.perf_counter() - begun < 0.5
