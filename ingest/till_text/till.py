"""What was read of one receipt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ingest.brought import PriceLine
from pricing.errors import Problem


@dataclass(frozen=True, kw_only=True)
class Till:
    """A receipt; `lines` is empty while there are problems."""

    supplier: str | None  # a proposal: the first line, where it is words alone
    day: date | None
    lines: tuple[PriceLine, ...]
    total: Decimal | None  # as printed
    read_sum: Decimal  # of the lines and of what counts beside them: bags, deposits, vouchers
    problems: tuple[Problem, ...] = ()
    remarks: tuple[str, ...] = ()
