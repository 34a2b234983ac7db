"""Keeps the very bytes that offices sent, beside the values that were read from them."""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from pricing.answer import Answer
from pricing.book.connect import Connection


@dataclass(frozen=True, kw_only=True)
class Fetched(Answer):
    """One answer of an office."""

    office: str
    url: str  # without keys
    fetched_at: datetime  # UTC
    content: bytes  # as received

    @property
    def sha256(self) -> str:
        return hashlib.sha256(self.content).hexdigest()

    def as_json(self) -> dict[str, Any]:
        return {
            "office": self.office,
            "url": self.url,
            "fetched_at": self.fetched_at.isoformat(timespec="seconds") + "Z",
            "sha256": self.sha256,
            "size_bytes": len(self.content),
        }


def keep(con: Connection, batch: int, answers: Sequence[Fetched]) -> None:
    """Store what was received for a batch. Call it inside `connect.writing`."""
    row = con.execute("SELECT coalesce(max(fetched_id), 0) FROM fetched").fetchone()
    for number, each in enumerate(answers, start=int((row or (0,))[0]) + 1):
        con.execute(
            "INSERT INTO fetched VALUES ($id, $batch, $office, $url, $at, $sha, $size, $content)",
            {
                "id": number,
                "batch": batch,
                "office": each.office,
                "url": each.url,
                "at": each.fetched_at,
                "sha": each.sha256,
                "size": len(each.content),
                "content": zlib.compress(each.content, 6),
            },
        )


def kept_bytes(con: Connection, fetched_id: int) -> bytes | None:
    """Return the bytes as received; None when there are none. Raises ValueError when changed."""
    row = con.execute(
        "SELECT content, sha256 FROM fetched WHERE fetched_id = $id", {"id": fetched_id}
    ).fetchone()
    if row is None:
        return None
    try:
        content = zlib.decompress(row[0])
    except zlib.error as error:
        raise ValueError("bytes that cannot be unpacked") from error
    if hashlib.sha256(content).hexdigest() != row[1]:
        raise ValueError("bytes that differ from their SHA-256")
    return content
