"""The licence is told in full, in README and wheel, and every table of data has its own."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from email.message import Message
from email.parser import Parser
from fnmatch import fnmatch
from importlib.metadata import version
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
TOLD = (  # of the MIT licence (SPDX: MIT): what it grants, on what condition, and what it disclaims
    "Copyright (c) 2026 The portiondrift makers",
    "Permission is hereby granted, free of charge, to any person obtaining a copy of this software",
    "The above copyright notice and this permission notice shall be included in all copies or "
    "substantial portions of the Software.",
    'THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND',
    "OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.",
)


def missing(text: str) -> list[str]:
    plain = " ".join(text.split())
    return [words for words in TOLD if words not in plain]


def test_the_readme_ends_with_the_copyright_line_and_the_whole_licence() -> None:
    last = README.rpartition("\n## ")[2]
    assert last.startswith("Licence\n")
    assert missing(last) == []


@pytest.fixture(scope="module")
def metadata(tmp_path_factory: pytest.TempPathFactory) -> tuple[Message, Path]:
    """What a wheel says of itself, made by the build of pyproject.toml."""
    assert int(version("setuptools").split(".")[0]) >= 77, "old setuptools: install .[test] anew"
    folder = tmp_path_factory.mktemp("wheel")
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, folder)
    made = subprocess.run(
        [sys.executable, "-c", "from setuptools.build_meta import *;"
         "print('made', prepare_metadata_for_build_wheel('.'))"],
        cwd=folder, capture_output=True, text=True, check=True,
    )  # fmt: skip
    info = folder / made.stdout.strip().splitlines()[-1].removeprefix("made ")
    return Parser().parsestr((info / "METADATA").read_text("utf-8")), info


def test_the_wheel_carries_the_whole_licence(metadata: tuple[Message, Path]) -> None:
    told, info = metadata
    assert told["License-Expression"] == "MIT"
    assert told["License-File"] == "README.md"
    assert missing(str(told.get_payload())) == []  # the long description
    assert missing((info / "licenses" / "README.md").read_text("utf-8")) == []


def test_every_table_of_data_is_named_with_its_licence() -> None:
    part = README.partition("\n## Data that comes with it\n")[2].partition("\n## ")[0]
    named: list[str] = []
    for first, _, licence in re.findall(r"^\| (`.*) \| (.*) \| (.*) \|$", part, re.M):
        assert licence.strip()
        folder = ""
        for name in re.findall(r"`([^`]+)`", first):
            folder = name.rpartition("/")[0] if "/" in name else folder
            named.append(
                f"{name}*" if name.endswith("/") else f"{folder}/{name.rpartition('/')[2]}"
            )
    tables = [
        path.relative_to(ROOT).as_posix()
        for package in ("pricing", "ingest", "dashboard", "demo_prices")
        for kind in ("*.csv", "*.toml")
        for path in (ROOT / package).rglob(kind)
    ]
    assert len(tables) > 25
    assert [path for path in tables if not any(fnmatch(path, each) for each in named)] == []
    assert [each for each in named if not any(fnmatch(path, each) for path in tables)] == []
