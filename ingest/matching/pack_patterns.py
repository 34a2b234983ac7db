"""The patterns by which packs stand in descriptions, made of the words of pack_words.csv."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from pricing.reference.table import read_table

NUMBER = r"(?:[1-9][0-9]? 000|[0-9]{0,2}[½¼¾⅓⅔]|[0-9]{1,6}(?:[.,][0-9]{1,4})?)"
_START = r"(?<![0-9.,/])"
_END = r"(?:(?![^\W_])|(?=[xX×*] ?[0-9]))"
_SIZE_END = r"(?![\w%\"]|[.,][0-9]| ?(?:cm|mm|m|in|inch)(?![^\W_]))"


@cache
def pack_words(*kinds: str) -> Mapping[str, str]:
    """Return word -> what it means, of these kinds of pack_words.csv."""
    rows = read_table("pack_words.csv", __package__)
    return {row["word"]: row["means"] for row in rows if row["kind"] in kinds}


def _any(*kinds: str) -> str:
    longest = sorted(pack_words(*kinds), key=lambda word: (-len(word), word))
    return "(?:" + "|".join(re.escape(word).replace(r"\ ", " ") for word in longest) + ")"


def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, re.IGNORECASE)


@cache
def patterns() -> Mapping[str, re.Pattern[str]]:
    """Return the pattern of each way to write a pack, by its name; none repeats without bound."""
    unit, things = _any("unit"), _any("piece", "pack")
    found = {
        # what has numbers and is no pack: 3.5 %, 20x30 cm
        "percent": rf"{_START}[0-9]{{1,3}}(?:[.,][0-9]{{1,2}})? ?%",
        "dimensions": rf"{_START}[0-9]{{1,4}}(?:[.,][0-9]{{1,2}})?"
        r"(?: ?[x×*] ?[0-9]{1,4}(?:[.,][0-9]{1,2})?){0,2}"
        r" ?(?:cm|mm|m|inch|in)(?![^\W_])",
        "two_units": rf"{_START}(?P<num>[0-9]{{1,3}}) ?(?:lbs?) ?(?P<second>{NUMBER}) ?oz{_END}",
        "size": rf"{_START}(?:(?P<counts>(?:[0-9]{{1,4}} ?(?:{things} )?[x×*] ?){{1,3}})"
        rf"|(?:(?P<whole>[0-9]{{1,2}}) )?(?P<slash>[0-9]{{1,4}}) ?/ ?"
        rf"|(?P<low>{NUMBER}) ?[-–] ?)?"
        rf"(?P<num>{NUMBER}) ?-?(?P<unit>{unit}){_END}"
        r"(?: ?\(?[x×*] ?(?P<after>[0-9]{1,3})(?![\w.,%]))?",
        "unit_first": rf"(?<![\w/])(?P<unit>kg|gr|g|ml|cl|lt)\.? ?(?P<num>{NUMBER})"
        r"(?: ?[x×*] ?(?P<after>[0-9]{1,3}))?(?![\w%/]|[.,][0-9])",
        "dozen": r"(?<![\w.,/])(?:(?P<num>[0-9]{1,3}|½|1/2|half|halbes|media|demi|mezza|meia|pół)"
        rf"[ -]?)?(?:a )?{_any('dozen')}(?![^\W_])",
        "piece": rf"{_START}(?P<num>[0-9]{{1,4}}) ?-?{_any('piece')}{_END}",
        "pack": rf"{_START}(?P<num>[0-9]{{1,3}})"
        rf"(?:[ -]?{_any('pack')}|{_any('suffix')}){_END}",
        "of": rf"(?<!\w){_any('of')} ?(?P<num>[0-9]{{1,3}}){_SIZE_END}",
        "times": rf"(?:(?<![\w.,])(?<![0-9] )[x×] ?(?P<num>[0-9]{{1,3}}){_SIZE_END}"
        rf"|{_START}(?P<first>[0-9]{{1,3}}) ?[x×](?= ?[^\W\d_]{{2}}))",
        "thing": rf"(?<![\w.,/])(?P<num>[0-9]{{1,3}})(?= (?:[^\W\d_]{{1,15}} ){{0,2}}"
        rf"{_any('thing', 'egg')}(?![^\W_]))",
        "per": rf"(?:(?<!\w){_any('per')} |/) ?(?:(?P<unit>{unit})|{_any('piece')})(?![^\W_])",
        "unit_last": r"(?<!\w)(?P<unit>kg|kilo|lbs?)[ .)]{0,2}$",
        "each_last": rf"(?<![\w/.,])(?:{_any('each')})[ .)]{{0,2}}$",
        "egg": rf"(?<![^\W_]){_any('egg')}(?![^\W_])",
        "liquid": rf"(?<![^\W_]){_any('liquid')}(?![^\W_])",
        "bare": r"(?<![\w.,/])(?P<num>[0-9]{1,3})(?= ?(?:XL|[SML])?(?:$|[ ,;)/]))",
        "about_before": rf"(?<!\w){_any('about')} ?$",
        "about_after": rf"^ ?\(?{_any('about')}(?!\w)\)?",
    }
    return {name: _compiled(pattern) for name, pattern in found.items()}
