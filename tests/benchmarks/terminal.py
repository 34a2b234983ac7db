"""Times `portiondrift cost DISH` on the demo book, start to end, and looks at its imports."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

TODAY = "2026-11-24"
TARGET_SECONDS = 0.35
UNWANTED = ("pandas", "altair", "streamlit", "scipy")
COMMAND = ("-c", "from dashboard.cli import main; main()")


def environment() -> dict[str, str]:
    return {**os.environ, "PORTIONDRIFT_TODAY": TODAY}


def children_seconds() -> float:
    """Return the processor time that all commands run so far have taken."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def portiondrift(*arguments: str, flags: tuple[str, ...] = ()) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *flags, *COMMAND, *arguments],
        capture_output=True,
        text=True,
        env=environment(),
        check=False,
    )


def demo_dishes(path: Path) -> list[str]:
    """Build the demo book at `path` and return its dishes; empty when there is no demo yet."""
    script = (
        "import sys, pathlib\n"
        "from dashboard.demo import make_demo\n"
        "from pricing.book.connect import reading\n"
        "from pricing.dishes.recipes import dish_names\n"
        "with reading(make_demo(pathlib.Path(sys.argv[1]))) as con:\n"
        "    print(*dish_names(con), sep='\\n')\n"
    )
    made = subprocess.run(
        [sys.executable, "-c", script, str(path)],
        capture_output=True,
        text=True,
        env=environment(),
        check=False,
    )
    return made.stdout.splitlines() if made.returncode == 0 else []


def imported(dish: list[str]) -> set[str]:
    """Return the names of all modules that one costing imports, as Python itself reports them."""
    seen = portiondrift(*dish, flags=("-X", "importtime")).stderr
    lines = [line for line in seen.splitlines() if line.startswith("import time:")]
    return {line.rsplit("|", 1)[1].strip() for line in lines}


def report_cost_command(repeats: int) -> None:
    """Print the wall time of one costing and whether it imports what it should not."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "demo.duckdb"
        dishes = demo_dishes(path)
        if not dishes:
            print("The demo book could not be built: `portiondrift cost` is not timed.")
            return
        command = ["--book", str(path), "cost", dishes[0], "--on", TODAY]
        first = portiondrift(*command)
        if first.returncode not in (0, 1) or not first.stdout:
            print(f"`portiondrift cost` failed and is not timed: {first.stderr.strip()[-300:]}")
            return
        runs, work = [], []
        for _ in range(repeats):
            start, busy = time.perf_counter(), children_seconds()
            portiondrift(*command)
            runs.append(time.perf_counter() - start)
            work.append(children_seconds() - busy)
        took = median(runs)
        verdict = "reached" if took <= TARGET_SECONDS else "MISSED"
        print(
            f"portiondrift cost '{dishes[0]}' on the demo book: {took:.2f} s ({min(runs):.2f} to "
            f"{max(runs):.2f}; processor {median(work):.2f} s), "
            f"at most {TARGET_SECONDS} wanted, {verdict}."
        )
        names = imported(command)
        roots = {name.split(".")[0] for name in names}
        unwanted = sorted(roots & set(UNWANTED))
        assert "duckdb" in roots, "no list of imports was found"
        print(
            f"It imports {len(names)} modules; of {', '.join(UNWANTED)}: "
            f"{', '.join(unwanted) + ', MISSED' if unwanted else 'none'}."
        )


if __name__ == "__main__":
    report_cost_command(5)
