"""Times the reading of a large recipe page, in JSON-LD and in microdata.

    python -m tests.benchmarks.recipe_page [--kilobytes N] [--repeats N]

The page is invented: a recipe of 40 ingredients among so many kilobytes of marks and scripts.
Each reading is from bytes to the amounts of all lines. Printed are medians; the exit status is 1
over 0.3 s, or where a line is not read. The first reading of a process, which loads the tables, is
timed and printed, too, and counts.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from statistics import median

LINES = [f"{n} g ingredient number {n}, finely chopped" for n in range(1, 41)]
WANTED_S = 0.3


def pages(kilobytes: int) -> dict[str, bytes]:
    """Return the page in both forms."""
    recipe = {
        "@type": "Recipe",
        "name": "Forty things",
        "recipeYield": "4-6",
        "recipeIngredient": LINES,
    }
    script = f'<script type="application/ld+json">{json.dumps({"@graph": [recipe]})}</script>'
    items = "".join(f'<li itemprop="recipeIngredient">{line}</li>' for line in LINES)
    marked = (
        '<div itemscope itemtype="https://schema.org/Recipe"><h1 itemprop="name">Forty things</h1>'
        f'<span itemprop="recipeYield">4-6</span><ul>{items}</ul></div>'
    )
    one = '<div class="a b c"><p>Words of a page &amp; more of them.</p><a href="/x">on</a></div>'
    other = (one + "<script>var a = 1 < 2;</script>") * (kilobytes * 1024 // (len(one) + 31))
    return {
        form: f"<!DOCTYPE html><html><body>{other}{within}{other}</body></html>".encode()
        for form, within in (("JSON-LD", script), ("microdata", marked))
    }


def read(page: bytes) -> int:
    """Return how many lines of the page have an amount."""
    from ingest.recipe_files.amount import line_amount
    from ingest.recipe_files.read import read_recipes
    from ingest.recipes.line import read_recipe_line

    (recipe,) = read_recipes(page, "page.html").recipes
    return sum(line_amount(read_recipe_line(line)) is not None for _, line in recipe.lines)


def main() -> int:
    """Print the times; return the exit status."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kilobytes", type=int, default=500)
    parser.add_argument("--repeats", type=int, default=9)
    asked = parser.parse_args()
    worst = 0.0
    for form, page in pages(asked.kilobytes // 2).items():
        times = []
        for _ in range(asked.repeats):
            start = time.perf_counter()
            if read(page) != len(LINES):
                print(f"{form}: not every line was read")
                return 1
            times.append(time.perf_counter() - start)
        worst = max(worst, *times)
        size = f"{len(page) / 1024:.0f} kB"
        print(f"{form}, {size}: first {times[0]:.3f} s, median {median(times):.3f} s")
    print(f"wanted: {WANTED_S} s")
    return int(worst > WANTED_S)


if __name__ == "__main__":
    sys.exit(main())
