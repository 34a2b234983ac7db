"""Which tests begin first: the long ones, so that no processor waits for another at the end."""

from __future__ import annotations

# Seconds of a file's (or folder's) tests, roughly. What is not here takes a few.
SECONDS = {
    "tests/browser/": 60,
    "tests/pricing/book/test_check.py": 27,
    "tests/dashboard/views/test_pages.py": 20,
    "tests/test_readme.py": 18,
    "tests/dashboard/terminal/test_cli.py": 17,
    "tests/properties/test_export_round_trip.py": 15,
    "tests/pricing/book/test_archive.py": 15,
    "tests/pricing/swaps/test_of_dish.py": 15,
    "tests/pricing/printed/test_evidence.py": 11,
    "tests/dashboard/views/test_why_pages.py": 11,
    "tests/properties/test_costing_laws.py": 11,
    "tests/properties/test_swap_laws.py": 11,
    "tests/dashboard/demo/test_demo_why.py": 10,
    "tests/dashboard/views/test_swaps.py": 10,
    "tests/dashboard/demo/test_demo_swaps.py": 9,
    "tests/ingest/offices/test_kitchens_abroad.py": 9,
    "tests/pricing/book/test_connect.py": 9,
    "tests/faults/test_disk_full.py": 8,
    "tests/dashboard/views/test_official_series.py": 8,
    "tests/ingest/kinds/test_prices.py": 8,
    "tests/faults/test_bad_prices.py": 7,
    "tests/properties/test_till_laws.py": 7,
    "tests/properties/test_why_laws.py": 7,
    "tests/properties/test_loading_laws.py": 6,
    "tests/dashboard/charts/test_waterfall.py": 6,
}


def unit(nodeid: str) -> str:
    """Return what a test stays together with, in one process: its file, or all of the browser's.

    >>> unit("tests/browser/test_why.py::test_a"), unit("tests/test_readme.py::test_b")
    ('tests/browser/', 'tests/test_readme.py')
    """
    return "tests/browser/" if nodeid.startswith("tests/browser/") else nodeid.split("::")[0]


def seconds(nodeid: str) -> int:
    """Return how long the tests take that a test stays together with."""
    return SECONDS.get(unit(nodeid), 1)
