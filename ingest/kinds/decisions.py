"""Rules of a decisions file: which words are which ingredient, and what that settles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from dataclasses import replace as changed
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.decided import Decided, DecidedWords
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.new_ingredients import check_new, is_new
from ingest.kinds.pack_reader import PackReader
from ingest.kinds.settle_dishes import settle_dishes
from ingest.kinds.settle_prices import settle_prices
from ingest.problem_codes import Code
from ingest.text.header import Heading
from ingest.text.rows import Row
from ingest.text.sentences import counted, quoted
from pricing.book import known, tray
from pricing.book.connect import Connection
from pricing.errors import MeasureRefused, Problem
from pricing.names import NOT_AN_INGREDIENT, name_key

Key = tuple[str, str]  # of the sender, of the words


@dataclass(frozen=True, kw_only=True)
class NewDecision:
    """A row that decides."""

    row: Row
    key: Key
    decided: Decided


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what a decisions file adds to the book, and what of the tray it settles."""
    checked, kitchen = Checked(), Kitchen(con)
    stated = [row for row in rows if not row.bad and row.value["ingredient"] is not None]
    _remark_undecided(len([row for row in rows if not row.bad]) - len(stated), checked)
    makes = [row for row in stated if is_new(row, kitchen)]
    new = check_new(con, makes, kitchen, options)
    checked.problems += new.problems
    checked.remarks += new.remarks
    decisions = _read(stated, kitchen, new, checked)
    if not options.replace:
        decisions = _with_before(con, decisions)
    fresh = _not_in_book(con, decisions, options, checked)
    good = _good(decisions, checked)
    words = DecidedWords(con, kitchen)
    words.add((*each.key, each.decided) for each in good)
    prices = settle_prices(con, words, kitchen, {each.key: each.row for each in good}, options)
    checked.problems += prices.problems
    checked.remarks += prices.remarks
    good, fresh = _good(good, checked), _good(fresh, checked)
    dishes = settle_dishes(
        con, words, kitchen, {each.key[1]: each.row for each in good if not each.key[0]}
    )
    checked.remarks += dishes.remarks
    if checked.problems:  # what is left makes only the ingredients that it names
        named = {each.decided.ingredient.name_key for each in good if each.decided.ingredient}
        makes = [row for row in makes if name_key(row.value["ingredient"]) in named]
        new = check_new(con, makes, Kitchen(con), options)
    checked.added = len(fresh)
    checked.store = lambda con: _store(con, fresh, (new, prices, dishes))
    return checked


def _remark_undecided(many: int, checked: Checked) -> None:
    if many:
        checked.remarks.append(f"{counted(many, 'row')} without an ingredient: not decided yet.")


def _read(
    rows: Sequence[Row], kitchen: Kitchen, new: Checked, checked: Checked
) -> list[NewDecision]:
    """Return the decisions that can be read, each words of a sender once."""
    packs, bad = PackReader(kitchen), new.bad_lines()
    once: dict[Key, NewDecision] = {}
    for row in rows:
        if row.line in bad:
            continue
        decided = _decided(row, kitchen, packs, checked)
        if decided is None:
            continue
        key = (name_key(row.value["sender"] or ""), name_key(row.value["words"]))
        first = once.setdefault(key, NewDecision(row=row, key=key, decided=decided))
        if first.decided != decided:
            checked.problems.append(_twice(row, first))
            checked.leave_out([first.row], "another row decides the same words in another way")
        elif first.row is not row:
            checked.already += 1
    return list(once.values())


def _decided(row: Row, kitchen: Kitchen, packs: PackReader, checked: Checked) -> Decided | None:
    name, pack = row.value["ingredient"], row.value["pack"]
    if name_key(name) == NOT_AN_INGREDIENT:
        return Decided(ingredient=None)
    ingredient = kitchen.find(name)
    if ingredient is None:
        remedy = (
            "Correct the name, or make it a new ingredient: state its base (g, ml or each) in the "
            f"same row. What is no food is decided as '{NOT_AN_INGREDIENT}'."
        )
        checked.problems.append(kitchen.unknown_ingredient(row, "ingredient", name, remedy))
        return None
    read = None if pack is None else packs.read(ingredient, pack)
    if isinstance(read, MeasureRefused):
        checked.problems.append(row.refused("pack", read))
        return None
    return Decided(ingredient=ingredient, pack=pack, product=row.value["product"])


def _twice(row: Row, first: NewDecision) -> Problem:
    return row.problem(
        "words",
        f"{quoted(row.value['words'])} decided in another way",
        f"one decision for the same words, as on line {first.row.line}",
        "Remove one of the two rows.",
    )


def _not_in_book(
    con: Connection, decisions: Sequence[NewDecision], options: Options, checked: Checked
) -> list[NewDecision]:
    """Return the decisions that are new, or take the place of another with `replace`."""
    in_book = {(each.sender_key, each.words_key): each for each in tray.decisions(con)}
    names = {each.ingredient_id: each.name for each in known.ingredients(con)}
    fresh = []
    for each in decisions:
        there = in_book.get(each.key)
        if there is None:
            fresh.append(each)
            continue
        ingredient = each.decided.ingredient
        here = (ingredient and ingredient.ingredient_id, each.decided.pack, each.decided.product)
        if here == (there.ingredient_id, there.pack, there.product):
            checked.already += 1
        elif options.replace:
            fresh.append(each)
        elif here[0] == there.ingredient_id and (
            there.pack in (None, here[1]) and there.product in (None, here[2])
        ):
            fresh.append(each)  # a pack or product where none was: it adds to what was decided
        else:
            was = NOT_AN_INGREDIENT
            if there.ingredient_id is not None:
                was = names.get(there.ingredient_id, "an ingredient that is gone")
            before = (was, there.pack, there.product)
            same = here[0] == there.ingredient_id
            checked.problems.append(_decided_before(each.row, before, same_ingredient=same))
    return fresh


def _with_before(con: Connection, decisions: Sequence[NewDecision]) -> list[NewDecision]:
    """Return the decisions with the pack and product decided before, where they state none."""
    in_book = {(each.sender_key, each.words_key): each for each in tray.decisions(con)}
    found = []
    for each in decisions:
        there, decided = in_book.get(each.key), each.decided
        ingredient = decided.ingredient
        if there and ingredient and ingredient.ingredient_id == there.ingredient_id:
            pack, product = decided.pack or there.pack, decided.product or there.product
            each = changed(each, decided=changed(decided, pack=pack, product=product))
        found.append(each)
    return found


def _decided_before(
    row: Row, before: tuple[str, str | None, str | None], *, same_ingredient: bool
) -> Problem:
    was, pack, product = before
    column, expected = "ingredient", f"{quoted(was)}{f', pack {pack}' if pack else ''}"
    if same_ingredient:
        column = "pack" if pack and row.value["pack"] not in (None, pack) else "product"
        expected = quoted((pack if column == "pack" else product) or "nothing")
    return row.problem(
        column,
        quoted(row.value[column] or ""),
        f"{expected}, as these words were decided before",
        "Correct the row, or load the file with --replace: the new decision counts from now on, "
        "and prices that came by the old one stay until its load is undone.",
        Code.FACT_DIFFERS,
    )


def _good(decisions: Sequence[NewDecision], checked: Checked) -> list[NewDecision]:
    """Return the decisions that are not refused: nothing is settled by one that is."""
    bad = checked.bad_lines()
    return [each for each in decisions if each.row.line not in bad]


def _store(con: Connection, fresh: Sequence[NewDecision], parts: Sequence[Any]) -> Stored:
    """Store new ingredients first: the others name them."""
    new, prices, dishes = parts
    made = new.store(con)
    ids = known.named_ingredients(con)

    def stored_id(decided: Decided) -> int | None:
        ingredient = decided.ingredient
        return None if ingredient is None else ids[ingredient.name_key]

    settled = prices.store(con, stored_id)
    restated = dishes.store(con, stored_id)
    tables = {
        **made.tables,
        **settled.tables,
        **restated.tables,
        "decision": {
            "line": [each.row.line for each in fresh],
            "raw": [each.row.raw for each in fresh],
            "sender": [each.row.value["sender"] for each in fresh],
            "sender_key": [each.key[0] for each in fresh],
            "words": [each.row.value["words"] for each in fresh],
            "words_key": [each.key[1] for each in fresh],
            "ingredient_id": [stored_id(each.decided) for each in fresh],
            "pack": [each.decided.pack for each in fresh],
            "product": [each.decided.product for each in fresh],
        },
    }
    return Stored(tables=tables, touched=made.touched | settled.touched)
