"""Answers are frozen records that also read like the JSON objects of the contract."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from datetime import date
from decimal import Decimal
from typing import Any


@dataclass(frozen=True, kw_only=True)
class Answer(Mapping[str, Any]):
    """A record whose fields can be read as attributes or by key."""

    def __getitem__(self, key: str) -> Any:
        if key not in self.__dataclass_fields__:
            raise KeyError(key)
        return getattr(self, key)

    def __iter__(self) -> Iterator[str]:
        return (each.name for each in fields(self))

    def __len__(self) -> int:
        return len(fields(self))

    def as_json(self) -> dict[str, Any]:
        """Return plain objects, lists, numbers and strings: dates as ISO 8601, full precision."""
        return {key: plain(value) for key, value in self.items()}


def plain(value: Any) -> Any:
    """Return `value` as json.dumps takes it."""
    if isinstance(value, Mapping):
        return {key: plain(each) for key, each in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(each) for each in value]
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return float(value)
    return value
