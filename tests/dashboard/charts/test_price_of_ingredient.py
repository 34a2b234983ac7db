"""The chart of a price: suppliers by shape, offers hollow, lines by dash."""

from __future__ import annotations

from typing import Any

import pandas as pd

from dashboard.charts.colours import EACH, paper
from dashboard.charts.price_of_ingredient import price_chart
from dashboard.words.states import TYPICAL_MOVED, TYPICAL_SEEN
from tests.dashboard.charts.drawn import layers, rows


def history(**offers: bool) -> dict[str, Any]:
    seen = pd.DataFrame(
        {
            "on": pd.date_range("2020-01-10", periods=len(offers), freq=pd.DateOffset(months=1)),
            "price": 2.0,
            "supplier": [name.replace("_", " ") for name in offers],
            "offer": list(offers.values()),
            "kind": ["offer" if offer else "shelf" for offer in offers.values()],
            "shown": "$2.00 per kg",
            "day": "",
            "pack": "$2.00 for 1 kg",
        }
    )
    days = pd.date_range("2020-01-15", periods=3, freq=pd.DateOffset(months=1))
    typical = pd.DataFrame(
        {
            "month": days.strftime("%Y-%m-%d"), "on": days, "price": 2.0,
            "state": [TYPICAL_SEEN, TYPICAL_SEEN, TYPICAL_MOVED], "version": "",
            "shown": "", "day": "",
        }
    )  # fmt: skip
    official = pd.DataFrame({"on": days, "price": [1.9, 2.0, 2.1]})
    return price_chart(seen, typical, official, currency="USD", unit="per kg").to_dict()


def test_prices_seen_are_points_by_supplier_and_offers_are_hollow() -> None:
    spec = history(Quay_Market=False, Salt_Lane=True)
    full, hole = layers(spec, "point")
    assert full["encoding"]["fill"]["scale"]["domain"] == ["Quay Market", "Salt Lane"]
    shapes = full["encoding"]["shape"]["scale"]["range"]
    assert len(set(shapes)) == len(shapes) == 2
    assert hole["mark"]["color"] == paper(dark=False)
    assert [row["supplier"] for row in rows(spec, hole)] == ["Salt Lane"]
    assert full["encoding"]["y"]["title"] == "Price per kg, USD"


def test_the_official_series_and_the_typical_price_have_dashes_of_their_own() -> None:
    (line,) = layers(history(Quay_Market=False), "line")
    dashes = line["encoding"]["strokeDash"]["scale"]["range"]
    assert len({tuple(dash) for dash in dashes}) == len(dashes) == 3


def test_more_suppliers_than_shapes_share_the_last_one() -> None:
    spec = history(**{f"shop_{letter}": False for letter in "abcdefgh"})
    (full,) = layers(spec, "point")
    domain = full["encoding"]["shape"]["scale"]["domain"]
    assert len(domain) == len(EACH)
    assert domain[-1] == "other suppliers"
