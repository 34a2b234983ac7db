"""The table of JSON keys in DEVELOPERS.md names what the answers have, and nothing else."""

from __future__ import annotations

import re
from dataclasses import fields
from pathlib import Path

import pytest

from pricing.change import drivers
from pricing.change import records as change
from pricing.change.price_parts import PriceParts
from pricing.change.recipe_parts import RecipeParts
from pricing.change.what_if import DishIf, PriceChange, WhatIf
from pricing.inflation import matched_products
from pricing.inflation import records as inflation
from pricing.prices import packs_changed
from pricing.prices.swings import Swing
from pricing.printed import check as claims
from pricing.printed.gaps import Gap
from pricing.printed.publish import Recorded
from pricing.printed.said_and_known import AsCosted, LineSaid, SaidAndKnown
from pricing.season import season
from pricing.swaps import of_catalogue as swap_catalogue
from pricing.swaps import records as swaps
from pricing.swaps import target as swap_target
from pricing.swaps.evidence import PriceEvidence
from pricing.till import records as till_records

TEXT = (Path(__file__).parents[3] / "DEVELOPERS.md").read_text(encoding="utf-8")
ROWS = {
    first: keys
    for first, keys in re.findall(r"^\| (`[a-z]+`[^|]*) \| ([^|]*) \|$", TEXT, re.M)
    if "Files" not in first
}
ANSWERS = {
    "`compare`": change.Comparison,
    "`compare` then, now": change.State,
    "`compare` corners": change.Corners,
    "`compare` left_out[]": change.LeftOut,
    "`compare` ingredients[]": change.IngredientChange,
    "`compare` price_parts": PriceParts,
    "`compare` recipe_parts": RecipeParts,
    "`compare` rebased[]": change.OfficialFigure,
    "`compare` rebased_own": change.OwnBasket,
    "`drivers`": drivers.Drivers,
    "`drivers` ingredients[]": drivers.Driver,
    "`drivers` left_out[]": drivers.LeftOutOf,
    "`drivers` packs_changed[]": packs_changed.PackChange,
    "`drivers` swings[]": Swing,
    "`drivers` what_if": WhatIf,
    "`drivers` what_if changes[]": PriceChange,
    "`drivers` what_if dishes[]": DishIf,
    "`inflation`": inflation.Inflation,
    "`inflation` months[]": inflation.MonthIndex,
    "`inflation` by_category[], by_group[], by_dish[]": inflation.GroupIndex,
    "`inflation` matched": matched_products.Matched,
    "`inflation` left_out[]": inflation.LeftOut,
    "`season`": season.Season,
    "`season` parts[], of a dish": season.SeasonPart,
    "`claims`": claims.Claims,
    "`claims` claims[]": claims.ClaimCheck,
    "`claims` gaps[]": Gap,
    "`publish`": Recorded,
    "`swaps`": swaps.Swaps,
    "`swaps` swaps[]": swaps.SwapChoice,
    "`swaps` price, substitute_price": PriceEvidence,
    "`swaps` target": swap_target.SwapTarget,
    "`swaps` chosen[]": swap_target.ChosenSwap,
    "`swaps` in_the_way[]": swap_target.InTheWay,
    "`swaps` frontier[]": swap_target.FrontierPoint,
    "`swaps` without a dish": swap_catalogue.CatalogueSwaps,
    "`swaps` swaps[] over all dishes": swap_catalogue.CatalogueSwap,
    "`swaps` over_target[]": swap_catalogue.OverTarget,
    "`till`": till_records.Till,
    "`till` dishes[]": till_records.ShopDish,
    "`till` ingredients[]": till_records.ItemBought,
    "`till` packs[]": till_records.PackBought,
    "`till` not_counted[]": till_records.PantryItem,
    "`evidence` claims[]": SaidAndKnown,
    "`evidence` lines[]": LineSaid,
    "`evidence` said, known": AsCosted,
}
WORDS = {
    "`drivers`": {"--monthly", "--what-if"},
    "`season`": {"official", "own", "mixed"},
    "`drivers` packs_changed[]": {"base"},
}
RENAMED = {"from_month": "from", "to_month": "to"}  # in the JSON of inflation
UNTOLD = {"remarks"}  # they go to stderr
MORE = {"`drivers` packs_changed[]": {"size_relative", "sticker_relative", "unit_relative"}}


@pytest.mark.parametrize("answer", sorted(ANSWERS))
def test_every_key_is_in_the_table(answer: str) -> None:
    held = {RENAMED.get(each.name, each.name) for each in fields(ANSWERS[answer])} - UNTOLD
    held |= MORE.get(answer, set())
    named = set(re.findall(r"`([^`]+)`", ROWS[answer]))
    assert named - WORDS.get(answer, set()) | (named & held) == held


def test_the_rest_of_the_keys_of_an_ingredient_in_the_index() -> None:
    more = {each.name for each in fields(inflation.IngredientIndex)} - {
        each.name for each in fields(inflation.GroupIndex)
    }
    assert set(re.findall(r"`([^`]+)`", ROWS["`inflation` by_ingredient[]"])) == more
