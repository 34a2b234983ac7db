"""Times proposals: 1,000 descriptions against 2,000 ingredients and 20,000 earlier decisions.

    python -m tests.benchmarks.proposals

Names, brands and words are invented, drawn with a fixed seed from the kitchen of
tests/ingest/matching. Printed are the seconds of the processor to propose, and to build the
proposer (the best of three), and the shares of the labelled descriptions that were proposed right.
The exit status is 1 where both take over one second.
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


def timed(
    ingredients: list[KnownIngredient], decided: list[Decided], asked: list[Asked]
) -> tuple[float, float, float]:
    """Return the seconds of both, of proposing, and of building."""
    started = time.process_time()
    proposer = Proposer(ingredients, decided, "uk")
    built = time.process_time()
    proposer.propose(asked)
    ended = time.process_time()
    return ended - started, ended - built, built - started


def main() -> int:
    chance = random.Random(11)
    ingredients = many_ingredients(chance, 2_000)
    decided = [
        Decided(words=words, ingredient_id=chance.choice(ingredients).ingredient_id)
        for words in many_words(chance, 20_000)
    ]
    asked = [Asked(words=words, price=Decimal("2.50")) for words in many_words(chance, 1_000)]
    best = min(timed(ingredients, decided, asked) for _ in range(3))
    print(f"1,000 proposed in {best[1]:.2f} s, after {best[2]:.2f} s to build")
    for part in ("open", "aside", "last", "final", "abroad"):
        shares(part)
    return int(best[0] > WANTED_SECONDS)


if __name__ == "__main__":
    sys.exit(main())
