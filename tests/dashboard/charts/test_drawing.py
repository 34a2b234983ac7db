"""A drawing is what Altair would write of the same layers, and takes little to write."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import altair as alt
import pandas as pd
import pytest
from altair.utils import schemapi
from jsonschema import ValidationError

from dashboard.charts.axes import finished
from dashboard.charts.drawing import Drawing

LINE = pd.DataFrame({"on": [1, 2], "cost": [3.0, 4.0]})
WORDS = pd.DataFrame({"on": [2], "cost": [4.0], "words": ["now"]})


def layers() -> list[alt.Chart]:
    x, y = alt.X("on:Q"), alt.Y("cost:Q", axis=alt.Axis(grid=True))
    return [
        alt.Chart(LINE).mark_line(strokeDash=[5, 3]).encode(x=x, y=y),
        alt.Chart(WORDS).mark_text(dx=4).encode(x=x, y=y, text=alt.Text("words:N")),
    ]


def by_altair(height: int) -> dict[str, Any]:
    chart = alt.LayerChart(layer=layers()).properties(height=height, title=alt.TitleParams("Cost"))
    return dict(chart.to_dict())


def test_it_is_what_altair_writes() -> None:
    drawn = Drawing(layers=layers(), look={"height": 90, "title": alt.TitleParams("Cost")})
    assert drawn.to_dict() == by_altair(90)


def test_more_of_a_look_is_added() -> None:
    drawn = Drawing(layers=layers(), look={"height": 40}).properties(height=90)
    assert drawn.properties(title=alt.TitleParams("Cost")).to_dict() == by_altair(90)


def test_it_is_written_without_a_look_at_the_schema(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.undo()  # the check of the tests themselves
    looks: list[dict[str, Any]] = []
    monkeypatch.setattr(schemapi, "validate_jsonschema", lambda spec, *_, **__: looks.append(spec))
    drawn, whole = finished(*layers(), height=90), alt.LayerChart(layer=layers())
    looks.clear()
    drawn.to_dict()
    assert [set(each) for each in looks] == [{"name"}] * 2  # the names of the two tables of data
    whole.to_dict()
    assert any("layer" in each for each in looks)  # as Altair does


def test_what_the_schema_does_not_know_is_found_by_the_tests() -> None:
    wrong = Drawing(layers=layers(), look={"height": "tall"})
    with pytest.raises(ValidationError, match="tall"):
        wrong.to_dict()


def test_it_is_saved_with_its_data(tmp_path: Path) -> None:
    path = tmp_path / "chart.json"
    finished(*layers(), height=90).save(str(path))
    saved = json.loads(path.read_text("utf-8"))
    (line, words) = (saved["datasets"][each["data"]["name"]] for each in saved["layer"])
    assert line == [{"on": 1, "cost": 3.0}, {"on": 2, "cost": 4.0}]
    assert words == [{"on": 2, "cost": 4.0, "words": "now"}]
