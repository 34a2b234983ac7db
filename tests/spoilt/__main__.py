"""`python -m tests.spoilt`: spoils a copy of the project, fault by fault, and says what passed."""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path
from queue import SimpleQueue

from tests.spoilt.faults import Fault, read_faults, sample
from tests.spoilt.run import Outcome, copy_tree, run_tests, try_fault

ROOT = Path(__file__).parents[2]


def main(arguments: Sequence[str] | None = None) -> int:
    """Try the faults asked for; return 1 when one passed, or could not be tried."""
    asked = _parser().parse_args(arguments)
    faults = _chosen(asked, read_faults())
    with tempfile.TemporaryDirectory(prefix="spoilt-") as folder:
        first = copy_tree(ROOT, Path(folder) / "1")
        if failing := _unspoilt(faults, first):
            print(failing)
            return 1
        trees: SimpleQueue[Path] = SimpleQueue()
        trees.put(first)
        for number in range(2, asked.jobs + 1):
            trees.put(copy_tree(first, Path(folder) / str(number), compiled=True))
        with ThreadPoolExecutor(asked.jobs) as pool:
            outcomes = list(pool.map(lambda fault: _try(fault, trees), faults))
    bad = [each for each in outcomes if not each.caught]
    print(f"{len(outcomes) - len(bad)} of {len(outcomes)} faults are caught.")
    return 1 if bad else 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.spoilt", description=__doc__)
    parser.add_argument("ids", nargs="*", metavar="ID", help="faults to try; all unless named")
    parser.add_argument("--sample", type=int, metavar="N", help="only so many, picked by --date")
    parser.add_argument("--date", type=date.fromisoformat, metavar="YYYY-MM-DD")
    parser.add_argument("--jobs", type=int, default=1, metavar="N", help="so many side by side")
    return parser


def _chosen(asked: argparse.Namespace, faults: list[Fault]) -> list[Fault]:
    unknown = set(asked.ids) - {each.id for each in faults}
    if unknown:
        sys.exit(f"No such fault: {', '.join(sorted(unknown))}.")
    if asked.ids:
        return [each for each in faults if each.id in asked.ids]
    if asked.sample is None:
        return faults
    if asked.date is None:
        sys.exit("A sample is picked by date: give --date YYYY-MM-DD, too.")
    return sample(faults, asked.sample, asked.date)


def _unspoilt(faults: Sequence[Fault], tree: Path) -> str | None:
    """Return what is wrong with the named tests before anything is spoilt; None: they pass."""
    tests = sorted({test for fault in faults for test in fault.tests})
    results = run_tests(tests, tree, unspoilt=True)
    if isinstance(results, str):
        return f"Unspoilt: {results}"
    failing = [test for test in tests if set(results.get(test, ["not run"])) != {None}]
    return f"These do not pass unspoilt: {', '.join(failing)}" if failing else None


def _try(fault: Fault, trees: SimpleQueue[Path]) -> Outcome:
    tree = trees.get()
    begun = time.monotonic()
    try:
        outcome = try_fault(fault, tree)
    finally:
        trees.put(tree)
    took = time.monotonic() - begun
    said = "caught" if outcome.caught else "NOT CAUGHT"
    print(f"{said:<10} {took:5.1f} s  {fault.id}", flush=True)
    if not outcome.caught:
        print(f"    {outcome.said}\n    {fault.why}", flush=True)
    return outcome


if __name__ == "__main__":
    sys.exit(main())
