"""A stand-in for every office, and nothing else within reach."""

from __future__ import annotations

import shutil
import socket
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from pricing.book.connect import Book
from tests.ingest.offices.stand_in import StandIn, serving
from tests.kitchen import make_book


@pytest.fixture(autouse=True)
def _nothing_else_can_be_reached(monkeypatch: pytest.MonkeyPatch) -> None:
    connect, resolve = socket.socket.connect, socket.getaddrinfo

    def only_here(self: socket.socket, address: Any) -> None:
        assert not isinstance(address, tuple) or address[0] == "127.0.0.1", address
        connect(self, address)

    def no_names(host: Any, *args: Any, **words: Any) -> Any:
        assert host in ("127.0.0.1", None), host
        return resolve(host, *args, **words)

    monkeypatch.setattr(socket.socket, "connect", only_here)
    monkeypatch.setattr(socket, "getaddrinfo", no_names)


@pytest.fixture
def office(monkeypatch: pytest.MonkeyPatch) -> Iterator[StandIn]:
    """The stand-in, in the place of every office."""
    monkeypatch.delenv("PORTIONDRIFT_BLS_KEY", raising=False)
    with serving() as stand_in:
        monkeypatch.setenv("PORTIONDRIFT_TEST_HOST", stand_in.url)
        yield stand_in


@pytest.fixture(scope="session")
def _empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_book(tmp_path_factory.mktemp("empty"), currency="GBP", measures="uk").path


@pytest.fixture
def kitchen(_empty: Path, tmp_path: Path) -> Book:
    """An empty British book of the test's own."""
    return Book(path=Path(shutil.copyfile(_empty, tmp_path / "kitchen.duckdb")))
