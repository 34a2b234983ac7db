"""Takes one row back: a price, a swap, a printed figure or a decision stops counting."""

from __future__ import annotations

from dataclasses import dataclass

from pricing.book.connect import Connection
from pricing.book.derive import refresh_prices
from pricing.book.read import rows
from pricing.clock import now
from pricing.errors import InputRefused

# the tables whose rows are taken back one by one, and what a row of each is called
SINGLE = {
    "observation": "price",
    "swap": "swap",
    "printed_figure": "printed figure",
    "decision": "decision",
}


@dataclass(frozen=True, kw_only=True)
class RowTakenBack:
    """What was taken back."""

    row: int
    what: str  # price, swap, printed figure or decision
    name: str  # the ingredient, the dish, or the words decided on
    rows: int  # that no longer count: with the prices that a decision brought


def retract_row(con: Connection, row: int, *, reason: str = "") -> RowTakenBack:
    """Retract one row that still counts, and what came by it alone.

    With a printed figure goes its kept evidence; with a decision, the prices that it brought, whose
    lines then wait in the tray again. Call it inside `connect.writing`. Raises InputRefused for a
    row that is none of these, one that counts no more, and a decision that restated a dish.
    """
    found = rows(con, "book/single_row", {"row": row})
    if not found:
        raise InputRefused(
            f"Found no price, swap, printed figure or decision in row {row} of the book; expected "
            "the number of one. `prices`, `swaps`, `printed` and `tray` with --json name them; a "
            "whole load is taken back by `undo` with its number."
        )
    (one,) = found
    what = SINGLE[one["kept_in"]]
    if one["retracted"]:
        raise InputRefused(
            f"Found row {row}, a {what} of {one['name']}, which was taken back already; expected "
            "one that counts."
        )
    if one["restated"]:
        raise InputRefused(
            f"Cannot take back the decision on '{one['name']}' alone: its load {one['batch']} also "
            f"restated recipes by it. Undo load {one['batch']}, or decide anew: the later decision "
            "counts."
        )
    why = f"row {row} taken back" + (f": {reason.strip()}" if reason.strip() else "")
    gone = rows(con, "book/rows_with_a_row", {"row": row})
    con.executemany(
        "INSERT INTO retraction VALUES ($row, $at, $why)",
        [{"row": each["row_id"], "at": now(), "why": why} for each in gone],
    )
    touched = {each["ingredient_id"] for each in gone if each["ingredient_id"] is not None}
    if touched:
        refresh_prices(con, touched)
    return RowTakenBack(row=row, what=what, name=one["name"], rows=len(gone))
