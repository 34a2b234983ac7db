"""The demo book, built once for these tests."""

from __future__ import annotations

import pytest

from dashboard.demo import make_demo
from pricing.book.connect import Book
from tests.kitchen import TODAY


@pytest.fixture(scope="package")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Book:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PORTIONDRIFT_TODAY", TODAY.isoformat())
        return make_demo(tmp_path_factory.mktemp("demo") / "demo.duckdb")
