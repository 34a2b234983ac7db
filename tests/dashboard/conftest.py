"""What the tests of the pages share: the small kitchen, and nothing kept between tests."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any
from unittest.mock import patch

import altair as alt
import pytest
import streamlit as st

from dashboard.charts.drawing import Drawing
from pricing.book.connect import Book
from pricing.change.compare import compare
from pricing.change.records import Comparison
from tests.dashboard.small_kitchen import small_kitchen
from tests.kitchen import TODAY


@pytest.fixture(scope="session")
def _template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return small_kitchen(tmp_path_factory.mktemp("pages")).path


@pytest.fixture(scope="session", autouse=True)
def _no_components_of_others() -> Iterator[None]:
    """Streamlit looks before each page through all installed packages, for parts we do not use."""
    with patch(
        "streamlit.components.v2.manifest_scanner.scan_component_manifests", return_value=[]
    ):
        yield


@pytest.fixture(autouse=True)
def every_chart_is_checked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hold each chart that a test draws against the whole schema of Vega-Lite, as pages do not."""
    write = Drawing.to_dict

    def checked(self: Drawing, *given: Any, **more: Any) -> dict[str, Any]:
        spec = write(self, *given, **more)
        alt.LayerChart.validate({key: part for key, part in spec.items() if key != "datasets"})
        return spec

    monkeypatch.setattr(Drawing, "to_dict", checked)


@pytest.fixture
def kitchen(_template: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    """The small kitchen, in a book of the test's own that the pages are told of."""
    path = tmp_path / "kitchen.duckdb"
    shutil.copyfile(_template, path)
    monkeypatch.setenv("PORTIONDRIFT_BOOK", str(path))
    monkeypatch.setenv("PORTIONDRIFT_WAIT_SECONDS", "0.5")
    st.cache_data.clear()
    return Book(path=path, wait_seconds=0.5)


@pytest.fixture
def bowl(kitchen: Book) -> Comparison:
    """Version 1 in June and 2 in November: see tests/dashboard/small_kitchen.py."""
    return compare(kitchen, "barley bowl", then=date(2026, 6, 15), now=TODAY)
