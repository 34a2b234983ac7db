"""How often the long loops run: whole where everything is checked, a tenth elsewhere."""

from __future__ import annotations

import os

WHOLE = os.environ.get("PORTIONDRIFT_LOOPS") == "whole"  # as `.ci/run` sets it
LEAST = 3


def rounds(whole: int) -> int:
    """Return how often a loop of `whole` rounds runs: a tenth of them, but three at least.

    All of them where PORTIONDRIFT_LOOPS is `whole`.
    """
    return whole if WHOLE else min(whole, max(LEAST, whole // 10))
