"""How unit prices are rounded where they are shown, by published rules."""

from __future__ import annotations

import pytest

from pricing.measures.unit_price import unit_price_words


@pytest.mark.parametrize(
    ("pence", "shown"),
    [
        # Price Marking Order (Northern Ireland) 2004, SR 2004/368, article 13: under £1 to the
        # nearest 0.1p, where the hundredths digit of 5 or more goes up, of 4 or less down
        (12.34, "£0.123"),
        (12.35, "£0.124"),
        (12.349, "£0.123"),
        (99.95, "£1.00"),
        (99.94, "£0.999"),
        (25.0, "£0.250"),
        (0.15, "£0.002"),
        # from £1 to the penny (from memory)
        (100.4, "£1.00"),
        (100.5, "£1.01"),
    ],
)
def test_sterling_to_a_tenth_of_a_penny_under_a_pound(pence: float, shown: str) -> None:
    assert unit_price_words(pence / 100, "each", "GBP", "uk") == f"{shown} each"
    # of a weight: one kilogram, the unit of the Order
    assert unit_price_words(pence / 100 / 1000, "g", "GBP", "uk") == f"{shown} per kg"


@pytest.mark.parametrize(
    ("dollars", "shown"),
    [
        # NIST Handbook 130, uniform unit pricing regulation (from memory): whole cents, 0.5 up
        (4.104, "$4.10"),
        (4.105, "$4.11"),
        (0.855, "$0.86"),
        # under ten cents two figures of it: ours, so that spices and salt can be told apart
        (0.0234, "$0.023"),
        (0.000012, "$0.000012"),
    ],
)
def test_dollars_to_the_cent(dollars: float, shown: str) -> None:
    assert unit_price_words(dollars, "each", "USD", "us") == f"{shown} each"


def test_the_unit_of_a_weight_or_a_volume_is_one_kilogram_or_litre_or_pound_or_quart() -> None:
    # UK SI 2024/1055: one kg, one litre, or one item if sold by number; HB 130 section 2: lb, quart
    # 453.59237 g to the pound, 946.352946 ml to the quart (NIST Handbook 44, appendix C)
    assert unit_price_words(0.002, "ml", "GBP", "uk") == "£2.00 per litre"
    assert unit_price_words(0.01, "g", "USD", "us") == "$4.54 per lb"
    assert unit_price_words(0.01, "ml", "USD", "us") == "$9.46 per quart"
    assert unit_price_words(None, "g", "USD", "us") == "—"
