"""Times the cost of a whole catalogue over the years, beside pandas and polars doing the same.

    python -m tests.benchmarks.catalogue [--prices N] [--ingredients N] [--dishes N] [--months N]
                                         [--repeats N] [--folder FOLDER]

What is timed, on one invented book (synthetic_book.py):

- *portiondrift*: `pricing.drift` of every dish, from the closed file to the DataFrame; beside it
  `cost_catalogue` alone. The book keeps what each source asked and the typical price of each day
  of news, derived when prices are loaded; what deriving all of them takes is printed too, and a
  ratio that counts it in.
- *pandas*, *polars*: a straightforward script of the same rule (by_pandas.py, by_polars.py) over
  the raw rows. The rows are DataFrames in memory before the clock starts: reading files is free.

Each contender has a process of its own, with its libraries imported before the clock starts. They
run in turn, so that whatever else the machine does falls on all alike; one run each before the
first that counts. Figures are medians, and ratios of medians of one run of this program: seconds
mean little on another machine. On a busy machine look at the processor time as well: work shared
between processors gains less there. The answers must be the same to 1e-9, else the exit status
is 1.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median

# This process imports neither numpy nor pandas until the contenders are done: a child's peak
# memory begins at that of the process that starts it.
TODAY, LAST_MONTH = "2026-11-24", "2026-09"
SAME = 1e-9
TARGETS = {"pandas": 10, "polars": 5}  # so many times faster
MEMORY_TARGET = 1500  # megabytes


@dataclass(kw_only=True)
class Contender:
    """A process that runs when told to, and what it measured."""

    name: str
    process: subprocess.Popen[str]
    seconds: dict[str, list[float]] = field(default_factory=dict)
    processor: dict[str, list[float]] = field(default_factory=dict)  # seconds, of all processors
    ready_megabytes: float = 0.0
    megabytes: float = 0.0

    def answer(self) -> dict[str, float]:
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        if not line:
            sys.exit(f"{self.name} ended with status {self.process.wait()}.")
        found: dict[str, float] = json.loads(line)
        return found

    def say(self, word: str) -> dict[str, float]:
        assert self.process.stdin is not None
        self.process.stdin.write(word + "\n")
        self.process.stdin.flush()
        return self.answer()

    def run(self, word: str, *, counts: bool) -> None:
        found = self.say(word)
        if counts:
            self.seconds.setdefault(word, []).append(found["seconds"])
            self.processor.setdefault(word, []).append(found["processor"])
        self.megabytes = found["megabytes"]

    def close(self) -> None:
        assert self.process.stdin is not None
        self.process.stdin.close()
        self.process.wait()


def python(*arguments: str) -> list[str]:
    return [sys.executable, "-m", *arguments]


def environment() -> dict[str, str]:
    return {**os.environ, "PORTIONDRIFT_TODAY": TODAY}


def prepare(folder: Path, size: Sequence[int]) -> dict[str, float]:
    """Build the book and the raw rows in `folder`, unless they are there; return what it took."""
    facts = folder / "prepared.json"
    if facts.exists():
        held: dict[str, float] = json.loads(facts.read_text())
        if [held[name] for name in ("prices", "ingredients", "dishes")] == list(size):
            return held
        sys.exit(f"{folder} holds a book of another size; name another folder.")
    command = python("tests.benchmarks.synthetic_book", str(folder), *map(str, size))
    subprocess.run(command, check=True, env=environment())
    made: dict[str, float] = json.loads(facts.read_text())
    return made


def start(name: str, folder: Path, first: str) -> Contender:
    process = subprocess.Popen(
        python("tests.benchmarks.contender", name, str(folder), first, LAST_MONTH),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=environment(),
    )
    contender = Contender(name=name, process=process)
    contender.ready_megabytes = contender.answer()["megabytes"]
    return contender


def race(folder: Path, first: str, repeats: int) -> list[Contender]:
    """Run all contenders in turn, `repeats` times after one that does not count."""
    contenders = [start(name, folder, first) for name in ("portiondrift", *TARGETS)]
    for turn in range(repeats + 1):
        for contender in contenders:
            contender.run("drift", counts=turn > 0)
    for contender in contenders:
        contender.say("keep")
    ours = contenders[0]
    for turn in range(repeats + 1):
        ours.run("catalogue", counts=turn > 0)
    for contender in contenders:
        contender.close()
    return contenders


def differences(folder: Path, name: str) -> list[str]:
    """Return in words how a contender's answer differs from ours; nothing when they agree."""
    import numpy as np
    import pandas as pd

    ours, theirs = (
        pd.read_parquet(folder / f"{each}.answer.parquet") for each in ("portiondrift", name)
    )
    if len(ours) != len(theirs):
        return [f"{len(theirs)} rows, not {len(ours)}"]
    found = [
        f"{column} differs in {many} rows"
        for column in ("dish", "month", "version", "complete")
        if (many := int((ours[column].astype(str) != theirs[column].astype(str)).sum()))
    ]
    for column in ("cost_per_portion", "share_bridged"):
        close = np.isclose(ours[column], theirs[column], rtol=SAME, atol=1e-12, equal_nan=True)
        if not close.all():
            found.append(f"{column} differs in {(~close).sum()} rows")
    return found


def report(contenders: Sequence[Contender], derived_seconds: float) -> None:
    ours, *others = contenders
    took = median(ours.seconds["drift"])
    busy = median(ours.processor["drift"])
    print(
        f"{'':30}{'median s':>9}{'of':>16}{'× ours':>8}{'wanted':>8}"
        f"{'processor s':>13}{'× ours':>8}{'peak MB':>9}{'at start':>10}"
    )
    for each in contenders:
        runs = each.seconds["drift"]
        spread = f"{min(runs):.2f} to {max(runs):.2f}"
        work = median(each.processor["drift"])
        wanted = f"≥ {TARGETS[each.name]}" if each.name in TARGETS else ""
        name = each.name if each is not ours else "portiondrift, pricing.drift"
        print(
            f"{name:30}{median(runs):9.2f}{spread:>16}{median(runs) / took:8.2f}{wanted:>8}"
            f"{work:13.2f}{work / busy:8.2f}{each.megabytes:9.0f}{each.ready_megabytes:10.0f}"
        )
        if each is ours:
            alone, work = (median(of["catalogue"]) for of in (each.seconds, each.processor))
            print(f"{'portiondrift, cost_catalogue':30}{alone:9.2f}{work:45.2f}")
    print(
        f"Deriving all kept prices, as loading prices does: {derived_seconds:.1f} s. Counted in: "
        + ", ".join(
            f"{median(each.seconds['drift']) / (took + derived_seconds):.2f} × ours ({each.name})"
            for each in others
        )
    )
    for each in others:
        ratio = median(each.seconds["drift"]) / took
        verdict = "reached" if ratio >= TARGETS[each.name] else "MISSED"
        print(f"At most 1/{TARGETS[each.name]} of {each.name}: 1/{ratio:.1f}, {verdict}.")
    verdict = "reached" if ours.megabytes <= MEMORY_TARGET else "MISSED"
    print(f"At most {MEMORY_TARGET} MB: {ours.megabytes:.0f} MB, {verdict}.")


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--prices", type=int, default=5_000_000)
    parser.add_argument("--ingredients", type=int, default=1_000)
    parser.add_argument("--dishes", type=int, default=10_000)
    parser.add_argument("--months", type=int, default=180)
    parser.add_argument("--repeats", type=int, default=5)
    parser.add_argument("--folder", type=Path, help="keep the book here, and use it again")
    asked = parser.parse_args()
    year, month = map(int, LAST_MONTH.split("-"))
    at = year * 12 + month - asked.months
    with tempfile.TemporaryDirectory() as made:
        folder = asked.folder or Path(made)
        folder.mkdir(parents=True, exist_ok=True)
        facts = prepare(folder, (asked.prices, asked.ingredients, asked.dishes))
        print(
            f"{asked.prices:,} prices of {asked.ingredients:,} ingredients, "
            f"{asked.dishes:,} dishes, {asked.months} months; medians of {asked.repeats} runs, "
            f"{os.cpu_count()} processors"
        )
        contenders = race(folder, f"{at // 12}-{at % 12 + 1:02}", asked.repeats)
        report(contenders, facts["derived_seconds"])
        wrong = [
            f"{each.name}: {words}"
            for each in contenders[1:]
            for words in differences(folder, each.name)
        ]
    print("\n".join(wrong) if wrong else f"All answers are the same to {SAME:g}.")

    from tests.benchmarks.terminal import report_cost_command

    report_cost_command(asked.repeats)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
