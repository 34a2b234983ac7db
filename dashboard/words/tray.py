"""Says what waits for a decision: from whom, how dear by its pack, how sure a proposal is."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from dashboard.words.figures import counted, listed, percent
from pricing.days import day_words
from pricing.measures.unit_price import shown_unit, unit_price_words
from pricing.money import show_money
from pricing.names import NOT_AN_INGREDIENT

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from ingest.new_food.facts import Fact
    from ingest.tray.by_pack import ByPack
    from ingest.tray.listing import Proposed, WaitingWords

_WEIGHED = re.compile(r"([0-9]+(?:\.[0-9]+)?) (kg|l|lb)")  # many of a unit that prices go by
MOST_SURE = 0.99  # is said of words that nobody has decided on
FAR = 3  # times as dear or as cheap as the book expects
WHAT_COMES_HERE = (
    "What comes here: lines of a price list, a receipt, an invoice or a recipe whose words the "
    "book does not know yet."
)
NEW_WITHOUT_BASE = (
    "The book has no ingredient of this name. Choose one that it has, or choose above how its "
    "prices are counted, to make it a new one. What is no food is 'not an ingredient'."
)
FACTS = {  # of a new ingredient
    "base": "Its prices are counted",
    "category": "Category",
    "density_g_per_ml": "g of one ml",
    "grams_each": "g of one piece",
    "yield_pct": "% left after trimming",
    "series": "Official series",
}
CHECK_LABELS = (
    "The allergens of a new ingredient are unknown until you enter them. Check the labels."
)


def wait_words(lines: int) -> str:
    """Return how many lines wait: "1 line waits for a decision"."""
    return f"{counted(lines, 'line')} {'waits' if lines == 1 else 'wait'} for a decision"


def where_from(each: WaitingWords) -> str:
    """Return from whom a description is, how many lines it has and what it cost last."""
    parts = [f"from {each.sender}"] if each.sender else []
    parts.append(counted(each.lines, "line"))
    if each.last_price is not None and each.last_on is not None:
        parts.append(f"last {last_words(each)} on {day_words(each.last_on)}")
    if each.dishes:
        more = len(each.dishes) - 2
        named = list(each.dishes[:2]) + ([f"{more:,} more"] if more > 0 else [])
        parts.append(f"in the recipe of {listed(named)}")
    return ", ".join(parts)


def last_words(each: WaitingWords) -> str:
    """Return what one pack cost last, and of what size; of a weighed line, what a kilo or a litre.

    "" of a line of a recipe, which has no price.
    """
    if each.last_price is None:
        return ""
    currency = each.currency or ""
    weighed = _WEIGHED.fullmatch(each.pack or "")
    if weighed is None or float(weighed[1]) in (0, 1):
        pack = f" for {each.pack}" if each.pack else ""
        return f"{show_money(each.last_price, currency)}{pack}"
    each_one = show_money(each.last_price / float(weighed[1]), currency)
    whole = show_money(each.last_price, currency)
    return f"{each_one} per {weighed[2]} ({whole} for {each.pack})"


def price_words(found: ByPack | Proposed, paid_in: str | None, currency: str, measures: str) -> str:
    """Return what the last price comes to by the pack, beside what the book expects.

    `paid_in` is the currency of the last price, `currency` that of the book.
    """
    if paid_in is None:  # a line of a recipe has no price
        return ""
    if found.unit_price is None or found.base is None:
        return "What is in a pack is not known: write it."
    said = unit_price_words(found.unit_price, found.base, paid_in, measures)
    if paid_in != currency:
        return f"{said}; the book's prices are in {currency}."
    if found.expected is None:
        return f"{said}; the book has no price yet."
    about = unit_price_words(found.expected, found.base, currency, measures)
    about = about.removesuffix(shown_unit(found.base, measures)[0]).strip()
    return f"{said}; the book expects {about}."


def far_words(found: ByPack | Proposed, paid_in: str | None, currency: str) -> str:
    """Return that the last price by the pack is far from what the book expects; "" if it is not."""
    if not (found.unit_price and found.expected) or paid_in != currency:
        return ""
    ratio = found.unit_price / found.expected
    if ratio > FAR:
        return "Over three times that: is the pack right?"
    return "Under a third of that: is the pack right?" if ratio < 1 / FAR else ""


def sure_words(proposal: Proposed | None, known_as: str | None, new_name: str | None) -> str:
    """Return how sure the proposal is, or that a new name is but proposed."""
    if known_as is not None:
        return f"Decided to be {known_as}; its pack or amount is not known"
    if proposal is None:
        if new_name == NOT_AN_INGREDIENT:
            return "Proposed: its words name no food"
        return "A name proposed by its words" if new_name else "Nothing like it is known"
    return f"{percent(min(proposal.score, MOST_SURE))} sure"


def facts_words(proposed: Mapping[str, Fact | None]) -> str:
    """Return where each fact proposed of a new ingredient is from; "" where none is proposed."""
    said = [f"{FACTS[name].lower()}: {fact.source}" for name, fact in proposed.items() if fact]
    return f"Proposed, to be looked over: {'; '.join(said)}. " if said else ""


def why_words(proposal: Proposed | None) -> list[str]:
    """Return what a proposal rests on, and what else the words may mean, as sentences."""
    if proposal is None:
        return []
    why = [f"It rests on: {'; '.join(proposal.why)}."] if proposal.why else []
    others = [f"Or perhaps {', '.join(proposal.others)}."] if proposal.others else []
    return [*why, *others]


def settled_words(stored: int, refused: int, remarks: Sequence[str]) -> list[str]:
    """Return what came of a press on the button that stores decisions, as sentences."""
    said = [f"{counted(stored, 'decision')} stored." if stored else "Nothing was stored."]
    if refused:
        wait = "1 still waits" if refused == 1 else f"{refused:,} still wait"
        said[0] += f" {wait}: why stands below, first of all."
    return [*said, *remarks]
