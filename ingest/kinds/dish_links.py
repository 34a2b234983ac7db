"""Checks that the dishes a file takes as sub-recipes exist, weigh something and form no circle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ingest.kinds.checked import Checked
from ingest.kinds.dish_lines import DishLine
from ingest.kinds.dish_versions import SAME_VERSION, Key, NewVersion
from ingest.kinds.kitchen import Kitchen
from ingest.text.sentences import quoted
from pricing.book.known import DishUse, KnownVersion
from pricing.cycles import circle_through, near_circles
from pricing.errors import Problem


@dataclass(frozen=True, kw_only=True)
class DishesBefore:
    """The dish versions and sub-recipes in force before the load."""

    names: dict[int, tuple[str, str]]  # dish id → its key and its name
    versions: Sequence[KnownVersion]
    uses: Sequence[DishUse]


def without_broken_links(
    versions: list[NewVersion],
    names_in_file: dict[str, str],
    before: DishesBefore,
    kitchen: Kitchen,
    checked: Checked,
) -> list[NewVersion]:
    """Return the fine versions whose sub-recipes would all stand; the others get problems.

    First all versions are looked at as if they were fine, so that every problem is named at once.
    Then only what is fine: refusing one can take away what another needs, so that goes round until
    nothing changes. `names_in_file` is key → name of every dish that the file defines, well or not.
    """
    said: set[Problem] = set()
    while True:
        refused: set[Key] = set()
        for version, problem in _problems(versions, names_in_file, before, kitchen, checked):
            refused.add(version.key)
            if problem is not None and problem not in said:
                said.add(problem)
                checked.problems.append(problem)
        kept = [version for version in versions if version.fine and version.key not in refused]
        for version in versions:
            if version.key in refused:
                checked.leave_out((line.row for line in version.lines), SAME_VERSION)
        if len(kept) == len(versions):
            return kept
        versions = kept


def _problems(
    versions: list[NewVersion],
    names_in_file: dict[str, str],
    before: DishesBefore,
    kitchen: Kitchen,
    checked: Checked,
) -> Iterator[tuple[NewVersion, Problem | None]]:
    """Yield each version to refuse with why; None where a row of another version says why."""
    replaced = {version.key for version in versions}
    kept = [v for v in before.versions if (before.names[v.dish_id][0], v.version) not in replaced]
    uses = [u for u in before.uses if (before.names[u.dish_id][0], u.version) not in replaced]
    there = {before.names[v.dish_id][0] for v in kept} | {v.key[0] for v in versions}
    # which version is in force changes with the date: each of them has to state its weight
    unweighed = {before.names[v.dish_id][0] for v in kept if v.batch_weight_g is None}
    unweighed |= {v.key[0] for v in versions if v.batch_weight_g is None}
    weighed = there - unweighed
    for version in versions:
        for line in version.lines:
            if line.sub_key is None:
                continue
            if line.sub_key not in there:
                if line.sub_key in names_in_file:
                    why = f"'{line.sub_name}', which it takes, was refused"
                    checked.leave_out([line.row], why)
                    yield version, None
                else:
                    yield version, _unknown(line, names_in_file, kitchen)
            elif line.dimension == "g" and line.sub_key not in weighed:
                yield version, _unweighed(line)
    yield from _lost_weights(versions, uses, before)
    yield from _circles(versions, uses, before)


def _lost_weights(
    versions: list[NewVersion], uses: list[DishUse], before: DishesBefore
) -> Iterator[tuple[NewVersion, Problem]]:
    """A version without the batch weight by which another dish takes this one."""
    by_weight = {before.names[u.sub_dish_id][0]: u.dish_id for u in uses if u.by_weight}
    for version in versions:
        if version.key[0] in by_weight and version.batch_weight_g is None:
            taker = before.names[by_weight[version.key[0]]][1]
            yield (
                version,
                version.first.problem(
                    "batch_weight_g",
                    "no batch weight",
                    f"one, because {quoted(taker)} takes this dish by weight",
                    "Give the weight of the whole batch in g.",
                ),
            )


def _circles(
    versions: list[NewVersion], uses: list[DishUse], before: DishesBefore
) -> Iterator[tuple[NewVersion, Problem]]:
    edges: dict[str, set[str]] = {}
    names = dict(before.names.values())
    for use in uses:
        taker, taken = before.names[use.dish_id][0], before.names[use.sub_dish_id][0]
        edges.setdefault(taker, set()).add(taken)
    for version in versions:
        names.setdefault(version.key[0], version.dish)
        for line in version.lines:
            if line.sub_key is not None:
                edges.setdefault(version.key[0], set()).add(line.sub_key)
    suspects = near_circles(edges)
    for version in versions:
        for line in version.lines:
            if line.sub_key in suspects and version.key[0] in suspects:
                circle = circle_through(edges, version.key[0], line.sub_key)
                if circle:
                    yield version, _circle(line, [names.get(key, key) for key in circle])


def _unknown(line: DishLine, names_in_file: dict[str, str], kitchen: Kitchen) -> Problem:
    name = line.sub_name or ""
    return kitchen.unknown_dish(line.row, "ingredient", name, list(names_in_file.values()))


def _unweighed(line: DishLine) -> Problem:
    return line.row.problem(
        "unit",
        f"{line.row.value['quantity']} {line.row.value['unit']} of {quoted(line.sub_name or '')}, "
        "which has a version without batch weight",
        "the batch_weight_g of every version of that dish",
        "Give it there, or take the line in portions or batches.",
    )


def _circle(line: DishLine, path: list[str]) -> Problem:
    return line.row.problem(
        "ingredient",
        f"a dish that takes itself: {' → '.join(path)}",
        "sub-recipes without a circle, in any version",
        "Remove one of these lines.",
    )
