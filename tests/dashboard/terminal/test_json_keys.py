"""The table of JSON keys in the README names what the answers have, and nothing else."""

from __future__ import annotations

import re
import shutil
from collections.abc import Mapping
from dataclasses import fields
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from dashboard.terminal.demo import _json as demo_dish
from ingest.offices.suggest import Suggested, Suggestion
from ingest.tray.listing import Proposed, WaitingWords
from pricing.ahead import records as outlook
from pricing.ahead.back_test import BackTest, Horizon
from pricing.bench import records as bench
from pricing.book import fetched
from pricing.book.connect import Book, writing
from pricing.change import drivers
from pricing.change import records as change
from pricing.change.compare import compare
from pricing.change.price_parts import PriceParts
from pricing.change.recipe_parts import RecipeParts
from pricing.change.what_if import DishIf, PriceChange, WhatIf
from pricing.contents.printed import list_printed
from pricing.contents.series import SeriesFacts
from pricing.dishes.allergens import AllergensChanged, AllergensOfDish
from pricing.dishes.amount import AmountAtTarget
from pricing.dishes.cost import DishCost
from pricing.dishes.drift import DishDrift, Drift, DriftPoint
from pricing.dishes.on_a_day import DishesOnADay, DishOnDay, Settled
from pricing.inflation import matched_products
from pricing.inflation import records as inflation
from pricing.prices import packs_changed
from pricing.prices.bridge_check import BridgeCheck
from pricing.prices.bridge_error import CostBand, GapErrors
from pricing.prices.evidence import SeenPrice
from pricing.prices.price_line import CostLine
from pricing.prices.swings import Swing
from pricing.printed import records as printed
from pricing.printed.gaps import Gap
from pricing.printed.publish import Recorded
from pricing.printed.said_and_known import AsCosted, LineSaid, SaidAndKnown
from pricing.reprint import records as reprint
from pricing.season import season
from pricing.series.link import Linked
from pricing.series.rebase import Rebased
from pricing.swaps import of_catalogue as swap_catalogue
from pricing.swaps import records as swaps
from pricing.swaps import target as swap_target
from pricing.swaps.evidence import PriceEvidence
from pricing.till import records as till_records
from tests.dashboard.small_kitchen import FILES
from tests.ingest.invoices.documents import CREDIT_NOTE
from tests.kitchen import TODAY, load
from tests.terminal import answer

README = (Path(__file__).parents[3] / "README.md").read_text(encoding="utf-8")
TABLE = README.partition("\n## JSON answers\n")[2]
ROWS = dict(re.findall(r"^\| (`[^|]+) \| ([^|]+) \|$", TABLE, re.M))

ANSWERS = {  # rows whose keys are the fields of a record
    "`cost`": DishCost,
    "`cost` lines[]": CostLine,
    "`cost` of several dishes": DishesOnADay,
    "`cost` settled[]": Settled,
    "`cost` dishes[]": DishOnDay,
    "`cost` allergens": AllergensOfDish,
    "`cost` observed[]": SeenPrice,
    "`cost` band": CostBand,
    "`drift`": Drift,
    "`drift` dishes[]": DishDrift,
    "`drift` points[]": DriftPoint,
    "`compare`": change.Comparison,
    "`compare` then, now": change.State,
    "`compare` corners": change.Corners,
    "`compare` left_out[]": change.LeftOut,
    "`compare` ingredients[]": change.IngredientChange,
    "`compare` price_parts": PriceParts,
    "`compare` recipe_parts": RecipeParts,
    "`compare` allergens": AllergensChanged,
    "`compare` rebased[]": change.OfficialFigure,
    "`compare` rebased_own": change.OwnBasket,
    "`rebase`": Rebased,
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
    "`outlook`": outlook.Outlook,
    "`outlook` ranges[]": outlook.Range,
    "`outlook` reach": outlook.Reach,
    "`outlook` series[]": outlook.LeansOn,
    "`outlook` rungs[]": outlook.Rung,
    "`outlook --check`": BackTest,
    "`outlook --check` horizons[]": Horizon,
    "`season`": season.Season,
    "`season` parts[], of a dish": season.SeasonPart,
    "`printed`": printed.CheckedFigures,
    "`printed` figures[]": printed.CheckedFigure,
    "`printed` gaps[]": Gap,
    "`publish`": Recorded,
    "`amount`": AmountAtTarget,
    "`reprint`": reprint.Reprint,
    "`reprint` check[]": reprint.PriceToCheck,
    "`reprint` dishes[]": reprint.DishToReprint,
    "`reprint` by_price[], by_recipe[]": reprint.Part,
    "`reprint` corrections[]": reprint.Correction,
    "`evidence` figures[]": SaidAndKnown,
    "`evidence` lines[]": LineSaid,
    "`evidence` said, known": AsCosted,
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
    "`bench`": bench.SideBySide,
    "`bench` columns[]": bench.BenchColumn,
    "`bench` minutes, minutes_waiting, energy_kwh, pots": bench.Stated,
    "`bench` marks": bench.Marks,
    "`bench` against_first": bench.Difference,
    "`tray` waiting[]": WaitingWords,
    "`tray` proposal": Proposed,
    "`index suggest` ingredients[]": Suggested,
    "`index suggest` suggestions[]": Suggestion,
    "`index link`": Linked,
    "`index check`": BridgeCheck,
    "`index check` own[], national[]": GapErrors,
}
RENAMED = {"from_month": "from", "to_month": "to"}  # in the JSON of inflation and rebase
UNTOLD = {  # remarks that go to stderr
    "`drift`": {"remarks"},
    "`drivers`": {"remarks"},
    "`inflation`": {"remarks"},
    "`index check`": {"remarks"},
}
MORE = {
    "`reprint` dishes[]": {"why", "stands"},
    "`drivers`": {"swings", "what_if"},
    "`drivers` packs_changed[]": {"size_relative", "sticker_relative", "unit_relative"},
}
ASKED: dict[str, tuple[tuple[str, ...], tuple[str | int, ...]]] = {  # the command, the way in
    "`report`": (("report", "--out", "report.md"), ()),
    "`card`": (("card", "barley bowl"), ()),
    "`card` lines[]": (("card", "barley bowl"), ("lines", 0)),
    "`evidence`": (("evidence", "barley bowl"), ()),
    "`evidence` evidence": (("evidence", "barley bowl"), ("figures", 0, "evidence")),
    "`load`, `price`, `swap`, `index load`": (("load", "prices", "good.csv", "none.csv"), ()),
    "`load` files[]": (("load", "prices", "bad.csv"), ("files", 0)),
    "`load` problems[]": (("load", "prices", "bad.csv"), ("files", 0, "problems", 0)),
    "`load` document": (("load", "prices", "invoice.xml", "--dry-run"), ("files", 0, "document")),
    "`load` document lines[]": (
        ("load", "prices", "invoice.xml", "--dry-run"),
        ("files", 0, "document", "lines", 0),
    ),
    "`tray`": (("tray",), ()),
    "`undo`": (("undo", "5"), ()),
    "`info`": (("info",), ()),
    "`info` settings": (("info",), ("settings",)),
    "`info` counts": (("info",), ("counts",)),
    "`info` loads[], last_load": (("info",), ("last_load",)),
    "`dishes`": (("dishes",), ()),
    "`dishes` dishes[]": (("dishes",), ("dishes", 0)),
    "`dishes` versions[]": (("dishes",), ("dishes", 0, "versions", 0)),
    "`ingredients`": (("ingredients",), ()),
    "`ingredients` ingredients[]": (("ingredients",), ("ingredients", 0)),
    "`prices`": (("prices", "leek"), ()),
    "`prices` observations[]": (("prices", "leek"), ("observations", 0)),
    "`check`": (("check",), ()),
    "`backup`": (("backup", "copy.duckdb"), ()),
    "`restore`": (("restore", "kept.duckdb", "--replace"), ()),
    "`export`": (("export", "out"), ()),
    "`weights`": (("weights", "leek"), ()),
    "`weights` facts": (("weights", "whole milk"), ("facts",)),
    "`weights` density_g_per_ml, grams_each, yield_pct, category": (
        ("weights", "whole milk"),
        ("facts", "density_g_per_ml"),
    ),
    "`weights` foods[]": (("weights", "leek"), ("foods", 0)),
    "`weights` measures[]": (("weights", "leek"), ("foods", 0, "measures", 0)),
    "`index list`": (("index", "list"), ()),
    "`index list` series[]": (("index", "list"), ("series", 0)),
    "`index show` ladder[]": (("index", "show", "own:OLD"), ("ladder", 0)),
    "`index show` values[]": (("index", "show", "own:OLD"), ("values", 0)),
    "`index show` revisions[]": (("index", "show", "own:OLD"), ("revisions", 0)),
    "`index show` link": (("index", "show", "linked:X"), ("link",)),
    "`index show` fetched[]": (("index", "show", "own:OLD"), ("fetched", 0)),
    "`index suggest`": (("index", "suggest"), ()),
}
ELSEWHERE = {  # by a test of their own below
    "`inflation` by_ingredient[]", "`init`", "`setting`", "`demo`", "`demo` dishes[]",
    "`index show`", "`index fetch`", "`index fetch` fetched[]",
}  # fmt: skip
INDEX = """
    series,month,value,released_on,title
    own:OLD,2026-01,100,2026-02-01,Food
    own:OLD,2026-02,102,2026-03-01,Food
    own:OLD,2026-02,103,2026-04-01,Food
    own:NEW,2026-02,100,2026-03-01,Food anew
    own:NEW,2026-03,101,2026-04-01,Food anew
"""

SENT = fetched.Fetched(
    office="own",
    url="https://office.example/food",
    fetched_at=datetime(2026, 3, 1, tzinfo=UTC),
    content=b"food",
)


def named(row: str) -> set[str]:
    """Return the keys that a row of the table names; what stands in brackets explains them."""
    return set(re.findall(r"`([^`]+)`", re.sub(r"\([^()]*\)", "", ROWS[row])))


def keys(value: Any) -> set[str]:
    assert isinstance(value, Mapping)
    return set(value)


def told(record: type, row: str) -> set[str]:
    """Return the keys of the JSON that is made of a record."""
    found = {RENAMED.get(each.name, each.name) for each in fields(record)}
    return (found - UNTOLD.get(row, set())) | MORE.get(row, set())


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small kitchen with a figure recorded, series released twice, linked and fetched."""
    path = tmp_path_factory.mktemp("keys") / "kitchen.duckdb"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PORTIONDRIFT_TODAY", TODAY.isoformat())
        found = answer("init", "--currency", "USD", "--json", book=path)
        assert keys(found) == named("`init`")
        book = Book(path=path)
        loads = [load(book, kind, text).load for kind, text in {**FILES, "index": INDEX}.items()]
        assert loads[-1] is not None
        with writing(book) as con:
            fetched.keep(con, loads[-1], [SENT])
        answer("publish", "barley bowl", "--on", "2026-11-24", "--json", book=path)
        answer("index", "link", "own:OLD", "own:NEW", "--over", "2026-02", "--as", "linked:X",
               "--json", book=path)  # fmt: skip
    return path


@pytest.fixture
def place(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the book, a copy of it, and files to load; commands run there."""
    for name in ("kitchen.duckdb", "kept.duckdb"):
        shutil.copyfile(made, tmp_path / name)
    header = "ingredient,date,price,currency,pack\n"
    (tmp_path / "good.csv").write_text(f"{header}leek,2026-11-20,2.50,USD,1 kg\n", "utf-8")
    (tmp_path / "bad.csv").write_text(f"{header}leek,2026-11-20,lots,USD,1 kg\n", "utf-8")
    (tmp_path / "invoice.xml").write_bytes(CREDIT_NOTE)
    monkeypatch.chdir(tmp_path)
    return tmp_path / "kitchen.duckdb"


def test_every_row_of_the_table_is_looked_at() -> None:
    assert set(ROWS) == set(ANSWERS) | set(ASKED) | ELSEWHERE
    assert len(ROWS) == len(ANSWERS) + len(ASKED) + len(ELSEWHERE)


@pytest.mark.parametrize("row", sorted(ANSWERS))
def test_every_key_of_a_record_is_in_the_table(row: str) -> None:
    assert named(row) == told(ANSWERS[row], row)


@pytest.mark.parametrize("row", sorted(ASKED))
def test_every_key_of_an_answer_is_in_the_table(row: str, place: Path) -> None:
    command, way = ASKED[row]
    status = 1 if "none.csv" in command or "bad.csv" in command else 0
    found: Any = answer(*command, "--json", book=place, status=status)
    for step in way:
        found = found[step]
    assert keys(found) == named(row)


def test_a_series_shown_has_the_keys_of_the_list_and_its_own(place: Path) -> None:
    found = answer("index", "show", "own:OLD", "--json", book=place)
    assert keys(found) - {each.name for each in fields(SeriesFacts)} == named("`index show`")
    last_two = {"office", "licence"}
    assert named("`index list` series[]") - keys(found) == last_two
    assert re.findall(r"`([^`]+)`", ROWS["`index list` series[]"])[-2:] == ["office", "licence"]


def test_an_ingredient_in_the_index_has_the_keys_of_a_group_and_its_own() -> None:
    more = {each.name for each in fields(inflation.IngredientIndex)} - {
        each.name for each in fields(inflation.GroupIndex)
    }
    assert named("`inflation` by_ingredient[]") == more


def test_what_an_office_sent() -> None:
    assert keys(SENT.as_json()) == named("`index fetch` fetched[]")
    assert named("`index fetch`") == {"fetched"}


def test_a_setting_answers_with_its_own_name(place: Path) -> None:
    assert answer("setting", "fresh_days", "30", "--json", book=place) == {"fresh_days": "30"}
    assert named("`setting`") == set()


def test_the_dishes_of_the_demo(made: Path) -> None:
    book = Book(path=made)
    figure = list_printed(book)[0]
    found = demo_dish(figure, compare(book, "barley bowl", then=figure.costed_on, now=TODAY))
    assert keys(found) == named("`demo` dishes[]")
    assert named("`demo`") == {"book", "dishes"}
