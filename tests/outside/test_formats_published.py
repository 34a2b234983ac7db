"""Rules of the two statistical formats, as their own documents state them.

SDMX-CSV 1.0: sdmx-twg/sdmx-csv, tag v1.0 (2018), field guide. 2.0 and 2.1: tag v2.0.0 (2023) and
the field guide of June 2025. JSON-stat 2.0: json-stat.org/full, and the reference toolkit's
src/jsonstat.js. Values here are invented; the rules are theirs.
"""

from __future__ import annotations

import json
from typing import Any

import pytest

from ingest.offices.reading.source import Source
from ingest.offices.taking.office_file import read_office
from tests.kitchen import TODAY

HICP = "ESTAT:PRC_HICP_MINR(1.0)"


def values(text: str) -> dict[str, dict[str, float]]:
    """Return series → month → value."""
    found = read_office(Source(name="file", data=text.encode()), TODAY)
    assert found.problems == (), [problem.sentence() for problem in found.problems]
    return {
        each.series: {f"{month:%Y-%m}": value for month, value, *_ in each.values()}
        for each in found.series
    }


ONE = {"eu-hicp:IE.CP01148": {"2026-08": 101.4}}


def test_the_separator_is_the_character_behind_the_first_header() -> None:
    """1.0: the first header is DATAFLOW, so the separator is the ninth character of the file."""
    for mark in ",;":
        header = mark.join(
            ("DATAFLOW", "freq", "unit", "coicop18", "geo", "TIME_PERIOD", "OBS_VALUE")
        )
        row = mark.join((HICP, "M", "I25", "CP01148", "IE", "2026-08", "101.4"))
        assert header[8] == mark
        assert values(f"{header}\n{row}\n") == ONE


def test_labels_both_joins_id_and_name_in_header_and_cells() -> None:
    """1.0: with labels=both a cell is `ID: Name`; the name may itself hold a colon and a space."""
    header = "DATAFLOW,freq: Time frequency,unit: Unit,coicop18: Coicop: 2018,geo: Area,"
    header += "TIME_PERIOD: Time,OBS_VALUE"
    row = f'{HICP}: HICP: monthly,M: Monthly,"I25: Index, 2025=100",CP01148: Eggs: all,IE: Ireland,'
    assert values(f"{header}\n{row}2026-08,101.4\n") == ONE


def test_columns_of_2_0_come_in_any_order_and_may_hold_several_values() -> None:
    """2.0: after STRUCTURE, STRUCTURE_ID and ACTION the components stand in any order; `[;]` behind
    STRUCTURE tells the mark between several values, `[]` behind a component that it has several.
    """
    header = "STRUCTURE[;],STRUCTURE_ID,ACTION,OBS_VALUE,geo,coicop18,NOTE[],unit,freq,TIME_PERIOD"
    row = f"dataflow,{HICP},I,101.4,IE,CP01148,a;b,I25,M,2026-08"
    assert values(f"{header}\n{row}\n") == ONE


def test_a_name_column_stands_behind_each_id_when_there_is_a_structure_name() -> None:
    """2.0: labels=name adds STRUCTURE_NAME and, behind each component, a column with its name."""
    header = "STRUCTURE,STRUCTURE_ID,STRUCTURE_NAME,ACTION,freq,Frequency,unit,Unit,coicop18,Item,"
    header += "geo,Area,TIME_PERIOD,Time,OBS_VALUE,Value"
    row = f"dataflow,{HICP},HICP,I,M,Monthly,I25,Index,CP01148,Eggs,IE,Ireland,2026-08,,101.4,"
    assert values(f"{header}\n{row}\n") == ONE


@pytest.mark.parametrize("gap", ["NaN", "#N/A", ""])
def test_an_intentional_gap_is_no_value(gap: str) -> None:
    """2.1: NaN marks a numeric value, #N/A any other, that is missing on purpose."""
    header = "STRUCTURE,STRUCTURE_ID,ACTION,freq,unit,coicop18,geo,TIME_PERIOD,OBS_VALUE"
    rows = f"dataflow,{HICP},I,M,I25,CP01148,IE,2026-07,{gap}\n"
    rows += f"dataflow,{HICP},I,M,I25,CP01148,IE,2026-08,101.4\n"
    assert values(f"{header}\n{rows}") == ONE


def test_a_row_to_delete_is_not_taken() -> None:
    """2.0: ACTION D deletes what the row names; I, A, R and M bring it."""
    header = "STRUCTURE,STRUCTURE_ID,ACTION,freq,unit,coicop18,geo,TIME_PERIOD,OBS_VALUE"
    rows = f"dataflow,{HICP},D,M,I25,CP01148,IE,2026-07,100.9\n"
    rows += f"dataflow,{HICP},R,M,I25,CP01148,IE,2026-08,101.4\n"
    assert values(f"{header}\n{rows}") == ONE


def json_stat(**changes: Any) -> str:
    whole: dict[str, Any] = {
        "version": "2.0",
        "class": "dataset",
        "id": ["geo", "coicop18", "freq", "time", "unit"],
        "size": [2, 2, 1, 3, 1],
        "dimension": {
            "geo": {"category": {"index": ["FR", "IE"]}},
            "coicop18": {"category": {"index": {"CP01148": 1, "CP01145": 0}}},
            "freq": {"category": {"label": {"M": "Monthly"}}},
            "time": {"category": {"index": ["2026-06", "2026-07", "2026-08"]}},
            "unit": {"category": {"label": {"I25": "Index, 2025=100"}}},
        },
        "value": [float(100 + place) for place in range(12)],
    }
    return json.dumps({**whole, **changes})


def test_values_are_in_row_major_order_the_last_dimension_fastest() -> None:
    """The place of a cell is the sum of each position times the sizes behind it: for IE (1), eggs
    (1 by the object), August (2): 1 × 6 + 1 × 3 + 0 + 2 × 1 + 0 = 11.
    """
    found = values(json_stat())
    assert found["eu-hicp:IE.CP01148"]["2026-08"] == 111
    assert found["eu-hicp:FR.CP01145"] == {"2026-06": 100, "2026-07": 101, "2026-08": 102}
    assert found["eu-hicp:FR.CP01148"]["2026-06"] == 103
    assert found["eu-hicp:IE.CP01145"]["2026-06"] == 106


def test_a_sparse_object_and_an_array_with_null_say_the_same() -> None:
    """`value` is an array, or an object keyed by place; what is absent or null is missing."""
    dense = json_stat(value=[None] * 11 + [101.4])
    sparse = json_stat(value={"11": 101.4})
    assert values(dense) == values(sparse) == ONE


def test_a_category_of_one_needs_no_index() -> None:
    """`index` may be absent when a dimension has one category; `label` then names it."""
    assert "eu-hicp:IE.CP01148" in values(json_stat())  # freq and unit above have labels only
