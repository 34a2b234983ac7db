"""Opens a file of an office as lines of text, from a path or from bytes, packed or not."""

from __future__ import annotations

import gzip
import io
import json
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, BinaryIO

from ingest.text.encoding import decoded
from pricing.errors import Problem

HEAD_BYTES = 256 * 1024  # enough for the title row of a file with thousands of columns
LARGEST_FILE = 2 * 1024**3  # bytes, unpacked
LARGEST_JSON = 128 * 1024**2  # a JSON is read whole


class SourceRefused(ValueError):
    """A file that cannot be read as text; `problem` says why."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(problem.sentence())


@dataclass(frozen=True, kw_only=True)
class Source:
    """One file or one answer."""

    name: str  # without its folder
    path: Path | None = None
    data: bytes = b""  # where there is no path

    @property
    def shown(self) -> str:
        """The file as the user named it."""
        return self.name if self.path is None else str(self.path)

    @property
    def is_json(self) -> bool:
        """Whether the text begins as JSON does. Raises SourceRefused."""
        return self.head.lstrip().startswith(("{", "["))

    @contextmanager
    def open(self) -> Iterator[BinaryIO]:
        """Yield the unpacked bytes. Raises SourceRefused."""
        with self._stored() as stored:
            start = stored.read(4)
            stored.seek(0)
            try:
                if start == b"PK\x03\x04":
                    with zipfile.ZipFile(stored) as archive, archive.open(_table(archive)) as file:
                        yield io.BufferedReader(file)  # type: ignore[type-var]
                elif start[:2] == b"\x1f\x8b":
                    with gzip.open(stored) as file:
                        yield file  # type: ignore[misc]
                else:
                    yield stored
            except (zipfile.BadZipFile, gzip.BadGzipFile, EOFError, zlib.error) as error:
                raise SourceRefused(
                    _problem(
                        f"a packed file that cannot be unpacked ({error})",
                        "a whole zip or gz file",
                        "It may be cut off: download it again.",
                    )
                ) from error

    @contextmanager
    def _stored(self) -> Iterator[BinaryIO]:
        if self.path is None:
            yield io.BytesIO(self.data)
        else:
            with self.path.open("rb") as file:
                yield file

    @cached_property
    def head(self) -> str:
        """The beginning of the text, whole lines only. Raises SourceRefused."""
        with self.open() as file:
            start = file.read(HEAD_BYTES)
        if len(start) == HEAD_BYTES and b"\n" in start:
            start = start[: start.rindex(b"\n") + 1]
        elif len(start) == HEAD_BYTES:  # one long line, cut perhaps inside a letter
            start = start.decode("utf-8", "ignore").encode()
        text = decoded(start)
        if not isinstance(text, str):
            raise SourceRefused(text[0])
        return text

    @contextmanager
    def lines(self) -> Iterator[Iterator[str]]:
        """Yield the physical lines of the text, with their ends; bytes that are no UTF-8 stay
        visible as lone surrogates. Raises SourceRefused.
        """
        with self.open() as file:
            text = io.TextIOWrapper(
                file, encoding="utf-8-sig", errors="surrogateescape", newline=""
            )
            yield _bounded(text)
            text.detach()

    def whole(self) -> str:
        """Return the whole text. Raises SourceRefused when it is too large or not UTF-8."""
        with self.open() as file:
            data = file.read(LARGEST_JSON + 1)
        if len(data) > LARGEST_JSON:
            raise SourceRefused(
                _problem(
                    f"a JSON file of more than {LARGEST_JSON // 1024**2} MB",
                    "a smaller one",
                    "Ask the office for fewer items, or download the table as CSV.",
                )
            )
        text = decoded(data)
        if not isinstance(text, str):
            raise SourceRefused(text[0])
        return text

    def json(self) -> Any:
        """Return the whole text read as JSON. Raises SourceRefused, also when it breaks off."""
        try:
            return json.loads(self.whole())
        except json.JSONDecodeError as error:
            found, line = f"JSON that breaks off or is damaged ({error.msg})", error.lineno
        except RecursionError:
            found, line = "JSON with brackets inside brackets without end", 1
        raise SourceRefused(_problem(found, "a whole JSON file", "Download it again.", line=line))


def _bounded(text: io.TextIOWrapper) -> Iterator[str]:
    read = 0
    for line in text:
        read += len(line)
        if read > LARGEST_FILE:
            raise SourceRefused(
                _problem(
                    f"more than {LARGEST_FILE // 1024**3} GB of text",
                    "a smaller file",
                    "Download fewer series.",
                )
            )
        yield line


def _table(archive: zipfile.ZipFile) -> zipfile.ZipInfo:
    """Return the one data table of a zip: its largest CSV or JSON that is no list of metadata."""
    tables = [
        each
        for each in archive.infolist()
        if each.filename.lower().endswith((".csv", ".json", ".txt", ".tsv"))
        and "metadata" not in each.filename.lower()
    ]
    if not tables:
        raise SourceRefused(
            _problem(
                "a zip or workbook without a CSV or JSON table",
                "a table",
                "Unpack it, or save the sheet as CSV in UTF-8.",
            )
        )
    return max(tables, key=lambda each: each.file_size)


def _problem(found: str, expected: str, remedy: str, *, line: int | None = None) -> Problem:
    return Problem(line=line, column=None, found=found, expected=expected, remedy=remedy)
