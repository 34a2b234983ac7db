"""The processor time that the server and the browser have taken, with all their processes (Linux).

They are found among the processes that this one started, and those that these started.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

_TICK_MS = 1000 / os.sysconf("SC_CLK_TCK")
SERVER, BROWSER = "dashboard.", "chrom"  # in their command lines


@dataclass(frozen=True, kw_only=True)
class Used:
    """Milliseconds of processor time."""

    server_ms: float
    browser_ms: float

    def __add__(self, other: Used) -> Used:
        server, browser = self.server_ms + other.server_ms, self.browser_ms + other.browser_ms
        return Used(server_ms=server, browser_ms=browser)

    def __sub__(self, other: Used) -> Used:
        return self + Used(server_ms=-other.server_ms, browser_ms=-other.browser_ms)


def used() -> Used:
    """Return what both have taken so far."""
    parents: dict[int, int] = {}
    ticks: dict[int, int] = {}
    for each in Path("/proc").iterdir():
        if each.name.isdigit():
            try:
                fields = (each / "stat").read_text().rpartition(")")[2].split()
            except OSError:  # it has ended
                continue
            parents[int(each.name)] = int(fields[1])
            ticks[int(each.name)] = int(fields[11]) + int(fields[12])
    sums = {SERVER: 0.0, BROWSER: 0.0}
    for number in ticks:
        if _is_ours(number, parents) and (kind := _kind(number)):
            sums[kind] += ticks[number] * _TICK_MS
    return Used(server_ms=sums[SERVER], browser_ms=sums[BROWSER])


def _is_ours(number: int, parents: dict[int, int]) -> bool:
    at = parents.get(number, 0)
    while at and at != os.getpid():
        at = parents.get(at, 0)
    return at == os.getpid()


def _kind(number: int) -> str | None:
    try:
        command = Path(f"/proc/{number}/cmdline").read_text("utf-8", "replace")
    except OSError:
        return None
    return next((kind for kind in (SERVER, BROWSER) if kind in command), None)
