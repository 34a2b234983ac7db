"""Which tests begin first: the long ones, so that no processor waits for another at the end."""

from __future__ import annotations

# Seconds of a file's (or folder's) tests with the long loops whole, roughly. Others take a few.
SECONDS = {
    "tests/browser/": 130,
    "tests/properties/test_as_printed.py": 52,
    "tests/properties/test_costing_laws.py": 37,
    "tests/pricing/book/test_check.py": 32,
    "tests/dashboard/views/test_pages.py": 28,
    "tests/properties/test_price_rule.py": 27,
    "tests/properties/test_loading_laws.py": 27,
    "tests/properties/test_why_laws.py": 24,
    "tests/properties/test_export_round_trip.py": 21,
    "tests/test_readme.py": 21,
    "tests/dashboard/terminal/test_cli.py": 20,
    "tests/properties/test_swap_choice_laws.py": 17,
    "tests/ingest/kinds/test_prices.py": 17,
    "tests/properties/test_swap_laws.py": 16,
    "tests/pricing/swaps/test_of_dish.py": 15,
    "tests/dashboard/views/test_why_pages.py": 15,
    "tests/dashboard/views/test_swaps.py": 12,
    "tests/pricing/book/test_archive.py": 12,
    "tests/pricing/printed/test_evidence.py": 12,
    "tests/faults/test_disk_full.py": 12,
    "tests/outside/test_bundled_us_cpi.py": 12,
    "tests/pricing/prices/test_price_rule_cases.py": 10,
    "tests/properties/test_till_laws.py": 10,
    "tests/dashboard/charts/test_waterfall.py": 9,
    "tests/dashboard/demo/test_demo_swaps.py": 9,
    "tests/dashboard/demo/test_demo_why.py": 9,
    "tests/test_spoilt.py": 5,
    "tests/pricing/book/test_connect.py": 8,
    "tests/ingest/offices/test_fetch.py": 8,
    "tests/dashboard/demo/test_demo_figures.py": 8,
    "tests/pricing/test_days_as_texts.py": 8,
    "tests/dashboard/views/test_official_series.py": 8,
    "tests/dashboard/terminal/test_json_keys.py": 8,
    "tests/properties/test_change_laws.py": 7,
    "tests/ingest/offices/test_kitchens_abroad.py": 7,
    "tests/dashboard/terminal/test_why_cli.py": 7,
    "tests/pricing/printed/test_check.py": 6,
    "tests/faults/test_bad_prices.py": 6,
    "tests/faults/test_bad_index_files.py": 6,
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
