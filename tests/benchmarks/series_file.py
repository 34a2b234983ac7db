"""Times `portiondrift index load` of a file of the size of the ONS dataset MM23 (invented values).

    python -m tests.benchmarks.series_file [REPEATS]

4,000 columns of 450 months, of which the food ladder is taken. Beside it pandas reads the same file
and melts it to one row a series and month, with nothing checked and nothing stored. Each runs in a
process of its own, start to end, so that its memory is its own; the two take turns.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from ingest.new_book import create_book
from tests.ingest.offices.mm23 import write_mm23

COLUMNS, MONTHS = 4000, 450
MOST_SECONDS, MOST_MEGABYTES = 5.0, 500.0
_PANDAS = """
import sys
import pandas as pd
table = pd.read_csv(sys.argv[1], skiprows=[0, 2, 3, 4, 5, 6], low_memory=False)
months = table[table["CDID"].str.fullmatch(r"\\d{4} [A-Z]{3}")]
tidy = months.melt(id_vars="CDID", var_name="series", value_name="value")
tidy["value"] = pd.to_numeric(tidy["value"])
assert len(tidy) == int(sys.argv[2]), len(tidy)
"""
_MEASURED = """
import resource, subprocess, sys
done = subprocess.run(sys.argv[1:], capture_output=True, text=True)
assert done.returncode == 0, done.stderr + done.stdout
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""


def measured(*command: str, book: Path | None = None) -> tuple[float, float]:
    """Run a command; return its seconds and its peak memory in MB."""
    env = {**os.environ, "PORTIONDRIFT_TODAY": "2026-11-24"}
    if book is not None:
        env["PORTIONDRIFT_BOOK"] = str(book)
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", _MEASURED, *command],
        capture_output=True, text=True, env=env, check=False,
    )  # fmt: skip
    seconds = time.perf_counter() - start
    if done.returncode:
        raise SystemExit(done.stderr)
    peak = int(done.stdout)
    return seconds, peak / (1e6 if sys.platform == "darwin" else 1e3)


def main(repeats: int) -> None:
    ours, theirs = [], []
    with tempfile.TemporaryDirectory() as folder:
        file = write_mm23(Path(folder) / "mm23.csv", columns=COLUMNS, months=MONTHS)
        size = file.stat().st_size / 1e6
        for number in range(repeats):
            book = create_book(Path(folder) / f"{number}.duckdb", "GBP", "uk").path
            ours.append(
                measured(
                    sys.executable, "-m", "dashboard.cli", "index", "load", str(file), book=book
                )
            )
            theirs.append(measured(sys.executable, "-c", _PANDAS, str(file), str(COLUMNS * MONTHS)))
            book.unlink()
    print(f"A file of {COLUMNS:,} series, {MONTHS} months, {size:.0f} MB; {repeats} runs, in turns")
    print(f"{'':38}  seconds (lowest to highest)   peak memory")
    for name, runs in (
        ("index load, checked and stored", ours),
        ("pandas read_csv + melt", theirs),
    ):
        seconds, memory = zip(*runs, strict=True)
        print(
            f"{name:38}  {median(seconds):5.2f} ({min(seconds):.2f} to {max(seconds):.2f})"
            f"{'':11}{max(memory):6.0f} MB"
        )
    times = median(o[0] for o in ours) / median(t[0] for t in theirs)
    space = max(o[1] for o in ours) / max(t[1] for t in theirs)
    print(f"Ratio to pandas: time {times:.2f}, memory {space:.2f}.")
    took, peak = max(o[0] for o in ours), max(o[1] for o in ours)
    verdict = "reached" if took < MOST_SECONDS and peak < MOST_MEGABYTES else "MISSED"
    print(f"Under {MOST_SECONDS:g} s and {MOST_MEGABYTES:g} MB wanted: {verdict}.")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
