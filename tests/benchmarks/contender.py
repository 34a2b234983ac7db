"""One contender of the catalogue benchmark, in a process of its own, so that its memory is its own.

    python -m tests.benchmarks.contender NAME FOLDER FIRST_MONTH LAST_MONTH

It gets ready, then runs once for every word it reads ("drift", or "catalogue" for the costing
without its table), answering with a line of JSON: seconds, seconds of processor time, and peak
memory so far. "keep" writes the last answer to FOLDER/NAME.answer.parquet.
"""

from __future__ import annotations

import gc
import json
import resource
import sys
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

Run = Callable[[], Any]


def months(first: str, last: str) -> list[date]:
    """Return the 15th of every month from `first` to `last` (YYYY-MM), both included."""
    from pricing.days import month_range, read_month

    return [month.replace(day=15) for month in month_range(read_month(first), read_month(last))]


def portiondrift(folder: Path, first: str, last: str) -> dict[str, Run]:
    """Every run opens the closed file and closes it again. The libraries are imported before."""
    import pandas  # noqa: F401

    import pricing
    from pricing.book.connect import reading
    from pricing.book.read import read_settings
    from pricing.dishes.catalogue import cost_catalogue
    from pricing.prices.rule import Rule

    book = pricing.Book(path=folder / "book.duckdb")

    def catalogue() -> object:
        with reading(book) as con:
            rule = Rule.of(read_settings(con))
            return cost_catalogue(con, rule, months(first, last))

    return {"drift": lambda: pricing.drift(book, start=first, end=last), "catalogue": catalogue}


def by_pandas(folder: Path, first: str, last: str) -> dict[str, Run]:
    from tests.benchmarks import by_pandas as script

    frames, days = script.read(folder / "raw"), months(first, last)
    return {"drift": lambda: script.drift(frames, days)}


def by_polars(folder: Path, first: str, last: str) -> dict[str, Run]:
    from tests.benchmarks import by_polars as script

    frames, days = script.read(folder / "raw"), months(first, last)
    return {"drift": lambda: script.drift(frames, days)}


CONTENDERS = {"portiondrift": portiondrift, "pandas": by_pandas, "polars": by_polars}


def peak_megabytes() -> float:
    """Return the most memory this process has held (Linux counts in kilobytes, macOS in bytes)."""
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak / (1e6 if sys.platform == "darwin" else 1e3)


def write(answer: Any, path: Path) -> None:
    if hasattr(answer, "write_parquet"):
        answer.write_parquet(path)
    else:
        answer.to_parquet(path)


def main(name: str, folder: Path, first: str, last: str) -> None:
    runs = CONTENDERS[name](folder, first, last)
    print(json.dumps({"ready": name, "megabytes": peak_megabytes()}), flush=True)
    answer: Any = None
    for line in sys.stdin:
        if line.strip() == "keep":
            write(answer, folder / f"{name}.answer.parquet")
            print(json.dumps({"kept": len(answer)}), flush=True)
            continue
        answer = None  # the last answer's memory is not this run's
        gc.collect()
        start, busy = time.perf_counter(), time.process_time()
        answer = runs[line.strip()]()
        found = {
            "seconds": time.perf_counter() - start,
            "processor": time.process_time() - busy,
            "megabytes": peak_megabytes(),
        }
        print(json.dumps(found), flush=True)


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), sys.argv[3], sys.argv[4])
