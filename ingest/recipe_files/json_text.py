"""Reads JSON as pages carry it, and finds the recipes in it, however deep they lie."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

Node = dict[str, Any]

LARGEST_JSON = 10 * 1024 * 1024  # characters; what it unfolds to in memory is many times that
_WRAPPED = re.compile(
    r"^\s*(?:(?://\s*)?<!\[CDATA\[|/\*\s*<!\[CDATA\[\s*\*/|<!--)|"
    r"(?:(?://\s*)?\]\]>|/\*\s*\]\]>\s*\*/|-->)\s*$"
)
_RECIPE = re.compile(r"(?:https?://schema\.org/|schema:)?Recipe")


class BrokenJson(ValueError):
    """A text that is no JSON; `why` says what is wrong, and where."""

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(why)


def read_json(text: str) -> Any:
    """Return what a JSON text holds, numbers as they are written. Raises BrokenJson.

    A mark of CDATA or of a comment around it is passed; line ends in strings are taken as they are.

    >>> read_json("<!-- {\\"recipeYield\\": 4.50} -->")
    {'recipeYield': '4.50'}
    """
    if len(text) > LARGEST_JSON:
        raise BrokenJson(f"it is larger than {LARGEST_JSON // (1024 * 1024)} MB")
    bare = text
    for _ in range(4):  # one mark within another, at both ends
        bare, many = _WRAPPED.subn("", bare)
        if not many:
            break
    try:
        return json.loads(bare, strict=False, parse_int=str, parse_float=str, parse_constant=str)
    except json.JSONDecodeError as error:
        line = text[: text.find(bare[:1]) if bare else 0].count("\n") + error.lineno
        raise BrokenJson(f"{error.msg[:1].lower()}{error.msg[1:]}, in its line {line}") from None
    except RecursionError:
        raise BrokenJson("it is nested too deep") from None


def recipes_in(value: Any) -> Iterator[Node]:
    """Yield the nodes of the type Recipe, in their order; no recipe within a recipe.

    >>> [node["name"] for node in recipes_in({"@graph": [{"@type": ["Recipe"], "name": "dal"}]})]
    ['dal']
    """
    waiting = [value]
    while waiting:
        here = waiting.pop()
        if isinstance(here, dict):
            if is_recipe(here):
                yield here
            else:
                waiting.extend(reversed(here.values()))
        elif isinstance(here, list):
            waiting.extend(reversed(here))


def is_recipe(node: Node) -> bool:
    kinds = node.get("@type")
    return any(
        isinstance(kind, str) and _RECIPE.fullmatch(kind.strip())
        for kind in (kinds if isinstance(kinds, list) else [kinds])
    )
