"""Writes a report or a card to its file: whole or not at all."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from pricing.errors import InputRefused


def refuse_file(path: Path, endings: Mapping[str, object], *, force: bool) -> str:
    """Return the ending of a file that may be written. Raises InputRefused.

    Refused: an ending that is not among `endings`, a folder that is not there, and, without
    `force`, a file that is.
    """
    ending = path.suffix.lower()
    if ending not in endings:
        choices = list(endings)
        raise InputRefused(
            f"Found the file '{path.name}'; expected a name that ends in "
            f"{', '.join(choices[:-1])} or {choices[-1]}. Correct the ending."
        )
    if not path.parent.is_dir():
        raise InputRefused(
            f"Found no folder {path.parent}; expected one that is there. Make the folder, or name "
            "another."
        )
    if path.is_dir() or (path.exists() and not force):
        raise InputRefused(
            f"Found {'a folder' if path.is_dir() else 'a file'} {path}; expected a new name, so "
            "that nothing is overwritten. Name another file"
            f"{'' if path.is_dir() else ', or replace it with --force'}."
        )
    return ending


def write_whole(path: Path, content: bytes) -> str:
    """Write a file beside its place, then put it there; return its SHA-256. Raises InputRefused."""
    beside = path.with_name(f".{path.name}.part")
    try:
        with beside.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as error:
        with suppress(OSError):
            beside.unlink()
        raise InputRefused(
            f"Cannot write {path}: {error.strerror or error}. Nothing was written. Make room, or "
            "choose a folder that you may write to."
        ) from None
    return hashlib.sha256(content).hexdigest()
