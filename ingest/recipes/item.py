"""Parts the ingredient's words of a recipe line from what is said beside them."""

from __future__ import annotations

import re
from functools import cache

from ingest.recipes.words import any_of, choice, words

_BRACKET = re.compile(r"\(([^()]*)\)|\[([^\[\]]*)\]|[(\[](.*)$")
_JOIN = re.compile(r"(?:\s*,\s*(?:and\s+|or\s+)?|\s+(?:and|&|or)\s+|\s+)", re.IGNORECASE)
_DASH = re.compile(r"\s[-–—]+\s|\s*—\s*|\s*;\s*|:\s+|\s\*|\s/\s")
_LIST = re.compile(r"(?P<first>[\w’' -]+)(?:, [\w’' -]+?)+,? (?:and/)?or (?P<last>[\w’' -]+)")
_ANOTHER = re.compile(r"\d|(?:a|an|any|another|one|other|some|two|three)\s", re.IGNORECASE)
_EDGES = ' \t,;:.*+/|–—-•"“”'
_OPENING = re.compile(r"^(?:(?:of|x|each:?|de|di|du|des|av)\s+|d['’])", re.IGNORECASE)
_OR = re.compile(r"\s+(?:and/or|or)\s+", re.IGNORECASE)


def split_item(text: str, *, in_a_pack: bool = False) -> tuple[str, list[str]]:
    """Return the ingredient's words, and what else the text says, in its order.

    What is done to it stays a part of the name `in_a_pack`: chopped tomatoes are bought in tins.

    >>> split_item("finely chopped flat-leaf parsley, plus extra for serving")
    ('flat-leaf parsley', ['finely chopped', 'plus extra for serving'])
    """
    text, notes = _without_brackets(text.strip())
    text = text.strip(_EDGES)
    opening = _OPENING.match(text)
    text = text[opening.end() :] if opening else text
    before = ["each"] if opening and opening[0].lower().startswith("each") else []
    if not in_a_pack:
        text, done = _without_first(text)
        before.append(done)
    item, after = _until_rest(_OPENING.sub("", text))
    item, behind = _without_last(item)
    item, other = _first_of(item)
    item = item.strip(_EDGES)
    rest = [*before, *other, *behind, *notes, *after]
    return item, [each for each in (part.strip(" ,;.") for part in rest) if each]


def _without_brackets(text: str) -> tuple[str, list[str]]:
    """Take brackets out, but keep another word for the same: heavy (whipping) cream."""
    notes: list[str] = []

    def replaced(match: re.Match[str]) -> str:
        inner = next((each for each in match.groups() if each is not None), "").strip()
        behind = text[match.end() : match.end() + 2]
        alike = re.fullmatch(r"[^\W\d]+(?:[- ][^\W\d]+)?", inner) and match.start() > 0
        if alike and re.match(r" ?\w", behind) and not any_of("rest").match(inner):
            return f" {inner} "
        notes.append(inner)
        return " "

    for _ in range(4):  # brackets in brackets
        text, many = _BRACKET.subn(replaced, text)
        if not many:
            break
    return re.sub(r"\s+", " ", text).replace(" ,", ","), notes


def _without_first(text: str) -> tuple[str, str]:
    """Take off words of size, and what is done to it: freshly ground, peeled and chopped."""
    at = 0
    while (found := _first_words().match(text, at)) and not any_of("product").match(text, at):
        join = _JOIN.match(text, found.end())
        if join is None or join.end() >= len(text):
            break
        beside = not join[0].isspace() and "," not in join[0]
        if beside and not _first_words().match(text, join.end()):
            break  # peeled or whole almonds
        at = join.end()
    return text[at:], text[:at].strip(" ,")


def _until_rest(text: str) -> tuple[str, list[str]]:
    """Cut where the rest begins: at a word of that kind, a dash, a comma that ends the name."""
    ends = [
        match.start() for match in (_DASH.search(text, 1), _rest_words().search(text, 1)) if match
    ]
    at = _end_of_list(text)
    while (at := text.find(",", at)) >= 0:
        if not only_adjectives(text[:at]) and not text[at + 1 : at + 2].isdigit():
            ends.append(at)
            break
        at += 1
    if not ends:
        return text.replace(",", ""), []
    return text[: min(ends)].replace(",", ""), [text[min(ends) :]]


def _end_of_list(text: str) -> int:
    """Return the end of adjectives of one noun, "Thai, serrano, or cayenne chiles", else 0."""
    found = _LIST.match(text)
    if found is None:
        return 0
    first = [word for word in found["first"].split() if not only_adjectives(word)]
    last = [word for word in found["last"].split() if not only_adjectives(word)]
    one_noun = len(first) < len(last) and not _ANOTHER.match(found["last"])
    return found.end() if one_noun else 0


def only_adjectives(text: str) -> bool:
    known = {*words("adjective"), *words("preparation"), *words("adverb"), *words("size")}
    return all(
        word in known or word.endswith("-colored") for word in re.findall(r"[\w’'-]+", text.lower())
    )


def _without_last(item: str) -> tuple[str, list[str]]:
    """Take off what is done to it where no comma parts it: garlic minced."""
    said: list[str] = []
    parts = item.split(" ")
    while len(parts) > 1 and parts[-1].lower() in words("preparation"):
        said.insert(0, parts.pop())
        while len(parts) > 1 and parts[-1].lower() in {"and", "&", *words("adverb")}:
            said.insert(0, parts.pop())
    return " ".join(parts), [" ".join(said)]


def _first_of(item: str) -> tuple[str, list[str]]:
    """Take the first of two ingredients; two adjectives of one noun stay together."""
    found = _OR.search(item)
    if found is None:
        return item, []
    first, other = item[: found.start()], item[found.end() :]
    if not _whole(first, other):
        return item, []
    return first, [item[found.start() :]]


def _whole(first: str, other: str) -> bool:
    """Tell whether both names stand for themselves: butter or oil, not olive or sunflower oil."""
    ours, others = first.split(), other.split()
    if not ours or not others or ours[-1].lower() in words("adjective"):
        return False
    if _ANOTHER.match(other):
        return True
    return len(ours) == len(others) == 1 or ours[-1].lower() == others[-1].lower()


@cache
def _first_words() -> re.Pattern[str]:
    adverb, done = choice(words("adverb")), choice((*words("preparation"), "ground"))
    plain = choice((*words("preparation"), *words("size")))
    return re.compile(rf"(?:{adverb}\s+)+{done}(?!-)|{plain}(?!['’-])", re.IGNORECASE)


@cache
def _rest_words() -> re.Pattern[str]:
    return re.compile(rf",?(?:(?<=\s)|(?<=,))(?<!\w-){choice(words('rest'))}", re.IGNORECASE)
