"""Times proposals: 1,000 descriptions against 2,000 ingredients and 20,000 earlier decisions.

    python -m tests.benchmarks.proposals

Names, brands and words are invented, drawn with a fixed seed from the kitchen of
tests/ingest/matching. Printed are the seconds to build the proposer and to propose, and the shares
of the labelled descriptions that were proposed right. The exit status is 1 over one second.
"""

from __future__ import annotations

import random
import sys
import time
from dataclasses import replace
from decimal import Decimal

from ingest.matching.known import Asked, Decided, KnownIngredient
from ingest.matching.propose import Proposer
from tests.ingest.matching.test_propose import kitchen, shares, table

WANTED_SECONDS = 1.0
_SYLLABLES = (
    "ba",
    "bri",
    "co",
    "del",
    "fen",
    "gor",
    "hal",
    "kel",
    "mun",
    "ost",
    "pra",
    "rov",
    "sen",
    "zor",
)
_SIZES = ("250G", "500G", "1KG", "2X400G", "6 x 330ml", "1,5 L", "12 St", "KG", "EA", "454G 2PK")


def made_word(chance: random.Random) -> str:
    return "".join(chance.choices(_SYLLABLES, k=chance.randint(2, 3)))


def many_ingredients(chance: random.Random, count: int) -> list[KnownIngredient]:
    """Return the kitchen's ingredients again and again, each time with another invented word."""
    base = kitchen()
    found = list(base)
    while len(found) < count:
        each = chance.choice(base)
        found.append(
            replace(
                each,
                ingredient_id=len(found) + 1,
                name=f"{made_word(chance)} {each.name}",
                aliases=(made_word(chance),),
            )
        )
    return found


def many_words(chance: random.Random, count: int) -> list[str]:
    described = [row["words"] for row in table("described.csv")]
    return [
        f"{made_word(chance).upper()} {chance.choice(described)} {chance.choice(_SIZES)}"
        for _ in range(count)
    ]


def main() -> int:
    chance = random.Random(11)
    ingredients = many_ingredients(chance, 2_000)
    decided = [
        Decided(words=words, ingredient_id=chance.choice(ingredients).ingredient_id)
        for words in many_words(chance, 20_000)
    ]
    asked = [Asked(words=words, price=Decimal("2.50")) for words in many_words(chance, 1_000)]
    started = time.perf_counter()
    proposer = Proposer(ingredients, decided, "uk")
    built = time.perf_counter()
    proposer.propose(asked)
    ended = time.perf_counter()
    print(f"built in {built - started:.2f} s, 1,000 proposed in {ended - built:.2f} s")
    for part in ("open", "aside", "last", "final"):
        shares(part)
    return int(ended - started > WANTED_SECONDS)


if __name__ == "__main__":
    sys.exit(main())
