"""Reads the recipes of a text: titles, portions and ingredients; what is done is passed over."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from ingest.recipe_files.after_method import Behind
from ingest.recipe_files.headings import heads, is_heading
from ingest.recipe_files.kinds_of_line import (
    Told,
    has_amount,
    is_ingredient,
    is_method,
    is_prose,
    is_rule,
    said_in_prose,
    whole_recipe,
    without_step_number,
)
from ingest.recipe_files.portions import Makes
from ingest.recipe_files.recipe import ReadRecipe

LONGEST_TITLE = 120  # characters
_IN_TITLE = re.compile(r"\s*[(\[–—|,-]\s*([^()\[\]|]{3,60}?)\s*[)\]]?\s*$")


@dataclass(kw_only=True)
class _Draft:
    """A recipe while it is read."""

    title: str = ""
    told: list[Told] = field(default_factory=list)
    lines: list[tuple[int, str]] = field(default_factory=list)
    over: bool = False  # the ingredients have ended
    behind: Behind = field(default_factory=Behind)  # what stands below their end


Line = tuple[int, str]  # number in the text, from 1; without spaces around


def read_plain(text: str) -> list[ReadRecipe]:
    """Return the recipes of a text that have an ingredient with an amount, in their order."""
    lines = [(number, line.strip()) for number, line in enumerate(text.split("\n"), start=1)]
    drafts: list[_Draft] = []
    for block in _blocks(lines):
        found = [draft for part in _recipes(block) if (draft := _read(part)).lines]
        drafts += found
    return [_recipe(draft) for draft in drafts]


def _blocks(lines: Sequence[Line]) -> list[list[Line]]:
    """Part a text at its rows of dashes; a row under a heading underlines it and parts nothing."""
    blocks: list[list[Line]] = [[]]
    for at, (number, line) in enumerate(lines):
        if not is_rule(line):
            blocks[-1].append((number, line))
            continue
        above = lines[at - 1][1] if at else ""
        first = above and len([each for _, each in blocks[-1] if each]) == 1
        if first or heads("ingredients", above) or heads("method", above):
            continue
        blocks.append([])
    return [block for block in blocks if any(line for _, line in block)]


def _recipes(block: list[Line]) -> list[list[Line]]:
    """Part a block where the next recipe begins: a title above portions or "Ingredients"."""
    starts = [0]
    seen = False  # an ingredient of the recipe that is being read
    for at, (_, line) in enumerate(block):
        if not line:
            continue
        if seen and (title := _title_above(block, at)) is not None and title > starts[-1]:
            starts.append(title)
            seen = False
        seen = seen or is_ingredient(line)
    ends = [*starts[1:], len(block)]
    return [block[start:end] for start, end in zip(starts, ends, strict=True)]


def _title_above(block: list[Line], at: int) -> int | None:
    """Return the place of the title of a recipe whose portions or "Ingredients" stand at `at`."""
    line = block[at][1]
    begins = heads("ingredients", line) or whole_recipe(line).makes is not None
    if _titled(line)[1] is not None and _may_be_title(_titled(line)[0]):
        return at if _blank_before(block, at) else None
    if not begins or not _ingredients_follow(block, at):
        return None
    for place in range(at - 1, max(at - 8, -1), -1):
        above = block[place][1]
        if not above or whole_recipe(above).something:
            continue
        if _blank_before(block, place) and _may_be_title(above):
            return place
        if not is_prose(above):
            return None
    return None


def _blank_before(block: list[Line], at: int) -> bool:
    return at == 0 or not block[at - 1][1]


def _ingredients_follow(block: list[Line], at: int) -> bool:
    following = [line for _, line in block[at + 1 : at + 25] if line][:8]
    return any(map(is_ingredient, following))


def _may_be_title(line: str) -> bool:
    return (
        0 < len(line) <= LONGEST_TITLE
        and not has_amount(line)
        and not is_prose(line)
        and not heads("method", line)
        and not heads("ingredients", line)
    )


def _titled(line: str) -> tuple[str, Told | None]:
    """Return a title, and the portions that stand behind it: "Leek pie (serves 4)"."""
    behind = _IN_TITLE.search(line) if len(line) <= 2 * LONGEST_TITLE else None
    told = whole_recipe(behind[1]) if behind else None
    if behind and told and told.makes and line[: behind.start()].strip():
        return line[: behind.start()], told
    return line, None


def _read(lines: list[Line]) -> _Draft:
    """Read one recipe: its title, what is said of the whole, and its ingredients."""
    draft = _Draft()
    lines = _take_title(draft, lines)
    first = _first_ingredient(lines)
    for at, (number, line) in enumerate(lines):
        if not line:
            continue
        told = said_in_prose(line) if at < first else whole_recipe(line)
        if told.something and not (at >= first and is_ingredient(line) and draft.told):
            draft.told.append(told)
        elif (
            (draft.over and not draft.behind.goes_on(lines, at))
            or at < first
            or (is_heading(line) and not heads("method", line))
        ):
            continue
        elif is_method(line) or _is_first_step(draft, line):
            draft.over = bool(draft.lines)
            draft.behind.ended(lines, at)
        else:
            draft.over = False
            draft.lines.append((number, without_step_number(line)))
    if not any(has_amount(line) for _, line in draft.lines):
        draft.lines = []
    return draft


def _is_first_step(draft: _Draft, line: str) -> bool:
    """Tell a short sentence ("Knead and bake.") from ingredients, which end without a point."""
    least = 3 if draft.behind.note is None else 1  # "Bake." below a note among the ingredients
    sentence = line.endswith(".") and len(line.split()) >= least and not has_amount(line)
    return sentence and not any(each.endswith(".") for _, each in draft.lines)


def _take_title(draft: _Draft, lines: list[Line]) -> list[Line]:
    for at, (_, line) in enumerate(lines):
        if not line:
            continue
        if whole_recipe(line).something or not _may_be_title(line):
            return lines
        title, told = _titled(line.strip(" \t#*_"))
        draft.title = title.strip(" \t#*_:")
        draft.told += [told] if told else []
        return lines[at + 1 :]
    return lines


def _first_ingredient(lines: list[Line]) -> int:
    """Return where the ingredients begin: behind their heading, else where their paragraph does."""
    for at, (_, line) in enumerate(lines):
        if heads("ingredients", line):
            return at + 1
        if is_ingredient(line) and not said_in_prose(line).something:
            while at and lines[at - 1][1] and not is_prose(lines[at - 1][1]):
                at -= 1
            return at
    return len(lines)


def _recipe(draft: _Draft) -> ReadRecipe:
    stated = next((told for told in draft.told if told.makes), Told())
    makes = stated.makes or Makes(portions=None)
    total = next((told.total for told in draft.told if told.total), None)
    work = sum(told.work or 0 for told in draft.told) or None
    return ReadRecipe(
        title=draft.title,
        lines=tuple(draft.lines),
        portions=makes.portions,
        portions_text=stated.makes_text,
        minutes=total or work,
        batch_weight_g=makes.batch_weight_g,
        source=next((told.source for told in draft.told if told.source), None),
        remarks=(*makes.said, *draft.behind.said()),
    )
