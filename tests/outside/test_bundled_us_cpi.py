"""Holds the bundled US series against what BLS published, and against the package they come from.

Sources are named beside the numbers. "Public copy" means the BLS figure was read in someone
else's copy of a BLS table, "from memory" that it was not looked up.
"""

from __future__ import annotations

import importlib
import importlib.metadata
import importlib.util
import os
import random
import re
import sqlite3
import statistics
import warnings
import zipfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ingest.official import bundled, make_us_cpi
from tests.loops import rounds

SERIES = {each.series: each for each in bundled.bundled_series()}
VALUES: dict[str, dict[date, float]] = {}
for _series, _month, _value in zip(*bundled.bundled_values(), strict=True):
    VALUES.setdefault(_series, {})[_month] = _value

MADE_FROM = "2.1.0"  # the version of the package cpi that the extract was made from


def us(item: str) -> str:
    return f"us-bls:{item}"


def ladder(series: str) -> list[str]:
    """Return the series above, nearest first; stop after 20 so that a cycle cannot hang a test."""
    chain: list[str] = []
    above = SERIES[series].parent
    while above is not None and len(chain) < 20:
        chain.append(above)
        above = SERIES[above].parent
    return chain


# --- shape ---------------------------------------------------------------------------------------


def test_columns_are_ordered_by_series_and_month_without_repeats() -> None:
    series, months, values = bundled.bundled_values()
    keys = list(zip(series, months, strict=True))
    assert keys == sorted(set(keys))
    assert len(values) == len(keys) == 83_574  # rows M01 to M12 counted in the wheel by SQL


def test_every_series_has_values_and_every_value_a_series() -> None:
    assert VALUES.keys() == SERIES.keys()
    assert len(SERIES) == 134  # cu.item, sort sequence 3 to 135, and all items


def test_months_are_first_days_and_end_in_august_2026() -> None:
    months = {month for of_series in VALUES.values() for month in of_series}
    assert {month.day for month in months} == {1}
    assert min(months) == date(1913, 1, 1)
    assert max(months) == date(2026, 8, 1)


def test_october_2025_is_absent_everywhere() -> None:
    # BLS footnote X: "Data unavailable due to the 2025 lapse in appropriations".
    held = {date(2025, 9, 1), date(2025, 11, 1)}
    assert all(date(2025, 10, 1) not in of_series for of_series in VALUES.values())
    assert held <= VALUES[us("SA0")].keys()


def test_every_value_is_positive() -> None:
    assert min(value for of_series in VALUES.values() for value in of_series.values()) > 0


def test_first_and_last_month_of_the_series_table_are_those_of_the_values() -> None:
    lines = make_us_cpi.data_lines(make_us_cpi.HERE / "us_cpi_series.csv")
    stated = {row.split(",")[0]: tuple(row.split(",")[-2:]) for row in lines[1:]}
    held = {s: (f"{min(of):%Y-%m}", f"{max(of):%Y-%m}") for s, of in VALUES.items()}
    assert stated == held


def test_the_two_lamb_series_stay_and_end_in_2017() -> None:
    assert max(VALUES[us("SS05015")]) == date(2017, 4, 1)
    assert max(VALUES[us("SS05014")]) == date(2017, 8, 1)


def test_values_are_printed_with_the_decimals_of_their_time() -> None:
    lines = make_us_cpi.data_lines(make_us_cpi.HERE / "us_cpi_values.csv")
    for line in lines[1:]:
        month, *cells = line.split(",")
        form = r"\d+\.\d{3}" if month >= "2007-01" else r"\d+\.\d"
        assert all(re.fullmatch(form, cell) for cell in cells if cell), month


def test_both_tables_stay_small_enough_to_read_as_text() -> None:
    assert (make_us_cpi.HERE / "us_cpi_values.csv").stat().st_size < 1_200_000


def test_none_is_seasonally_adjusted_and_all_carry_their_classification() -> None:
    assert not any(each.seasonally_adjusted for each in SERIES.values())
    assert {each.classification for each in SERIES.values()} == {make_us_cpi.CLASSIFICATION}


def test_titles_read_as_evidence() -> None:
    assert SERIES[us("SEFH")].title == "Eggs, US city average"
    assert all(each.title.endswith(", US city average") for each in SERIES.values())


# --- ladder --------------------------------------------------------------------------------------


def test_only_all_items_has_no_parent_and_every_parent_exists() -> None:
    assert [each.series for each in SERIES.values() if each.parent is None] == [us("SA0")]
    assert {each.parent for each in SERIES.values()} - {None} <= SERIES.keys()


def test_every_ladder_ends_at_all_items_without_a_cycle() -> None:
    for series in SERIES.keys() - {us("SA0")}:
        chain = ladder(series)
        assert chain[-1] == us("SA0"), series
        assert len(set(chain)) == len(chain)
        assert series not in chain


def test_a_parent_stands_before_its_children() -> None:
    order = list(SERIES)
    for each in SERIES.values():
        assert each.parent is None or order.index(each.parent) < order.index(each.series)


def test_butter_climbs_to_all_items() -> None:
    steps = "SEFS01 SEFS SAF115 SAF11 SAF1 SAF SA0"
    assert ladder(us("SS10011")) == [us(item) for item in steps.split()]


def test_alcohol_is_beside_food_not_under_it() -> None:
    assert ladder(us("SEFW03")) == [us(item) for item in ("SEFW", "SAF116", "SAF", "SA0")]


def test_every_ladder_gets_wider_in_time_before_it_ends() -> None:
    # The last rung serves any month the item has; and no current item has a parent that ended.
    for series, values in VALUES.items():
        parent = SERIES[series].parent
        if parent is not None:
            assert max(VALUES[parent]) >= max(values)
            assert min(min(VALUES[above]) for above in ladder(series)) <= min(values)


# BLS, file cu.item: item code and display_level in the order of sort_sequence (1, then 3 to 135),
# read in a public copy. All items and the major groups both stand at level 0.
CU_ITEM = """
SA0 0 SAF 0 SAF1 1 SAF11 2 SAF111 3 SEFA 4 SEFA01 5 SEFA02 5 SEFA03 5 SS01031 6 SEFB 4 SEFB01 5
SS02011 6 SS02021 6 SEFB02 5 SEFB03 5 SS02041 6 SS02042 6 SEFB04 5 SS02063 6 SS0206A 6 SS0206B 6
SAF112 3 SAF1121 4 SAF11211 5 SEFC 6 SEFC01 7 SEFC02 7 SEFC03 7 SEFC04 7 SEFD 6 SEFD01 7 SS04011 8
SS04012 8 SEFD02 7 SS04031 8 SEFD03 7 SEFD04 7 SEFE 6 SS05011 7 SS0501A 7 SS05014 7 SS05015 7
SEFF 6 SEFF01 7 SS06011 7 SS06021 7 SEFF02 6 SEFG 5 SEFG01 6 SEFG02 6 SS07011 7 SS07021 7 SEFH 4
SEFJ 3 SEFJ01 4 SS09011 5 SS09021 5 SEFJ02 4 SEFJ03 4 SEFJ04 4 SAF113 3 SAF1131 4 SEFK 5 SEFK01 6
SEFK02 6 SEFK03 6 SS11031 7 SEFK04 6 SEFL 5 SEFL01 6 SEFL02 6 SEFL03 6 SEFL04 6 SEFM 4 SEFM01 5
SS13031 6 SS14021 6 SEFM02 5 SS14011 6 SEFM03 5 SS14022 6 SAF114 3 SEFN 4 SEFN01 5 SEFN02 5
SEFN03 5 SEFP 4 SEFP01 5 SS17031 6 SS17032 6 SEFP02 5 SAF115 3 SEFR 4 SEFR01 5 SEFR02 5 SEFR03 5
SEFS 4 SEFS01 5 SS10011 6 SS16011 6 SEFS02 5 SEFS03 5 SS16014 6 SEFT 4 SEFT01 5 SEFT02 5 SEFT03 5
SEFT04 5 SS18041 6 SS18042 6 SS18043 6 SS1804B 6 SEFT05 5 SEFT06 5 SS18064 6 SEFV 2 SEFV01 3
SEFV02 3 SEFV03 3 SSFV031A 3 SEFV04 3 SEFV05 3 SAF116 2 SEFW 3 SEFW01 4 SEFW02 4 SS20021 5 SS20022 5
SEFW03 4 SEFX 3 SS20051 4 SS20052 4 SS20053 4
"""

# Rows that cu.item shows one level off. Poultry and alcohol: the weights below decide. Whole
# chicken and chicken parts belong to Chicken, school meals to Food at employee sites and schools,
# by their titles.
ONE_LEVEL_OFF = {
    "SEFF": "SAF1121",
    "SEFF02": "SEFF",
    "SS06011": "SEFF01",
    "SS06021": "SEFF01",
    "SSFV031A": "SEFV03",
    "SAF116": "SAF",
}


def test_the_ladder_follows_the_display_levels_of_bls() -> None:
    words = CU_ITEM.split()
    rows = [(item, int(level)) for item, level in zip(words[::2], words[1::2], strict=True)]
    expected: dict[str, str | None] = {"SA0": None}
    path = [("SA0", -1)]  # one below the major groups, so that they hang from it
    for item, level in rows[1:]:
        while path[-1][1] >= level:
            path.pop()
        expected[item] = path[-1][0]
        path.append((item, level))

    assert [us(item) for item, _ in rows] == list(SERIES)
    differing = {
        item
        for item, parent in expected.items()
        if SERIES[us(item)].parent != (parent and us(parent))
    }
    assert differing == ONE_LEVEL_OFF.keys()
    for item, parent in ONE_LEVEL_OFF.items():
        assert SERIES[us(item)].parent == us(parent)


def test_the_ladder_table_says_which_rows_the_display_levels_do_not_settle() -> None:
    lines = make_us_cpi.data_lines(make_us_cpi.HERE / "us_cpi_ladder.csv")
    known_by = dict(line.split(",")[::2] for line in lines[1:])
    assert known_by.pop("SA0") == "top"
    unsettled = {item for item, how in known_by.items() if how in ("weights", "title")}
    assert unsettled == ONE_LEVEL_OFF.keys()
    assert {known_by[item] for item in known_by.keys() - unsettled} == {"order"}


# BLS, relative importance of components, CPI-U, U.S. city average, percent of all items.
# (a) December 2022, bls.gov/cpi/tables/relative-importance/old-weights-2022.htm, as far as seen.
WEIGHTS_2022 = """
SAF1 13.867 SAF111 1.123 SEFA 0.360 SEFA01 0.059 SEFA02 0.151 SEFA03 0.150 SEFB 0.763 SEFB01 0.216
SEFB02 0.116 SEFB03 0.188 SEFB04 0.243 SAF112 1.910 SAF1121 1.746 SAF11211 1.099 SEFC 0.497
SEFC01 0.183 SEFC02 0.074 SEFC03 0.192 SEFC04 0.048 SEFD 0.347 SEFD01 0.155 SEFD02 0.062
SEFD03 0.051 SEFD04 0.080 SEFE 0.254 SEFF 0.362 SEFF01 0.293 SEFF02 0.069 SEFG 0.285 SEFG01 0.143
SEFG02 0.142 SEFH 0.164
"""
# (b) December 2020 (the month from memory), public copy of the whole table.
WEIGHTS_2020 = """
SAF 15.157 SAF1 14.119 SAF11 7.772 SAF111 1.001 SEFA 0.308 SEFA01 0.041 SEFA02 0.142 SEFA03 0.124
SEFB 0.693 SEFB01 0.200 SEFB02 0.101 SEFB03 0.178 SEFB04 0.214 SAF112 1.736 SAF1121 1.637
SAF11211 1.026 SEFC 0.471 SEFC01 0.173 SEFC02 0.073 SEFC03 0.180 SEFC04 0.044 SEFD 0.322
SEFD01 0.134 SEFD02 0.062 SEFD03 0.052 SEFD04 0.075 SEFE 0.233 SEFF 0.333 SEFF01 0.273 SEFF02 0.060
SEFG 0.278 SEFG01 0.140 SEFG02 0.138 SEFH 0.099 SEFJ 0.792 SEFJ01 0.218 SEFJ02 0.266 SEFJ03 0.111
SEFJ04 0.197 SAF113 1.341 SAF1131 1.053 SEFK 0.538 SEFK01 0.073 SEFK02 0.074 SEFK03 0.136
SEFK04 0.254 SEFL 0.516 SEFL01 0.075 SEFL02 0.068 SEFL03 0.082 SEFL04 0.290 SEFM 0.288 SEFM01 0.150
SEFM02 0.086 SEFM03 0.052 SAF114 0.930 SEFN 0.666 SEFN01 0.278 SEFN02 0.006 SEFN03 0.382 SEFP 0.264
SEFP01 0.169 SEFP02 0.095 SAF115 1.972 SEFR 0.270 SEFR01 0.037 SEFR02 0.180 SEFR03 0.053 SEFS 0.212
SEFS01 0.063 SEFS02 0.051 SEFS03 0.098 SEFT 1.489 SEFT01 0.089 SEFT02 0.259 SEFT03 0.340
SEFT04 0.290 SEFT05 0.042 SEFT06 0.469 SEFV 6.347 SEFV01 3.176 SEFV02 2.787 SEFV03 0.130
SEFV04 0.080 SEFV05 0.174 SAF116 1.038 SEFW 0.580 SEFW01 0.223 SEFW02 0.094 SEFW03 0.263 SEFX 0.458
"""


@pytest.mark.parametrize(
    ("table", "families"), [(WEIGHTS_2022, 10), (WEIGHTS_2020, 29)], ids=["2022", "2020"]
)
def test_published_weights_add_up_along_the_ladder(table: str, families: int) -> None:
    words = table.split()
    weights = {
        us(item): float(weight) for item, weight in zip(words[::2], words[1::2], strict=True)
    }
    children: dict[str, list[str]] = {}
    for series, each in SERIES.items():
        if each.parent is not None:
            children.setdefault(each.parent, []).append(series)
    checked = 0
    for parent, below in children.items():
        if parent in weights and all(child in weights for child in below):
            # Each printed weight is rounded to 0.001: half a unit each, the parent's included.
            slack = 0.0005 * (len(below) + 1) + 1e-9
            assert sum(weights[c] for c in below) == pytest.approx(weights[parent], abs=slack), (
                parent
            )
            checked += 1
    assert checked == families


# --- published values ----------------------------------------------------------------------------

# BLS, CPI release for July 2001, table 1, unadjusted indexes of June and July 2001 (public copy).
TABLE_1_JULY_2001 = {
    "SA0": (178.0, 177.5),
    "SAF": (173.4, 174.0),
    "SAF1": (173.0, 173.5),
    "SAF11": (173.3, 173.9),
    "SAF111": (194.2, 194.9),
    "SAF112": (161.7, 162.3),
    "SEFJ": (166.9, 168.3),
    "SAF113": (211.8, 210.7),
    "SAF114": (138.6, 138.9),
    "SAF115": (159.5, 160.4),
    "SEFR": (155.7, 156.1),
    "SEFS": (156.7, 157.8),
}


@pytest.mark.parametrize("item", TABLE_1_JULY_2001)
def test_table_1_of_july_2001(item: str) -> None:
    held = VALUES[us(item)]
    assert (held[date(2001, 6, 1)], held[date(2001, 7, 1)]) == TABLE_1_JULY_2001[item]


# BLS series CUUR0000SAF11 and CUUR0000SEFV, monthly values in a public copy of early 2026, which
# has no October 2025 either.
MONTHLY = {
    "SAF11": {
        "2026-03": 318.755,
        "2026-01": 317.431,
        "2025-12": 315.664,
        "2025-11": 313.954,
        "2025-09": 316.042,
        "2025-03": 312.815,
        "2024-10": 308.200,
        "2023-06": 302.335,
        "2022-08": 295.007,
        "2022-01": 270.711,
        "2021-03": 253.231,
    },
    "SEFV": {
        "2026-03": 392.652,
        "2026-01": 390.471,
        "2025-12": 389.889,
        "2025-11": 387.202,
        "2025-09": 385.451,
        "2025-03": 378.363,
        "2024-10": 372.486,
        "2023-06": 354.245,
        "2022-08": 334.212,
        "2022-01": 319.471,
        "2021-03": 300.897,
    },
    # BLS flat file cu.data.11.USFoodBeverage, row CUUR0000SAF1 2026 M08.
    "SAF1": {"2026-08": 350.418},
    "SA0": {
        "2016-04": 239.261,  # BLS, Math calculations to better utilize CPI data
        "2022-01": 281.148,  # BLS figure quoted in the press, Dayton Daily News, 2022
        "2007-01": 202.416,  # from memory, as is the next
        "2006-12": 201.8,
        "1913-01": 9.8,  # from memory
    },
}


@pytest.mark.parametrize(
    ("item", "month", "value"),
    [(item, month, value) for item, of in MONTHLY.items() for month, value in of.items()],
)
def test_published_month(item: str, month: str, value: float) -> None:
    assert VALUES[us(item)][date.fromisoformat(f"{month}-01")] == value


def test_may_2016_is_the_corrected_figure() -> None:
    # BLS's worked example prints 240.236 for May 2016 and a rise of 0.4 % on April's 239.261. In
    # October 2016 BLS corrected all items for May to August 2016, after wrong prices of
    # prescription drugs (bls.gov/bls/errata/cpi-price-corrections-10182016.htm). The database
    # holds the corrected figure, a hair lower; the rise is still 0.4 %.
    april, may = (VALUES[us("SA0")][date(2016, month, 1)] for month in (4, 5))
    assert 0 < 240.236 - may < 0.01
    assert round(100 * (may / april - 1), 1) == round(100 * (240.236 / 239.261 - 1), 1) == 0.4


# BLS heads its tables "1982-84=100, unless otherwise noted"; the notes give December 1997 = 100
# for the items that the 1998 revision brought. Prepared salads (December 2007) and school meals
# (December 2005) are younger.
BASE_MONTH = {us("SS18064"): date(2007, 12, 1), us("SSFV031A"): date(2005, 12, 1)}


@pytest.mark.parametrize("series", SERIES)
def test_each_series_is_100_in_its_base_period(series: str) -> None:
    values = VALUES[series]
    base = [value for month, value in values.items() if 1982 <= month.year <= 1984]
    if base:
        assert len(base) == 36
        assert statistics.fmean(base) == pytest.approx(100, abs=0.06)  # printed to 0.1
    else:
        assert min(values) == BASE_MONTH.get(series, date(1997, 12, 1))
        assert values[min(values)] == 100


# --- the package it was made from ----------------------------------------------------------------


@pytest.fixture(scope="module")
def database(tmp_path_factory: pytest.TempPathFactory) -> Iterator[sqlite3.Connection]:
    """The database of the package cpi, out of a wheel or an installed package, never imported."""
    named = os.environ.get("PORTIONDRIFT_CPI_WHEEL")
    if named:
        with zipfile.ZipFile(named) as wheel:
            (metadata,) = (n for n in wheel.namelist() if n.endswith(".dist-info/METADATA"))
            text = wheel.read(metadata).decode()
            path = Path(wheel.extract("cpi/cpi.db", tmp_path_factory.mktemp("cpi")))
        version = next(line[9:] for line in text.splitlines() if line.startswith("Version: "))
    else:
        spec = importlib.util.find_spec("cpi")
        if spec is None or spec.origin is None:
            pytest.skip(
                "the package cpi is not installed and PORTIONDRIFT_CPI_WHEEL names no wheel"
            )
        path = Path(spec.origin).with_name("cpi.db")
        version = importlib.metadata.version("cpi")
    if version != MADE_FROM:
        pytest.skip(f"the extract was made from cpi {MADE_FROM}; found {version}")
    connection = sqlite3.connect(path)
    yield connection
    connection.close()


@pytest.mark.wheel
def test_the_extract_equals_the_database_cell_by_cell(database: sqlite3.Connection) -> None:
    rows = database.execute(
        "SELECT series, year, period, value FROM indexes"
        " WHERE series LIKE 'CUUR0000%' AND length(period) = 3"
    ).fetchall()
    monthly = {f"M{number:02}": number for number in range(1, 13)}
    theirs = {
        (us(series.removeprefix("CUUR0000")), date(year, monthly[period], 1)): value
        for series, year, period, value in rows
        if period in monthly and us(series.removeprefix("CUUR0000")) in SERIES
    }
    ours = {(series, month): value for series, of in VALUES.items() for month, value in of.items()}
    assert ours == theirs


@pytest.mark.wheel
def test_no_food_or_drink_series_was_left_out(database: sqlite3.Connection) -> None:
    # BLS's order: all items is 1, the food and beverages branch 3 to 135, housing starts at 136.
    codes = {
        code
        for (code,) in database.execute("SELECT items FROM series WHERE id LIKE 'CUUR0000%'")
        if re.match(r"SAF|SEF|SSF|SS[01]|SS20", code)
    }
    assert {us(code) for code in codes} | {us("SA0")} == SERIES.keys()


@pytest.mark.wheel
def test_the_titles_are_those_of_the_database(database: sqlite3.Connection) -> None:
    names = dict(database.execute("SELECT id, name FROM items").fetchall())
    for series, each in SERIES.items():
        assert each.title == f"{names[series.removeprefix('us-bls:')]}, US city average"


@pytest.mark.wheel
def test_annual_averages_of_the_office_are_the_means_of_our_months(
    database: sqlite3.Connection,
) -> None:
    # BLS publishes the annual average as M13, the mean of the year's months; in 2025 of eleven. A
    # year with another month withheld is left out: BLS averages the withheld month too.
    rows = database.execute(
        "SELECT series, year, value FROM indexes"
        " WHERE period = 'M13' AND year >= 2007 AND series LIKE 'CUUR0000%'"
    ).fetchall()
    compared = 0
    for series, year, annual in rows:
        months = VALUES.get(us(series.removeprefix("CUUR0000")), {})
        held = [value for month, value in months.items() if month.year == year]
        if len(held) == (11 if year == 2025 else 12):
            assert statistics.fmean(held) == pytest.approx(annual, abs=0.001)
            compared += 1
    assert compared > 2_000


@pytest.mark.wheel
def test_500_random_ratios_equal_those_of_the_package() -> None:
    if importlib.util.find_spec("cpi") is None:
        pytest.skip("the package cpi is not installed")
    if importlib.metadata.version("cpi") != MADE_FROM:
        pytest.skip(f"the extract was made from cpi {MADE_FROM}; another is installed")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it warns that its data are some months old
        cpi = importlib.import_module("cpi")
    draw = random.Random(19130101)
    for _ in range(rounds(500)):
        series = draw.choice(list(SERIES))
        then, now = draw.choices(list(VALUES[series]), k=2)
        ours = VALUES[series][now] / VALUES[series][then]
        bls_id = "CUUR0000" + series.removeprefix("us-bls:")
        theirs = cpi.inflate(1.0, then, to=now, series_id=bls_id)
        assert ours == pytest.approx(theirs, rel=1e-12), (series, then, now)


@pytest.mark.wheel
def test_the_script_writes_the_tracked_tables_again(tmp_path: Path) -> None:
    named = os.environ.get("PORTIONDRIFT_CPI_WHEEL")
    if not named:
        pytest.skip("PORTIONDRIFT_CPI_WHEEL names no wheel")
    make_us_cpi.make(Path(named), tmp_path)
    for name in ("us_cpi_series.csv", "us_cpi_values.csv"):
        assert (tmp_path / name).read_bytes() == (make_us_cpi.HERE / name).read_bytes()


# --- the script's refusals -----------------------------------------------------------------------


def test_a_file_that_is_no_wheel_gets_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = tmp_path / "notes.txt"
    wrong.write_text("not a wheel")
    assert make_us_cpi.main([str(wrong)]) == 1
    assert "Found notes.txt, which cannot be read" in capsys.readouterr().err


def test_a_new_item_of_the_office_stops_the_script() -> None:
    values = {"SA0": {(2026, 9): 335.0}, "SEFZ": {(2026, 9): 100.0}}
    with pytest.raises(make_us_cpi.CannotMake, match=r"SEFZ.*us_cpi_ladder\.csv"):
        make_us_cpi.check_ladder({"SA0": ""}, values)


def test_a_fourth_decimal_stops_the_script() -> None:
    with pytest.raises(make_us_cpi.CannotMake, match="at most 3 decimals"):
        make_us_cpi.as_published(318.7554, (2026, 3))
