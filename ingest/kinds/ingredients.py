"""Rules of an ingredients file: one set of facts a name, and names that mean one thing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ingest.kinds.checked import Checked, Options, Stored
from ingest.kinds.contradictions import Group, agreeing
from ingest.kinds.differences import difference, shown_fact
from ingest.kinds.kitchen import Kitchen
from ingest.text.header import Heading
from ingest.text.rows import Row
from ingest.text.sentences import quoted
from pricing.book import known
from pricing.book.append import name_ingredients
from pricing.book.connect import Connection
from pricing.book.known import KnownIngredient
from pricing.book.read import read_settings
from pricing.book.uses import BASE_AS_IT_WAS, BrokenUse, FactsAfter, broken_uses
from pricing.contents.allergen_words import is_known, nearest_words
from pricing.errors import Problem
from pricing.measures.read import IngredientFacts
from pricing.names import WAITING, name_key, nearest

SUB_RECIPE = "dish:"  # what a recipe line begins with when it takes another dish
_FACTS = (
    "category",
    "base",
    "density_g_per_ml",
    "grams_each",
    "yield_pct",
    "series",
    "allergens",
    "aliases",
)


def check(con: Connection, rows: Sequence[Row], heading: Heading, options: Options) -> Checked:
    """Return what an ingredients file adds to the book."""
    kitchen, checked = Kitchen(con), Checked()
    rows = [row for row in rows if not row.bad]
    groups = agreeing(
        [row for row in rows if _may_be_named(row, checked)],
        key=lambda row: name_key(row.value["ingredient"]),
        facts=lambda row: tuple(_compared(row.value).values()),
        problem=_contradiction,
        checked=checked,
    )
    new: list[Group] = []
    for group in groups:
        in_book = kitchen.ingredients.get(name_key(group.first.value["ingredient"]))
        differing = [] if in_book is None else list(_differing(group.first, in_book, heading))
        if in_book is not None and not differing:
            checked.already += 1 + len(group.again)
        elif differing and not options.replace:
            checked.problems += differing
            group.leave_out_copies(checked)
        else:
            new.append(group)
    new = _without_clashes(new, kitchen, heading, checked)
    new = _without_broken_uses(con, new, kitchen, heading, checked)
    _remark_series(con, new, checked)
    _remark_allergens(new, checked)
    checked.added = len(new)
    checked.already += sum(len(group.again) for group in new)
    checked.store = lambda con: _store(con, new, kitchen, heading)
    return checked


def _may_be_named(row: Row, checked: Checked) -> bool:
    name = row.value["ingredient"]
    mark = next((each for each in (SUB_RECIPE, WAITING) if name_key(name).startswith(each)), None)
    if mark is None:
        return True
    means = "a sub-recipe" if mark == SUB_RECIPE else "a line that waits for a decision"
    checked.problems.append(
        row.problem(
            "ingredient",
            quoted(name),
            f"a name that does not begin with '{mark}'",
            f"That beginning marks {means} in a dish; choose another name.",
        )
    )
    return False


def _compared(facts: Mapping[str, Any]) -> dict[str, Any]:
    """Return the facts in the form in which they compare."""
    own = name_key(facts["ingredient"]) if "ingredient" in facts else None
    compared = {name: facts[name] for name in _FACTS}
    if compared["allergens"] is not None:
        compared["allergens"] = frozenset(map(name_key, compared["allergens"]))
    compared["aliases"] = frozenset(map(name_key, compared["aliases"] or ())) - {own}
    return compared


def _facts_of(in_book: KnownIngredient) -> dict[str, Any]:
    facts = {"ingredient": in_book.name, **{name: getattr(in_book, name) for name in _FACTS}}
    return facts | {"aliases": in_book.aliases or None}  # as an empty cell is read


def _after(row: Row, in_book: KnownIngredient | None, heading: Heading) -> dict[str, Any]:
    """Return the facts as they would be: a column that the file does not have says nothing."""
    book = _facts_of(in_book) if in_book else dict.fromkeys(_FACTS)
    return {
        "ingredient": row.value["ingredient"],
        **{name: row.value[name] if heading.has(name) else book[name] for name in _FACTS},
    }


def _differing(row: Row, in_book: KnownIngredient, heading: Heading) -> Iterator[Problem]:
    there, here = _facts_of(in_book), _after(row, in_book, heading)
    now, then = _compared(here), _compared(there)
    for name in _FACTS:
        if now[name] != then[name]:
            yield difference(row, name, here[name], there[name], in_book.name)


def _contradiction(first: Row, row: Row) -> tuple[str, str, str]:
    here, there = _compared(row.value), _compared(first.value)
    column = next(name for name in _FACTS if here[name] != there[name])
    name = quoted(row.value["ingredient"])
    return (
        column,
        f"{name} again with {shown_fact(row.value[column])}",
        f"{shown_fact(first.value[column])} as on line {first.line}",
    )


def _without_clashes(
    groups: list[Group], kitchen: Kitchen, heading: Heading, checked: Checked
) -> list[Group]:
    """Refuse rows through which a name or alias would mean two ingredients."""
    while True:
        by_key = {name_key(group.first.value["ingredient"]): group for group in groups}
        owners: dict[str, set[str]] = {}  # name or alias → ingredients it would mean
        for key, in_book in kitchen.ingredients.items():
            if key not in by_key:
                for each in (key, *map(name_key, in_book.aliases)):
                    owners.setdefault(each, set()).add(key)
        for key, group in by_key.items():
            after = _after(group.first, kitchen.ingredients.get(key), heading)
            for each in (key, *_compared(after)["aliases"]):
                owners.setdefault(each, set()).add(key)
        clashing = set()
        for shared, keys in owners.items():
            if len(keys) > 1:
                for key in keys & set(by_key):
                    clashing.add(key)
                    checked.problems.append(_clash(by_key[key].first, shared, keys - {key}))
        if not clashing:
            return groups
        for key in clashing:
            by_key[key].leave_out_copies(checked)
        groups = [group for key, group in by_key.items() if key not in clashing]


def _clash(row: Row, shared: str, others: set[str]) -> Problem:
    own = name_key(row.value["ingredient"])
    return row.problem(
        "ingredient" if shared == own else "aliases",
        f"{quoted(shared)}, which is also a name or alias of {quoted(sorted(others)[0])}",
        "names and aliases that mean one ingredient",
        "Remove the alias, or choose another name.",
    )


def _without_broken_uses(
    con: Connection, groups: list[Group], kitchen: Kitchen, heading: Heading, checked: Checked
) -> list[Group]:
    """Refuse new facts with which a stored price or recipe line could no longer be converted."""
    changed: dict[int, tuple[Group, FactsAfter]] = {}
    for group in groups:
        in_book = kitchen.ingredients.get(name_key(group.first.value["ingredient"]))
        if in_book is not None:
            after = _after(group.first, in_book, heading)
            facts = IngredientFacts(
                base=after["base"],
                density_g_per_ml=after["density_g_per_ml"],
                grams_each=after["grams_each"],
                grams_by_measure=kitchen.facts(in_book).grams_by_measure,
            )
            changed[in_book.ingredient_id] = (
                group,
                FactsAfter(facts=facts, yield_pct=after["yield_pct"], base_before=in_book.base),
            )
    if not changed:
        return groups
    refused: set[int] = set()
    for use in broken_uses(con, {key: after for key, (_, after) in changed.items()}):
        group, facts_after = changed[use.ingredient_id]
        refused.add(group.first.line)
        checked.problems.append(_broken(group.first, use, facts_after))
        group.leave_out_copies(checked)
    return [group for group in groups if group.first.line not in refused]


def _broken(row: Row, use: BrokenUse, after: FactsAfter) -> Problem:
    stored = f"the {use.kind} stored by load {', '.join(map(str, use.batches))}"
    if use.missing == BASE_AS_IT_WAS:
        return row.problem(
            "base",
            shown_fact(after.facts.base),
            f"{shown_fact(after.base_before)}, which the ratios of {stored} are by",
            "Undo those first, and load them again with ratios by the new base.",
        )
    return row.problem(
        use.missing if use.missing in _FACTS else "base",
        f"facts without {use.missing}",
        f"facts that serve {stored}",
        f"Give {use.missing} too.",
    )


def _remark_series(con: Connection, groups: list[Group], checked: Checked) -> None:
    in_book = known.series(con)
    wanted = {group.first.value["series"] for group in groups} - {None} - set(in_book)
    for series in sorted(wanted):
        near = nearest(series, in_book)
        checked.remarks.append(
            f"The book has no series {quoted(series)} yet; prices that use it are not moved by an "
            "index until it is loaded." + (f" Nearest: {', '.join(near)}." if near else "")
        )
    currency = read_settings(con).currency
    named = {group.first.value["series"] or "" for group in groups}
    if currency != "USD" and any(series.startswith("us-bls:") for series in named):
        checked.remarks.append(
            f"This book is in {currency}, and us-bls series follow prices in the United States: a "
            "price moved by one tells little about prices where you buy. Load your own country's "
            "series with `portiondrift index load FILE`."
        )


def _remark_allergens(groups: list[Group], checked: Checked) -> None:
    """Tell each word of an allergen record that is not in the table, with the words like it."""
    lines: dict[str, list[int]] = {}
    for group in groups:
        for word in group.first.value["allergens"] or ():
            if not is_known(word):
                lines.setdefault(word, []).append(group.first.line)
    for word, on in lines.items():
        near = nearest_words(word)
        checked.remarks.append(
            f"Line{'s' if len(on) > 1 else ''} {', '.join(map(str, on))}: the list of allergens "
            f"does not know {quoted(word)}. It is kept under that name, and what a change removes "
            "from a dish with it stays unknown." + (f" Nearest: {', '.join(near)}." if near else "")
        )


def _store(con: Connection, groups: list[Group], kitchen: Kitchen, heading: Heading) -> Stored:
    ids = known.named_ingredients(con)
    names = {name_key(g.first.value["ingredient"]): g.first.value["ingredient"] for g in groups}
    ids |= name_ingredients(con, {key: name for key, name in names.items() if key not in ids})
    facts = [
        _after(group.first, kitchen.ingredients.get(key), heading)
        for key, group in zip(names, groups, strict=True)
    ]
    for each in facts:
        own = name_key(each["ingredient"])
        each["aliases"] = [a for a in each["aliases"] or () if name_key(a) != own]
    columns: dict[str, list[Any]] = {
        "line": [group.first.line for group in groups],
        "raw": [group.first.raw for group in groups],
        "ingredient_id": [ids[key] for key in names],
        **{name: [each[name] for each in facts] for name in _FACTS},
    }
    touched = frozenset(ids[key] for key in names if key in kitchen.ingredients)
    return Stored(tables={"ingredient_fact": columns}, touched=touched)
