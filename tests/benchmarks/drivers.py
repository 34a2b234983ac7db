"""Times the ranking of what drove a large catalogue over fifteen years, from a closed book file.

    python -m tests.benchmarks.drivers [--prices N] [--ingredients N] [--dishes N] [--repeats N]
                                       [--folder FOLDER]

The book is the invented one of synthetic_book.py. Every run opens the file, ranks the ingredients
of every dish between the first and the last month, and closes it; the first run does not count. The
libraries are imported before the clock starts, as in a page or a second question of one process;
what a fresh process adds is printed too. The means must be those of the monthly costing of the same
dishes, and the contributions must add up to 1e-9, else the exit status is 1.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path
from statistics import median

from tests.benchmarks.catalogue import TODAY, environment, prepare

THEN, NOW = date(2011, 11, 15), date(2026, 9, 15)
TARGET_SECONDS = 1.0
SAME = 1e-9
_ALONE = (
    "import sys, pathlib, datetime, pricing\n"
    "book = pricing.Book(path=pathlib.Path(sys.argv[1]))\n"
    f"pricing.rank_drivers(book, then=datetime.date{THEN.timetuple()[:3]}, "
    f"now=datetime.date{NOW.timetuple()[:3]})\n"
)


def timed(path: Path, repeats: int) -> tuple[list[float], list[float], object]:
    """Return the seconds of each run, by the clock and of all processors, and the answer."""
    import pricing

    book = pricing.Book(path=path)
    runs: list[float] = []
    processor: list[float] = []
    found: object = None
    for turn in range(repeats + 1):
        start, work = time.perf_counter(), time.process_time()
        found = pricing.rank_drivers(book, then=THEN, now=NOW)
        if turn:
            runs.append(time.perf_counter() - start)
            processor.append(time.process_time() - work)
    return runs, processor, found


def differences(path: Path, found: object) -> list[str]:
    """Return in words how the answer differs from the costing of the same dishes on both days."""
    import pricing
    from pricing.change.drivers import Drivers

    assert isinstance(found, Drivers)
    book, wrong = pricing.Book(path=path), []
    total = sum(each.contribution for each in found.ingredients)
    if abs(total - (found.mean_now - found.mean_then)) > SAME:
        wrong.append("the contributions do not add up")
    if found.complete:
        for day, mean in ((THEN, found.mean_then), (NOW, found.mean_now)):
            month = f"{day:%Y-%m}"
            frame = pricing.drift(book, start=month, end=month)
            costed = float(frame["cost_per_portion"].mean())
            if frame["complete"].all() and abs(costed - mean) > SAME * mean:
                wrong.append(f"the mean of {month} is {mean}, not {costed}")
    return wrong


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--prices", type=int, default=5_000_000)
    parser.add_argument("--ingredients", type=int, default=1_000)
    parser.add_argument("--dishes", type=int, default=10_000)
    parser.add_argument("--repeats", type=int, default=5)
    parser.add_argument("--folder", type=Path, help="keep the book here, and use it again")
    asked = parser.parse_args()
    os.environ["PORTIONDRIFT_TODAY"] = TODAY
    with tempfile.TemporaryDirectory() as made:
        folder = asked.folder or Path(made)
        folder.mkdir(parents=True, exist_ok=True)
        prepare(folder, (asked.prices, asked.ingredients, asked.dishes))
        path = folder / "book.duckdb"
        runs, processor, found = timed(path, asked.repeats)
        wrong = differences(path, found)
        start = time.perf_counter()
        subprocess.run([sys.executable, "-c", _ALONE, str(path)], check=True, env=environment())
        alone = time.perf_counter() - start
    took = median(runs)
    print(
        f"Drivers of {asked.dishes:,} dishes, {asked.ingredients:,} ingredients, {asked.prices:,} "
        f"prices, {THEN} to {NOW}: {took:.2f} s ({min(runs):.2f} to {max(runs):.2f}), at most "
        f"{TARGET_SECONDS:g} wanted, {'reached' if took <= TARGET_SECONDS else 'MISSED'}."
    )
    print(
        f"Processor time {median(processor):.2f} s, of {os.cpu_count()} processors: what an idle "
        "machine takes lies about there or under it."
    )
    print(f"In a process of its own, with its imports: {alone:.2f} s.")
    print(
        "\n".join(wrong)
        if wrong
        else f"It adds up, and the means are those of the drift, to {SAME:g}."
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
