"""Every price of the demo kitchen is the slow rule's, on days with news and without."""

from __future__ import annotations

from datetime import date

import pytest

from pricing.book.connect import Book, reading
from pricing.book.read import read_settings
from pricing.prices.rule import Rule, ask_cross, grid_rows
from tests.dashboard.demo.by_oracle import prices
from tests.kitchen import TODAY


@pytest.mark.parametrize("day", [date(2012, 6, 15), date(2014, 11, 13), date(2019, 3, 1), TODAY])
def test_prices_of_the_demo_by_the_slow_rule(demo: Book, day: date) -> None:
    with reading(demo) as con:
        names = dict(con.execute("SELECT ingredient_id, name FROM ingredient_now").fetchall())
        rows = grid_rows(con, Rule.of(read_settings(con)), ask_cross(names, [day]))
    assert len(rows) == len(names) > 100
    by_oracle = prices(demo, names.values(), day)
    for row in rows:
        want = by_oracle[names[row["ingredient_id"]]]
        assert row["basis"] == want.basis, row
        if want.unit_price is None:
            assert row["unit_price"] is None
            continue
        assert row["unit_price"] == pytest.approx(want.unit_price, rel=1e-9), row
        assert row["moved_share"] == pytest.approx(want.moved_share, abs=1e-9), row
    assert {each.basis for each in by_oracle.values()} == {"observed", "bridged", "missing"}
