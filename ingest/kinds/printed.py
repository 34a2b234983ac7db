"""Rules of a file of printed figures: costs of dish versions that the book has, as printed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.printed_evidence import Evidence
from ingest.text.header import Heading
from ingest.text.rows import Row
from ingest.text.sentences import quoted
from pricing.book import known
from pricing.book.append import reserve_row_ids
from pricing.book.connect import Connection
from pricing.names import name_key, nearest
from pricing.printed.amount import sign_of_another_currency


@dataclass(frozen=True, kw_only=True)
class _New:
    """A figure that the book does not hold."""

    row: Row
    dish_id: int
    costed_on: date


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what a file of printed figures adds to the book."""
    kitchen, checked = Kitchen(con), Checked()
    labels: dict[int, list[str]] = {}
    for version in known.versions(con):
        labels.setdefault(version.dish_id, []).append(version.version)
    seen = known.printed_figures(con)
    evidence = Evidence(con)
    new: list[_New] = []
    for row in rows:
        before = len(checked.problems)
        _check_days(row, options.today, checked)
        _check_currency(row, checked)
        dish_id = _dish(row, kitchen, labels, checked)
        if dish_id is None or row.bad or len(checked.problems) > before:
            continue
        key, costed_on = _key(dish_id, row), _costed_on(row, options.today)
        if _costed_otherwise(row, seen.get(key), checked):
            continue
        if not evidence.take(row, key, checked):
            continue
        if key in seen:
            checked.already += 1
        else:
            seen[key] = costed_on
            new.append(_New(row=row, dish_id=dish_id, costed_on=costed_on))
    _remark_other_amounts(new, seen, checked)
    checked.added = len(new)
    checked.store = lambda con: _store(con, new, evidence)
    return checked


def _key(dish_id: int, row: Row) -> tuple[Any, ...]:
    """Return what two rows of one printed figure agree in."""
    value, amount = row.value, row.value["cost_per_portion"]
    return known.printed_key(
        dish_id, value["version"], value["published_on"], amount.amount, value["currency"],
        value["where"], amount.words,
    )  # fmt: skip


def _costed_on(row: Row, today: date) -> date:
    """Return the day a figure rests on: as stated, else that of publication, but never ahead."""
    value = row.value
    stated: date | None = value["costed_on"]
    return stated or min(value["published_on"], today)


def _check_days(row: Row, today: date, checked: Checked) -> None:
    published_on, costed_on = row.value["published_on"], row.value["costed_on"]
    if costed_on is None:
        return
    if costed_on > today:
        checked.problems.append(
            row.problem(
                "costed_on",
                f"{costed_on}, which is in the future",
                f"a date up to today, {today}",
                "Give the day whose prices the figure rests on, or leave the cell empty.",
            )
        )
    elif published_on is not None and costed_on > published_on:
        checked.problems.append(
            row.problem(
                "costed_on",
                f"{costed_on}, which is after the figure was published",
                f"a date up to {published_on}",
                "Correct one of the two days, or leave this one empty.",
            )
        )


def _check_currency(row: Row, checked: Checked) -> None:
    amount, currency = row.value["cost_per_portion"], row.value["currency"]
    if amount is None or currency is None:
        return
    sign = sign_of_another_currency(amount.words, currency)
    if sign is not None:
        checked.problems.append(
            row.problem(
                "cost_per_portion",
                f"{quoted(amount.words)}, an amount in {sign}",
                f"one in {currency}, as the column currency says",
                "Correct one of the two.",
            )
        )


def _costed_otherwise(row: Row, held: date | None, checked: Checked) -> bool:
    """Tell whether the book, or a row above, has this figure for another day; add the problem."""
    stated = row.value["costed_on"]
    if held is None or stated is None or stated == held:
        return False
    checked.problems.append(
        row.problem(
            "costed_on",
            f"{stated}, where this figure is held already as costed for {held}",
            f"{held}, or an empty cell",
            "To correct the day, undo the load that brought the figure, and load it again.",
        )
    )
    return True


def _dish(
    row: Row, kitchen: Kitchen, labels: Mapping[int, Sequence[str]], checked: Checked
) -> int | None:
    """Return the id of the figure's dish, or None after adding the row's problems."""
    value = row.value
    if value["dish"] is None or not row.whole:
        return None
    dish_id, name = kitchen.dishes.get(name_key(value["dish"]), (None, ""))
    if dish_id is None:
        checked.problems.append(kitchen.unknown_dish(row, "dish", value["dish"]))
    elif value["version"] is not None and value["version"] not in labels.get(dish_id, ()):
        near = nearest(value["version"], labels.get(dish_id, ()), most=1)
        checked.problems.append(
            row.problem(
                "version",
                f"version {quoted(value['version'])} of {name}",
                f"one of {', '.join(labels.get(dish_id, ()))}",
                f"Labels compare exactly. Nearest: {near[0]}." if near else "Correct the version.",
            )
        )
        return None
    return dish_id


def _remark_other_amounts(
    new: Sequence[_New], figures: Iterable[tuple[Any, ...]], checked: Checked
) -> None:
    """Tell where a dish has several amounts of one day: each is a figure, or one is a mistake."""
    amounts: dict[tuple[Any, ...], set[Decimal]] = {}
    for dish_id, version, published_on, amount, currency, *_ in figures:
        amounts.setdefault((dish_id, version, published_on, currency), set()).add(amount)
    for each in new:
        value = each.row.value
        currency = value["currency"]
        told = (each.dish_id, value["version"], value["published_on"], currency)
        if len(found := sorted(amounts.pop(told, ()))) > 1:
            *others, last = (f"{amount.normalize():f}" for amount in found)
            checked.remarks.append(
                f"Printed for {quoted(value['dish'])}, version {value['version']}, on "
                f"{value['published_on']}: {', '.join(others)} and {last} {currency}. "
                f"{'All' if others[1:] else 'Both'} are in force; if one is a mistake, undo the "
                "load that brought it."
            )


def _store(con: Connection, new: Sequence[_New], evidence: Evidence) -> Stored:
    rows = [each.row for each in new]
    value = [row.value for row in rows]
    row_ids = reserve_row_ids(con, len(new))
    lines = [row.line for row in rows]
    figures: dict[str, list[Any]] = {
        "row_id": row_ids,
        "line": lines,
        "raw": [row.raw for row in rows],
        "dish_id": [each.dish_id for each in new],
        "cost_per_portion": [each["cost_per_portion"].amount for each in value],
        "published_where": [each["where"] for each in value],
        **{
            name: [each[name] for each in value]
            for name in ("version", "published_on", "currency", "note")
        },
    }
    details: dict[str, list[Any]] = {
        "line": lines,
        "raw": [None for _ in rows],  # the figure's own row has it
        "figure_row": row_ids,
        "costed_on": [each.costed_on for each in new],
        "as_printed": [each["cost_per_portion"].words for each in value],
    }
    at = dict(zip(lines, row_ids, strict=True))
    return Stored(
        tables={
            "printed_figure": figures,
            "printed_detail": details,
            "printed_evidence": evidence.columns(at),
        }
    )
