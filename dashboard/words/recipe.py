"""What is said of a recipe while it is written: its cost, what is wrong, which version it is."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from dashboard.words.figures import signed_fine
from dashboard.words.remedies import problem_words
from ingest.problem_codes import Code
from pricing.money import round_money, show_fine, show_money

if TYPE_CHECKING:
    from pricing.book.known import KnownIngredient
    from pricing.dishes.cost import DishCost
    from pricing.dishes.written import WrittenLine, WrittenVersion
    from pricing.errors import Problem
    from pricing.prices.price_line import CostLine

KEPT = (
    "What you write here is kept while this window is open, in whichever room you are. Only "
    "the button stores it."
)
_FIRST_YEAR = 1900  # from here on a number is taken to be a year
_OF_THE_BOOK = (Code.FACT_DIFFERS, Code.RECIPE_DIFFERS)


def next_version(labels: Sequence[str], today: date) -> str:
    """Return a label that no version has: the next number, the year where they are years, or today.

    >>> next_version(["1", "2"], date(2026, 11, 24)), next_version(["2024"], date(2026, 11, 24))
    ('3', '2026')
    >>> next_version(["spring"], date(2026, 11, 24)), next_version(["2026"], date(2026, 11, 24))
    ('2026-11-24', '2026-11-24')
    """
    numbers = [int(each) for each in labels if each.isdecimal()]
    last = max(numbers, default=0)
    if (not labels or numbers) and last < _FIRST_YEAR:
        return str(last + 1)
    day = today.isoformat()
    likely = [str(today.year)] if numbers else []
    likely += [day, *(f"{day} {n}" for n in range(2, len(labels) + 3))]
    return next(each for each in likely if each not in labels)


def is_of_the_book(problem: Problem) -> bool:
    """Tell whether a problem is only that the book has this version with another recipe."""
    return problem.code in _OF_THE_BOOK


def wrong_words(problem: Problem) -> str:
    """Return what is wrong beside the field it is about."""
    return problem_words(problem)


def line_cost_words(line: CostLine | None, portions: float, currency: str) -> str:
    """Return what a line adds to a portion."""
    if line is None or line.cost is None:
        return "no price" if line is not None else ""
    shown = _some(line.cost / portions, currency)
    return f"{'at least ' if line.basis == 'missing' else ''}{shown}"


def _some(amount: float, currency: str) -> str:
    """Return an amount, with two figures of it where whole cents would say nothing."""
    if round_money(amount, currency) or not amount:
        return show_money(amount, currency)
    return show_fine(amount, currency)


def beside_words(cost: DishCost, before: DishCost | None) -> str:
    """Return how a version lies beside the one it was copied from."""
    if before is None:
        return ""
    change = cost.cost_per_portion - before.cost_per_portion
    shown = signed_fine(change, cost.currency)
    if shown == "—":
        return f"as version {before.version}"
    return f"{shown} against version {before.version}"


def target_words(cost: DishCost, target: float | None) -> str:
    """Return how a cost lies to what a portion may cost; "" without a target."""
    if target is None:
        return ""
    over = cost.cost_per_portion - target
    allowed = show_money(target, cost.currency)
    if over > 1e-9:
        return f"✗ over the target of {allowed} by {_some(over, cost.currency)}"
    return f"✓ within the target of {allowed}" if cost.complete else ""


def more_words(texts: dict[str, str]) -> str:
    """Return what a line says beside its amount, as the name of the place where it stands.

    >>> more_words({"state": "edible", "pantry": "yes"}), more_words({})
    ('edible, pantry', 'More')
    """
    said = [
        "edible" if texts.get("state") == "edible" else "",
        f"yield {texts['yield_pct']} %" if texts.get("yield_pct") else "",
        "pantry" if texts.get("pantry") == "yes" else "",
    ]
    return ", ".join(filter(None, said)) or "More"


def head_of(version: WrittenVersion, label: str, begins: date) -> dict[str, str]:
    """Return the texts of a version to come, copied from one of the book, which nobody tasted."""
    numbers = (
        "portions", "batch_weight_g", "minutes", "made_per_month", "target", "minutes_waiting",
        "energy_kwh", "pots",
    )  # fmt: skip
    return {
        "dish": version.dish,
        "version": label,
        "effective_from": begins.isoformat(),
        "group": version.group or "",
        **{name: number_text(getattr(version, name)) for name in numbers},
    }


def line_of(line: WrittenLine) -> dict[str, str]:
    """Return the texts of a line of the book."""
    return {
        "ingredient": line.ingredient,
        "quantity": line.quantity,
        "unit": line.unit,
        "state": line.state,
        "yield_pct": number_text(line.yield_pct),
        "pantry": "yes" if line.pantry else "",
        "note": line.note or "",
    }


def amount_of(line: WrittenLine | None) -> str:
    """Return a line as a cook reads it; a dash where it goes."""
    return "—" if line is None else f"{line.quantity} {line.unit} {line.ingredient}"


def facts_texts(facts: KnownIngredient) -> dict[str, str]:
    """Return the facts of an ingredient as the texts of the columns of its file."""
    allergens = facts.allergens
    return {
        "ingredient": facts.name,
        "base": facts.base,
        "category": facts.category or "",
        "density_g_per_ml": number_text(facts.density_g_per_ml),
        "grams_each": number_text(facts.grams_each),
        "yield_pct": number_text(facts.yield_pct),
        "series": facts.series or "",
        "allergens": "" if allergens is None else "; ".join(allergens) or "none",
        "aliases": "; ".join(facts.aliases),
    }


def number_text(value: object) -> str:
    """Return a stored number without trailing zeros; "" for none.

    >>> from decimal import Decimal
    >>> number_text(Decimal("4.000000")), number_text(Decimal("100")), number_text(None)
    ('4', '100', '')
    """
    text = "" if value is None else f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
