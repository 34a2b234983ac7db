"""What is said beside a driver: the whole title of its series, without the place."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pricing
from dashboard.words.drivers import driver_remark
from tests.kitchen import make_book


def test_the_title_of_a_series_is_not_cut_at_its_first_comma(tmp_path: Path) -> None:
    book = make_book(
        tmp_path,
        {
            "ingredients": "ingredient,base,series\nrice noodles,g,us-bls:SEFA03",
            "prices": """
                ingredient,date,price,currency,pack
                rice noodles,2020-01-10,2.00,USD,1 kg
                rice noodles,2021-01-10,6.00,USD,1 kg
            """,
            "dishes": """
                dish,version,effective_from,portions,ingredient,quantity,unit
                bowl,1,2019-01-01,1,rice noodles,100,g
            """,
        },
        series=("us-bls:SEFA03",),
    )
    found = pricing.rank_drivers(book, then=date(2020, 1, 15), now=date(2021, 1, 15))
    (driver,) = found.ingredients
    assert driver_remark(driver).endswith(" points more than Rice, pasta, cornmeal")
    meat = replace(driver, series_title="Meat (excluding poultry), Canada")
    assert driver_remark(meat).endswith(" points more than Meat (excluding poultry)")
