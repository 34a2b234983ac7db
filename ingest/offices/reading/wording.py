"""Tells from an office's words what a series is: index or rate, adjusted or not, on which base."""

from __future__ import annotations

import re

_RATE = re.compile(
    r"\brates?\b|weight|%|per ?cent\b|percentage|\bchange\b|contribution|variation",
    re.IGNORECASE,
)
_ADJUSTED = re.compile(
    r"(?<!not )(?<!non-)(?<!un)seasonally adj|(?<!not )\bdeseasonali", re.IGNORECASE
)
_PRICE = re.compile(r"\bave(?:rage)?\.? price|\bdollars?\b|\bpence\b|\beuros?\b", re.IGNORECASE)
_MONTH = r"(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)[a-z]*"
_BASE = re.compile(
    rf"((?:{_MONTH}\.? (?:quarter )?)?(?:1[89]|20)\d\d(?:\s?[-/]\s?\d{{2,4}})?)"
    r"\s*=\s*(1000?)(?:\.0+)?\b"
)
_EMPTY = re.compile(r"\(\s*\)")  # the brackets round what was taken out
# Codes of statistical-data standards that stand for a rate, a change or a share.
RATE_CODES = frozenset(
    {"RCH_A", "RCH_M", "RCH_MV12MAVR", "RCH_A_AVG", "PC", "PT", "PA", "PD", "GY", "GM", "G1", "GQ",
     "GOY", "GOP", "PCH_SM", "PCH_PRE", "POP_PCH_PA_PT", "YOY_PCH_PA_PT", "ANR", "MOR", "CTG",
     "PER_THS_TOT", "WGT"}
)  # fmt: skip


def is_rate(words: str) -> bool:
    """Tell whether a title or label speaks of a rate, a change, a weight or a contribution.

    >>> is_rate("CPI ANNUAL RATE 00: ALL ITEMS 2015=100"), is_rate("CPI INDEX 01.1.2 : MEAT")
    (True, False)
    """
    return _RATE.search(words) is not None


def is_price(words: str) -> bool:
    """Tell whether a title speaks of average prices in money."""
    return _PRICE.search(words) is not None


def is_adjusted(words: str) -> bool:
    """Tell whether a title or label speaks of seasonal adjustment.

    >>> is_adjusted("Seasonally Adjusted"), is_adjusted("Not seasonally adjusted")
    (True, False)
    """
    return _ADJUSTED.search(words) is not None


def base_label(words: str) -> str | None:
    """Return the index reference period that a text names.

    >>> base_label("CPI INDEX 00: ALL ITEMS 2015=100"), base_label("Sep 2025 = 100.0")
    ('2015=100', 'Sep 2025=100')
    >>> base_label("Index, base year = 100")
    """
    found = _BASE.search(words)
    return f"{' '.join(found[1].split())}={found[2]}" if found else None


def without_base(title: str) -> str:
    """Return a title without the reference period at its end.

    >>> without_base("CPI INDEX 00: ALL ITEMS 2015=100")
    'CPI INDEX 00: ALL ITEMS'
    >>> without_base("Meat (excluding poultry) (2015=100)")
    'Meat (excluding poultry)'
    """
    return _EMPTY.sub("", _BASE.sub("", title)).strip(" ,;-")


def without_place(title: str) -> str:
    """Return a title without the place at its end, which begins with a capital.

    >>> without_place("Rice, pasta, cornmeal, US city average")
    'Rice, pasta, cornmeal'
    >>> without_place("Bread, rolls and buns"), without_place("Fresh fruit, Canada")
    ('Bread, rolls and buns', 'Fresh fruit')
    """
    what, comma, place = title.rpartition(", ")
    return what if comma and place[:1].isupper() else title


def plain_title(title: str) -> str:
    """Return a title in capitals as a title in a sentence; any other as it is.

    >>> plain_title("FOOD AND NON-ALCOHOLIC BEVERAGES"), plain_title("Fresh fruit")
    ('Food and non-alcoholic beverages', 'Fresh fruit')
    """
    return title[:1] + title[1:].lower() if title.isupper() else title
