"""Recipe lines that decisions settle: their dish version is stored anew with the ingredient."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from ingest.kinds.checked import Stored
from ingest.kinds.decided import Decided, DecidedWords
from ingest.kinds.dish_versions import TRIAL
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.settle_prices import StoredId
from ingest.kinds.waiting_amount import SOME, decided_amount, missing_of
from ingest.matching.words import number_key
from ingest.report import Remark
from ingest.text.rows import Row
from ingest.text.sentences import counted, quoted
from pricing.book import tray
from pricing.book.append import reserve_row_ids
from pricing.book.connect import Connection
from pricing.book.read import rows as asked
from pricing.book.tray import WaitingRecipeLine
from pricing.measures.read import Quantity
from pricing.names import name_key, waiting_words

_LINE = (
    "line", "raw", "ingredient_id", "sub_dish_id", "quantity", "unit", "amount", "dimension",
    "measure_key", "state", "yield_pct", "pantry", "note",
)  # fmt: skip
_VERSION = ("line", "raw", "dish_id", "version", "effective_from", "portions", "batch_weight_g")
_DETAIL = ("line", "raw", "dish_group", "minutes", "made_per_month", "target")
_TRIAL = ("line", "raw", *TRIAL)


@dataclass(frozen=True, kw_only=True)
class _Settled:
    """What becomes of one line: its ingredient and amount, or nothing of it is left."""

    row: Row  # that decides
    decided: Decided
    amount: Quantity | None  # None: the line goes
    written: tuple[str, str] | None  # quantity and unit


@dataclass(kw_only=True)
class SettledDishes:
    """Dish versions that are to be stored anew."""

    remarks: list[str] = field(default_factory=list)
    lines: dict[int, dict[int, _Settled]] = field(default_factory=dict)  # version row → position

    def store(self, con: Connection, stored_id: StoredId) -> Stored:
        """Return the versions and lines to store."""
        if not self.lines:
            return Stored(tables={})
        which = {"versions": sorted(self.lines)}
        versions = asked(con, "tray/versions_to_restate", which)
        new = dict(zip(which["versions"], reserve_row_ids(con, len(versions)), strict=True))
        lines = asked(con, "tray/lines_to_restate", which)
        detailed = [each for each in versions if each["has_detail"]]
        tried = [each for each in versions if each["has_trial"]]
        return Stored(
            tables={
                "dish_version": {
                    "row_id": [new[each["version_row"]] for each in versions],
                    **_columns(versions, _VERSION),
                },
                "dish_detail": {
                    "version_row": [new[each["version_row"]] for each in detailed],
                    **_columns(detailed, _DETAIL),
                },
                "dish_trial": {
                    "version_row": [new[each["version_row"]] for each in tried],
                    **_columns(tried, _TRIAL),
                },
                "dish_line": self._lines(lines, new, stored_id),
            }
        )

    def _lines(
        self, stored: Sequence[Mapping[str, Any]], new: Mapping[int, int], stored_id: StoredId
    ) -> dict[str, list[Any]]:
        places: dict[int, int] = {}
        columns: dict[str, list[Any]] = {name: [] for name in ("version_row", "position", *_LINE)}
        for each in stored:
            version, line = each["version_row"], dict(each)
            settled = self.lines[version].get(each["position"])
            if settled is not None:
                if settled.amount is None or settled.written is None:
                    continue
                line["ingredient_id"] = stored_id(settled.decided)
                line["quantity"], line["unit"] = settled.written
                line["amount"] = settled.amount.amount
                line["dimension"] = settled.amount.dimension
                line["measure_key"] = settled.amount.measure_key
            places[version] = line["position"] = places.get(version, 0) + 1
            line["version_row"] = new[version]
            for name, column in columns.items():
                column.append(line[name])
        return columns


def settle_dishes(
    con: Connection, words: DecidedWords, kitchen: Kitchen, rows: Mapping[str, Row]
) -> SettledDishes:
    """Return the versions of which a file of decisions settles lines.

    `rows`: key of the words → the row that decides. A line whose amount the ingredient cannot be
    counted in goes on waiting; a remark says so.
    """
    found, numbered = SettledDishes(), {number_key(key): row for key, row in rows.items()}
    for line in tray.waiting_recipe_lines(con):
        key = name_key(waiting_words(line.ingredient) or "")
        row, decided = rows.get(key), words.of_words("", key)
        if row is None and decided is None:  # of "eggs", where "egg" is decided
            row, decided = numbered.get(number_key(key)), words.in_other_number("", key)
        if row is None or decided is None:
            continue
        settled = _settled(line, row, decided, kitchen)
        if isinstance(settled, str):
            found.remarks.append(settled)
        else:
            found.lines.setdefault(line.version_row, {})[line.position] = settled
    if found.lines:
        many = sum(map(len, found.lines.values()))
        versions = counted(len(found.lines), "dish version")
        lines = counted(many, "recipe line")
        found.remarks.append(
            Remark(
                f"{lines} settled in {versions}.",
                would=f"{lines} would be settled in {versions}.",
            )
        )
    return found


def _settled(
    line: WaitingRecipeLine, row: Row, decided: Decided, kitchen: Kitchen
) -> _Settled | str:
    if decided.ingredient is None:
        return _Settled(row=row, decided=decided, amount=None, written=None)
    written, state = (line.quantity, line.unit), (line.state, line.yield_pct)
    missing = missing_of(written, (decided.pack, decided.ingredient), state, kitchen)
    if missing:
        return still_waits(line, decided.ingredient.name, missing)
    amount, kept = decided_amount(written, decided.pack, decided.ingredient, kitchen)
    return _Settled(row=row, decided=decided, amount=amount, written=kept)


def still_waits(line: WaitingRecipeLine, ingredient: str, missing: str) -> str:
    """Say why a recipe line waits although its ingredient is known."""
    said = quoted(line.note or f"{line.quantity} {line.unit} {waiting_words(line.ingredient)}")
    if line.unit == SOME:
        return (
            f"{said} of {line.dish} still waits: it states no amount. Write how much it is as the "
            "pack of the decision, such as 10 g."
        )
    return (
        f"{said} of {line.dish} still waits: {line.quantity} {line.unit} of {ingredient} needs its "
        f"{missing}. Load that first, then the decision again."
    )


def _columns(stored: Sequence[Mapping[str, Any]], names: Sequence[str]) -> dict[str, list[Any]]:
    return {name: [each[name] for each in stored] for name in names}
