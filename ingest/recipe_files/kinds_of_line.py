"""Tells what a line of a typed recipe is: heading, portions, time, ingredient, or what is done."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from ingest.recipe_files.duration import read_time_at
from ingest.recipe_files.headings import heads, is_heading
from ingest.recipe_files.portions import Makes, read_portions
from ingest.recipe_files.words import any_of, anywhere
from ingest.recipes.line import RecipeLine, read_recipe_line
from ingest.recipes.where import LONGEST_LINE

_RULE = re.compile(r"\s*(?:[-=_*~#—–]\s?){3,}\s*")
_STEP = re.compile(
    r"\s*(?:\d{1,2}\s*[.)]|(?:step|schritt|étape|paso|passo|stap|krok|steg)\s+\d+)\s*"
)
_STEP_NUMBER = re.compile(r"\s*\d{1,2}\s*[.)]\s+(?=\S)")
_SENTENCE = re.compile(r"[^\W\d_]{2,}[.!?](?:\s|$)")
_SENTENCE_END = re.compile(r"(?<=[^\W\d_]{2}[.!])\s+|(?<=[^\W\d_]{2}[.!]\))\s+")
# hotter than any ingredient: "bake 200C 25min"
_OVEN = re.compile(r"\b(?:[12][0-9]0 ?(?:°|º)? ?C|[2-5][0-9]{2} ?(?:°|º)? ?F)\b")
_PIECES = re.compile(r"\s*[|·•;]\s*")
_ADDRESS = re.compile(r"https?://\S+")
_LABEL_END = re.compile(r"\s*[:=–-]?\s*")
LONGEST_PORTIONS = 80  # characters of a line that states them
LONGEST_INGREDIENT = 160  # characters; a longer line with a sentence in it is prose
_WORDS_OF_PROSE = 9


@dataclass(frozen=True, kw_only=True)
class Told:
    """What a line between title and ingredients says of the whole recipe."""

    makes: Makes | None = None
    makes_text: str = ""
    total: int | None = None  # minutes
    work: int | None = None  # minutes, of several times together
    source: str | None = None

    @property
    def something(self) -> bool:
        return bool(self.makes or self.total or self.work or self.source)


def is_rule(line: str) -> bool:
    """Tell whether a line is a row of dashes, equals signs or stars."""
    return bool(_RULE.fullmatch(line))


def whole_recipe(line: str) -> Told:
    """Return what a line says of the whole recipe: portions, times, where it is from.

    >>> told = whole_recipe("Serves 4–6 | Prep: 10 min | Cook: 1 hour")
    >>> told.makes_text, str(told.makes.portions), told.work
    ('Serves 4–6', '5', 70)
    """
    if len(line) > 3 * LONGEST_PORTIONS:
        return Told()
    makes, makes_text, total, work, source = None, "", None, None, None
    for piece in _PIECES.split(line.strip(" \t#*_-•·")):
        here = _minutes("total", piece), _minutes("work", piece)
        if here[0] or here[1]:
            total = total or here[0]
            work = (work or 0) + here[1] if here[1] else work
        elif makes is None and states_portions(piece):
            makes, makes_text = read_portions(piece), piece.strip()
        else:
            source = source or _source(piece)
    return Told(makes=makes, makes_text=makes_text, total=total, work=work, source=source)


def said_in_prose(line: str) -> Told:
    """Return what a line before the ingredients says of the whole, beside other words.

    >>> said_in_prose("A supper for cold days. Serves 4").makes_text
    'Serves 4'
    """
    return whole_recipe(_SENTENCE_END.sub(" | ", line))


def states_portions(line: str) -> bool:
    """Tell whether a line says how many portions a recipe makes, and no more than that.

    >>> [states_portions(each) for each in ("Serves 4-6", "4 Portionen", "Makes 12", "4 eggs")]
    [True, True, True, False]
    """
    line = line.strip(" \t#*_-•·()")
    if not line or len(line) > LONGEST_PORTIONS or not re.search(r"[\w½]", line):
        return False
    verb = any_of("serves", "makes").match(line)
    if not verb and not (len(line.split()) <= 8 and anywhere("served").search(line)):
        return False
    makes = read_portions(line)
    if makes.portions is None and makes.batch_weight_g is None:
        return False
    first = any_of("served", "to").match(line) or re.match(r"[\d½]", line)
    return bool(verb or (first and makes.served))


def is_ingredient(line: str) -> bool:
    """Tell whether a line states an amount of something, and is no prose."""
    return has_amount(line) and not is_prose(line) and not is_heading(line)


@lru_cache(maxsize=4096)
def has_amount(line: str) -> bool:
    read = read_line(line[:LONGEST_LINE])
    return read.quantity is not None and bool(read.item)


@lru_cache(maxsize=4096)
def read_line(line: str) -> RecipeLine:
    return read_recipe_line(without_step_number(line))


def without_step_number(line: str) -> str:
    """Return a line without the "1." before it, where an amount follows."""
    number = _STEP_NUMBER.match(line)
    if number and re.match(r"[\d½¼¾⅓⅔]", line[number.end() :]):
        return line[number.end() :]
    return line


def is_method(line: str) -> bool:
    """Tell whether a line ends the ingredients: heads what is done, or is a step of it."""
    return heads("method", line) or is_prose(line)


def is_prose(line: str) -> bool:
    """Tell whether a line is a sentence or a numbered step, and no ingredient.

    >>> is_prose("1. Heat the oven."), is_prose("200 g flour"), is_prose("Fry until soft. Stir.")
    (True, False, True)
    """
    bare = without_step_number(line)
    if is_numbered(bare):
        return True
    sentences = len(_SENTENCE.findall(bare))
    words = len(bare.split())
    if begins_with_number(bare):  # as an ingredient does, however long it is
        most = LONGEST_INGREDIENT if sentences else LONGEST_LINE
        return len(bare) > most or (sentences >= 2 and words > 2 * _WORDS_OF_PROSE)
    if len(bare) > LONGEST_INGREDIENT or _OVEN.search(bare):
        return True
    ends = bool(re.search(r"[^\W\d_]{3,}[.!?]$", bare.strip()))
    return (ends and words >= 5) or sentences >= 2 or words > 2 * _WORDS_OF_PROSE


def is_numbered(line: str) -> bool:
    """Tell whether a line is a numbered step."""
    return bool(_STEP.match(without_step_number(line)))


def begins_with_number(line: str) -> bool:
    return bool(re.match(r"\W*[\d½¼¾⅓⅔]", line))


def _minutes(kind: str, piece: str) -> int | None:
    """Return the time behind a label of this kind; all of the piece must be that."""
    label = any_of(kind).match(piece)
    end = _LABEL_END.match(piece, label.end()) if label else None
    return read_time_at(piece, end.end()) if end else None


def _source(piece: str) -> str | None:
    label = any_of("label").match(piece)
    address = _ADDRESS.search(piece)
    if label and piece[label.end() :].lstrip().startswith(":"):
        return piece[label.end() :].strip(" :") or None
    return address[0].rstrip(".,)") if address else None
