"""Turns a node of the type schema.org/Recipe, from JSON-LD or microdata, into a recipe.

Properties: https://schema.org/Recipe; `ingredients` is its older name of `recipeIngredient`.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from datetime import date
from typing import Any

from ingest.recipe_files.duration import read_duration, read_time_at
from ingest.recipe_files.headings import is_heading
from ingest.recipe_files.json_text import Node
from ingest.recipe_files.portions import Makes, read_portions
from ingest.recipe_files.recipe import ReadRecipe
from ingest.recipes.where import tidy_line
from ingest.text.sentences import quoted

_DEEPEST = 6  # lists within lists, things within things
_TAG = re.compile(r"</?[a-zA-Z][^<>]{0,500}>")
_NEW_LINE = re.compile(r"<(?:br|/?p|/?li|/?div)\b[^<>]{0,200}>", re.IGNORECASE)
_DAY = re.compile(r"\s*(\d{4})-(\d{2})-(\d{2})(?!\d)")
_GRAMS = {"GRM": "g", "KGM": "kg", "LTR": "l", "MLT": "ml"}  # codes of UN/ECE Rec 20


def from_node(node: Node) -> ReadRecipe:
    """Return the recipe of a node; what it does not say is left out."""
    lines = tuple(enumerate(ingredient_lines(node), start=1))
    makes, makes_text = _makes(node)
    said = list(makes.said)
    published_text = next(_texts(node.get("datePublished")), "")
    published = _day(published_text)
    if published_text and published is None:
        said.append(f"the date {quoted(published_text)} is not read")
    return ReadRecipe(
        title=next(_texts(node.get("name", node.get("headline"))), ""),
        lines=lines,
        portions=makes.portions,
        portions_text=makes_text,
        minutes=_minutes(node),
        batch_weight_g=makes.batch_weight_g,
        source=_source(node),
        published=published,
        remarks=tuple(said),
    )


def ingredient_lines(node: Node) -> list[str]:
    """Return the ingredients of a node as written, without headings between them."""
    for name in ("recipeIngredient", "ingredients", "ingredient"):
        lines = [line for text in _texts(node.get(name)) for line in text.split("\n")]
        kept = [line for line in map(tidy_line, lines) if line and not is_heading(line)]
        if kept:
            return kept
    return []


def _texts(value: Any, deep: int = 0) -> Iterator[str]:
    """Yield the texts of a property: a text, a number, a thing with a name, or a list of them."""
    if isinstance(value, str):
        text = _plain(value)
        if text:
            yield text
    elif isinstance(value, list) and deep < _DEEPEST:
        for each in value:
            yield from _texts(each, deep + 1)
    elif isinstance(value, dict) and deep < _DEEPEST:
        for name in ("itemListElement", "name", "text", "@value", "item", "@id"):
            if value.get(name):
                yield from _texts(value[name], deep + 1)
                return


def _plain(text: str) -> str:
    """Return a text without tags and entities; pages write these twice over."""
    for _ in range(2):
        text = html.unescape(text)
    text = _TAG.sub(" ", _NEW_LINE.sub("\n", text))
    return "\n".join(filter(None, (" ".join(line.split()) for line in text.split("\n"))))


def _makes(node: Node) -> tuple[Makes, str]:
    """Return what it makes: the yield that speaks of portions, else the first with a number."""
    given = node.get("recipeYield", node.get("yield"))
    texts = [text for each in (given if isinstance(given, list) else [given])
             for text in _yield_texts(each)]  # fmt: skip
    read = [(read_portions(text), text) for text in texts]
    weight = next((each.batch_weight_g for each, _ in read if each.batch_weight_g), None)
    counts = [each for each in read if each[0].portions]
    best = next((each for each in counts if each[0].served), counts[0] if counts else None)
    if best is None:
        makes = Makes(portions=None, batch_weight_g=weight)
        makes_said = tuple(said for each, _ in read for said in each.said)
        return (
            Makes(portions=None, batch_weight_g=makes.batch_weight_g, said=makes_said),
            ", ".join(texts),
        )
    makes, text = best
    others = [said for each, said in counts if each.portions != makes.portions]
    more = tuple(f"it says {quoted(other)}, too; {quoted(text)} is taken" for other in others)
    longest = max((said for each, said in counts if each.portions == makes.portions), key=len)
    return (
        Makes(
            portions=makes.portions, batch_weight_g=makes.batch_weight_g or weight,
            said=makes.said + more, served=makes.served,
        ),
        longest,
    )  # fmt: skip


def _yield_texts(value: Any) -> Iterator[str]:
    """Yield a yield in words, also of a QuantitativeValue."""
    if not isinstance(value, dict):
        yield from _texts(value)
        return
    low, high = (next(_texts(value.get(each)), "") for each in ("minValue", "maxValue"))
    number = next(_texts(value.get("value")), "") or (f"{low}-{high}" if low and high else low)
    code = next(_texts(value.get("unitCode")), "")
    unit = next(_texts(value.get("unitText")), "") or _GRAMS.get(code, "")
    if number:
        yield f"{number} {unit}".strip()
    else:
        yield from _texts(value)


def _minutes(node: Node) -> int | None:
    """Return the time from start to end, else of preparing and cooking together."""
    total = _time(node, "totalTime")
    if total is not None:
        return total
    parts = [_time(node, each) for each in ("prepTime", "cookTime")]
    known = [each for each in parts if each is not None]
    return sum(known) if known else None


def _time(node: Node, name: str) -> int | None:
    texts = list(_texts(node.get(name)))
    read = [minutes for text in texts if (minutes := read_duration(text)) is not None]
    read += [minutes for text in texts if (minutes := read_time_at(text)) is not None]
    return read[0] if read else None


def _source(node: Node) -> str | None:
    author = ", ".join(dict.fromkeys(_texts(node.get("author"))))
    address = next(
        (text for name in ("url", "mainEntityOfPage", "@id") for text in _texts(node.get(name))
         if re.match(r"https?://", text)), "",
    )  # fmt: skip
    return ", ".join(filter(None, (author, address))) or None


def _day(text: str) -> date | None:
    found = _DAY.match(text)
    try:
        return date(int(found[1]), int(found[2]), int(found[3])) if found else None
    except ValueError:
        return None
