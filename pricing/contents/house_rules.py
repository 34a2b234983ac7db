"""The house's rules of what it prints: rounding, store cupboard, tolerance, the sentence."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from string import Formatter

from pricing.book.read import Settings
from pricing.errors import InputRefused
from pricing.money import round_to

STEPS = (1, 5, 10, 50, 100)  # minor units
WAYS = ("nearest", "up")
FIELDS = ("dish", "cost", "portions", "month")  # that a sentence may name
LONGEST = 500  # letters of a sentence


@dataclass(frozen=True, kw_only=True)
class HouseRules:
    """How a figure is made ready to print."""

    step: int  # one of STEPS
    up: bool  # else to the nearest
    pantry: bool  # what is marked pantry is in printed figures
    sentence: str  # with FIELDS in braces

    @classmethod
    def of(cls, book: Settings) -> HouseRules:
        """Return the rules of a book's settings."""
        return cls(
            step=book.rounding,
            up=book.rounding_way == "up",
            pantry=book.pantry_counted == "yes",
            sentence=book.sentence,
        )

    @property
    def stated(self) -> bool:
        """Tell whether a printed figure is anything else than the cost, rounded to be shown."""
        return self.step != 1 or self.up or not self.pantry

    def figure(self, cost: float, currency: str) -> Decimal:
        """Return a cost per portion as it is printed."""
        return round_to(cost, currency, self.step, up=self.up)

    def say(self, *, dish: str, cost: str, portions: str, month: str) -> str:
        """Return the sentence to print."""
        return self.sentence.format(dish=dish, cost=cost, portions=portions, month=month)


def refuse_sentence(text: str) -> None:
    """Raise InputRefused for words that cannot be filled in.

    Only names of FIELDS may stand in braces, and {cost} must; a brace that is meant is doubled.
    """
    choices = ", ".join(f"{{{each}}}" for each in FIELDS)
    if len(text) > LONGEST or not text.isprintable():
        raise InputRefused(
            f"Found a sentence of {len(text)} letters; expected one line of at most {LONGEST}. "
            "Shorten it."
        )
    try:
        parts = [(name, form, turned) for _, name, form, turned in Formatter().parse(text)]
    except ValueError:
        raise InputRefused(
            f"Found a brace without its partner in the sentence '{text}'; expected fields such as "
            f"{choices}. Close it, or double a brace that is meant."
        ) from None
    fields = [each for each in parts if each[0] is not None]
    for name, form, turned in fields:
        if name not in FIELDS or form or turned:
            found = f"{name}{'!' + turned if turned else ''}{':' + form if form else ''}"
            raise InputRefused(
                f"Found the field '{{{found}}}' in the sentence; expected one of {choices}. "
                "Correct its name."
            )
    if "cost" not in {name for name, _, _ in fields}:
        raise InputRefused(
            f"Found the sentence '{text}' without {{cost}}; expected the figure in it, and of the "
            f"fields {choices} those that you want. Add {{cost}}."
        )
