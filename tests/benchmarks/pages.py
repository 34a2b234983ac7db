"""Times the web pages as a reader waits for them: headless Chromium drives the served pages.

    python -m tests.benchmarks.pages [--book demo] [--book large] [--times N] [--only NAME]
                                     [--folder FOLDER]

For each book (the demo kitchen; an invented one of 1,000 dishes and 300,000 prices): the start of
the server to the first figure; the first view of every page by a server that has kept nothing; each
of INTERACTIONS, N times; an idle tab over half a minute. A wait ends with the last change of the
page's content before a quarter of a second without one, while the page's program is not running
(page_clock.py). p50 and p95 are in milliseconds. Processor time is that of all processes of the
server, and of the browser, for each interaction, with what it does while nothing is asked. Beside
it stands the machine's load at the time: seconds mean little on a busy machine.
"""

from __future__ import annotations

import argparse
import math
import os
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from statistics import median

from playwright.sync_api import Browser, Page, expect

from dashboard.demo import make_demo
from tests.benchmarks.page_clock import settled, start_clock, wait_milliseconds
from tests.benchmarks.pages_book import make_large
from tests.benchmarks.pages_drive import DRIVERS
from tests.benchmarks.processor import Used, used
from tests.browser.serving import chromium_path, opened, serving, window
from tests.kitchen import TODAY


@dataclass(frozen=True, kw_only=True)
class Interaction:
    """One thing a reader does over and over: where, with which widget, to which values."""

    page: str  # its address; {dish} is the dish of BOOKS
    widget: str  # of pages_drive.DRIVERS
    label: str
    values: tuple[str, ...]  # in turn


# What has a name on the pages stands here, and nowhere else in this script. --------------------
INTERACTIONS = {
    "date": Interaction(page="dishes?dish={dish}", widget="date", label="Prices of",
                        values=("03", "17", "09", "21", "12", "05")),
    "dish": Interaction(page="dishes?dish={dish}", widget="choice",
                        label="Find a dish or an ingredient", values=("{dishes}",)),
    "years": Interaction(page="dishes?dish={dish}", widget="slider", label="Years",
                         values=("ArrowRight", "ArrowRight", "ArrowLeft", "ArrowLeft")),
    "target": Interaction(page="dishes?dish={dish}&down=yes", widget="number",
                          label="Target per portion", values=("0.50", "0.90", "1.20", "0.70")),
    "what-if": Interaction(page="ingredients?part=what-if&moved={ingredient}", widget="number",
                           label="{ingredient}, change", values=("25", "12", "-15", "40")),
    "filter": Interaction(page="dishes", widget="text", label="Find a dish", values=("{words}",)),
    "tolerance": Interaction(page="print", widget="number", label="Tolerance",
                             values=("12", "5", "20", "30")),
}  # fmt: skip
PAGES = (
    "", "dishes", "dishes?dish={dish}", "dishes?part=drivers", "dishes?part=inflation",
    "dishes?part=swaps", "dishes?part=bench", "dishes?part=new", "ingredients",
    "ingredients?ingredient={ingredient}", "ingredients?part=what-if&moved={ingredient}", "print",
    "print?part=round", "print?part=said", "book", "book?part=tray", "book?part=series",
    "book?part=loads",
)  # fmt: skip
FIRST_FIGURE = ("dishes?dish={dish}", "[data-testid=stMetricValue]")
IDLE_PAGE = "dishes?dish={dish}"
WARM_UP = "book?part=loads"  # a page that costs nothing, for the imports of the server
# -------------------------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class Asked:
    """A book, and what is chosen in it. All of `dishes` must differ in what they cost."""

    make: Callable[[Path], object]
    dish: str
    dishes: tuple[str, ...]
    words: tuple[str, ...]  # to find dishes by
    ingredient: str
    goal_ms: float  # p95


BOOKS = {
    "demo": Asked(
        make=make_demo,
        dish="smoky leek and potato soup",
        dishes=("macaroni and cheddar bake", "oatmeal loaf", "smoky leek and potato soup"),
        words=("soup", "pie", "loaf", "ba"),
        ingredient="butter",
        goal_ms=300,
    ),
    "large": Asked(
        make=make_large,
        dish="Dish 00500",
        dishes=("Dish 00501", "Dish 00640", "Dish 00702", "Dish 00815", "Dish 00933", "Dish 00500"),
        words=("Dish 005", "Dish 0", "0077", "Dish 009"),
        ingredient="Ingredient 0001",
        goal_ms=500,
    ),
}
FIRST_VIEW_MS, START_MS, IDLE_PCT = 1500.0, 3000.0, 0.3
IDLE_SECONDS = 30.0


def filled(text: str, asked: Asked) -> str:
    dish, ingredient = (each.replace(" ", "+") for each in (asked.dish, asked.ingredient))
    return text.replace("{dish}", dish).replace("{ingredient}", ingredient)


def values_of(interaction: Interaction, asked: Asked) -> tuple[str, ...]:
    named = {"{dishes}": asked.dishes, "{words}": asked.words}
    return named.get(interaction.values[0], interaction.values)


def load() -> str:
    return f"{os.getloadavg()[0]:.1f}"


def percentile(runs: list[float], share: float) -> float:
    """Return the smallest run that so large a share of them does not pass (nearest rank)."""
    return sorted(runs)[math.ceil(share * len(runs)) - 1]


def mark(value: float, goal: float) -> str:
    return "" if value <= goal else f"  over {goal:g}"


def open_page(page: Page, address: str, where: str) -> float:
    """Return the milliseconds from asking for a page to the last change of its content."""
    page.goto("about:blank")
    start_clock(page)
    began = time.perf_counter()
    page.goto(f"{address}/{where}")
    still_ms = settled(page)
    return 1000 * (time.perf_counter() - began) - still_ms


def first_figure(browser: Browser, book: Path, log: Path, asked: Asked) -> float:
    """Return the milliseconds from the start of the server to the first figure on a page."""
    where, figure = FIRST_FIGURE
    with window(browser, 1280, 1000) as page:
        began = time.perf_counter()
        with serving(book, log) as address:
            page.goto(f"{address}/{filled(where, asked)}")
            expect(page.locator(figure).first).to_be_visible()
            return 1000 * (time.perf_counter() - began)


def first_views(page: Page, address: str, asked: Asked) -> None:
    print("\n| first view | ms | server CPU ms | browser CPU ms | load |\n|---|---|---|---|---|")
    open_page(page, address, WARM_UP)
    for where in PAGES:
        before, busy = used(), load()
        took = open_page(page, address, filled(where, asked))
        spent = used() - before
        print(
            f"| {where or '/'} | {took:.0f}{mark(took, FIRST_VIEW_MS)} | "
            f"{spent.server_ms:.0f} | {spent.browser_ms:.0f} | {busy} |",
            flush=True,
        )


def interact(page: Page, address: str, name: str, asked: Asked, times: int) -> None:
    what = INTERACTIONS[name]
    open_page(page, address, filled(what.page, asked))
    prepare = DRIVERS[what.widget]
    label = what.label.replace("{ingredient}", asked.ingredient)
    values = values_of(what, asked)
    runs: list[float] = []
    spent, busy = Used(server_ms=0, browser_ms=0), load()
    for turn in range(times):
        act = prepare(page, label, values[turn % len(values)])
        before = used()
        runs.append(wait_milliseconds(page, act))
        spent += used() - before
    p95 = percentile(runs, 0.95)
    print(
        f"| {name} | {median(runs):.0f} | {p95:.0f}{mark(p95, asked.goal_ms)} | "
        f"{spent.server_ms / times:.0f} | {spent.browser_ms / times:.0f} | {busy} |",
        flush=True,
    )


def idle(page: Page, address: str, asked: Asked) -> None:
    open_page(page, address, filled(IDLE_PAGE, asked))
    time.sleep(5)
    before, busy = used(), load()
    time.sleep(IDLE_SECONDS)
    spent = used() - before
    server, browser = (each / (10 * IDLE_SECONDS) for each in (spent.server_ms, spent.browser_ms))
    print(
        f"\nAn idle tab: server {server:.2f} % of a core{mark(server, IDLE_PCT)}, "
        f"browser {browser:.2f} % (load {busy})."
    )


def measure(browser: Browser, name: str, folder: Path, times: int, only: list[str]) -> None:
    asked = BOOKS[name]
    book, log = folder / f"{name}.duckdb", folder / f"{name}.log"
    if not book.exists():
        asked.make(book)
    print(f"\n## {name}\n")
    if not only:
        starts = [first_figure(browser, book, log, asked) for _ in range(3)]
        took = median(starts)
        print(f"Start of the server to the first figure: {took:.0f} ms{mark(took, START_MS)}, "
              f"the median of 3 (load {load()}).")  # fmt: skip
    with serving(book, log) as address, window(browser, 1280, 1000) as page:
        if not only or "pages" in only:
            first_views(page, address, asked)
        wanted = [each for each in INTERACTIONS if not only or each in only]
        if wanted:
            print(
                "\n| interaction | p50 ms | p95 ms | server CPU ms | browser CPU ms | load |\n"
                "|---|---|---|---|---|---|"
            )
        for each in wanted:
            interact(page, address, each, asked, times)
        if not only or "idle" in only:
            idle(page, address, asked)


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--book", action="append", choices=list(BOOKS))
    parser.add_argument("--times", type=int, default=30)
    parser.add_argument(
        "--only", action="append", choices=[*INTERACTIONS, "pages", "idle"], default=[]
    )
    parser.add_argument("--folder", type=Path, help="keep the books here, and use them again")
    given = parser.parse_args()
    os.environ["PORTIONDRIFT_TODAY"] = TODAY.isoformat()
    found = chromium_path()
    if found is None:
        print("Found no chromium; expected one to draw the pages. Install it and try again.")
        return 1
    with tempfile.TemporaryDirectory() as made, opened(found) as browser:
        folder = given.folder or Path(made)
        folder.mkdir(parents=True, exist_ok=True)
        print(f"{os.cpu_count()} processors, load {load()}, {given.times} times each.")
        for name in given.book or BOOKS:
            measure(browser, name, folder, given.times, given.only)
    return 0


if __name__ == "__main__":
    sys.exit(main())
