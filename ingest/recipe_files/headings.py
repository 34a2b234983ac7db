"""Tells lines that head something in a recipe from ingredients: "For the sauce:", "Method"."""

from __future__ import annotations

import re

from ingest.recipe_files.words import any_of
from ingest.recipes.line import read_recipe_line

_MARKS = " \t#*_=-–—:.·•"
LONGEST_HEADING = 80  # characters


def heads(kind: str, line: str) -> bool:
    """Tell whether a line is one of these words alone: "## Method:".

    >>> heads("method", "## Zubereitung:"), heads("method", "Method of the mill")
    (True, False)
    """
    bare = line.strip(_MARKS)
    found = any_of(kind).match(bare)
    return bool(found and not bare[found.end() :].strip(_MARKS))


def is_heading(line: str) -> bool:
    """Tell whether a line of an ingredient list heads a part of it: it names no amount.

    >>> [is_heading(line) for line in ("For the sauce:", "For the sauce", "Salt", "Eggs: 3")]
    [True, True, False, False]
    """
    bare = line.strip(" \t#*_")
    if not bare.strip(_MARKS):
        return True
    if len(bare) > LONGEST_HEADING:
        return False
    alone = bare.endswith(":") or line.lstrip().startswith("#")
    begins = any_of("part").match(bare)
    if begins and not alone:
        # "to serve" alone heads; "to serve, lemon wedges" is an ingredient
        alone = not re.search(r"[,(]", bare) and len(bare.split()) <= 6
    alone = alone or heads("ingredients", bare) or heads("method", bare)
    return alone and read_recipe_line(bare).quantity is None
