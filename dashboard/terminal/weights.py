"""The command that offers published weights of household measures."""

from __future__ import annotations

import csv
import io
import textwrap
from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, stop
from dashboard.terminal.text_table import text_table
from dashboard.words.figures import plain_number
from pricing.answer import plain
from pricing.measures.foods import NOTE, FoodSuggestion

if TYPE_CHECKING:
    from ingest.new_food.facts import FactsProposed


def weights(
    ingredient: str,
    most: Annotated[int, typer.Option("--most", min=1, help="Foods to show.")] = 3,
    json: Json = False,
) -> None:
    """Offer published weights and densities (USDA) of an ingredient; nothing is stored."""
    from ingest.new_food.facts import propose_facts
    from pricing.measures.foods import another_form, suggest_measures

    found, why = suggest_measures(ingredient, most), another_form(ingredient)
    facts = propose_facts(ingredient, [], [], measures="us")
    told = {**weights_json(found, why), "facts": facts_json(facts)}
    parts = (facts_text(facts), weights_text(ingredient, found, why))
    answer(told, lambda: "\n\n".join(filter(None, parts)), as_json=json)
    if not found:
        stop(1)


_FACTS = {
    "density_g_per_ml": "g of one ml",
    "grams_each": "g of one piece, as purchased",
    "yield_pct": "% left after trimming",
    "category": "category",
}


def facts_json(facts: FactsProposed) -> dict[str, Any]:
    """Return what a new ingredient of this name may be like, each fact with its source, or null."""
    found = {name: getattr(facts, name) for name in _FACTS}
    return {name: None if fact is None else plain(asdict(fact)) for name, fact in found.items()}


def facts_text(facts: FactsProposed) -> str:
    """Return the same, a line each; "" where no reference food is this one for sure."""
    found = {words: getattr(facts, name) for name, words in _FACTS.items()}
    lines = [f"  {words}: {fact.value} ({fact.source})" for words, fact in found.items() if fact]
    return "\n".join(["Facts for an ingredients file, to choose from:", *lines]) if lines else ""


_US_UNITS = ("cup", "tbsp", "tsp", "fl", "pint", "quart", "gallon")


def weights_json(found: Sequence[FoodSuggestion], why: str | None) -> dict[str, Any]:
    """Return the foods with their measures; grams as edible and as purchased."""
    note = f"{why} {NOTE}" if why else NOTE
    return {"foods": [plain(asdict(food)) for food in found], "note": note}


def weights_text(ingredient: str, found: Sequence[FoodSuggestion], why: str | None) -> str:
    """Return a table a food, and rows of a measures file to take from.

    `why`: a food of the name is not offered.
    """
    if why and not found:
        return textwrap.fill(why, 100)
    if not found:
        return (
            f"No reference food has a name near '{ingredient}'. Weigh the measure yourself and put "
            "it into a measures file."
        )
    parts = [_food_text(food) for food in found]
    rows = _measure_rows(ingredient, found[0])
    offered = f"Rows for a measures file, to choose from:\n{rows}"
    notes = [textwrap.fill(each, 100) for each in (why, NOTE) if each]
    return "\n\n".join([*parts, *notes, offered])


def _food_text(food: FoodSuggestion) -> str:
    refuse = "not stated" if food.refuse_pct is None else f"{food.refuse_pct:f} %"
    thrown = f" ({food.refuse_description})" if food.refuse_description else ""
    rows = [
        [
            f"{measure.amount.normalize():f} {measure.measure}",
            f"{plain_number(float(measure.grams_edible), 1)} g",
            "not stated"
            if measure.grams_as_purchased is None
            else f"{plain_number(float(measure.grams_as_purchased), 1)} g",
        ]
        for measure in food.measures
    ]
    table = text_table(["Measure", "Edible", "As purchased"], rows, right=(1, 2))
    return f"{food.description} — {food.source}; refuse {refuse}{thrown}\n{table}"


def _measure_rows(ingredient: str, food: FoodSuggestion) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["ingredient", "measure", "grams", "source"])
    for measure in food.measures:
        if measure.grams_of_one is not None:
            grams = f"{measure.grams_of_one:.1f}"
            refuse = f", refuse {food.refuse_pct:f} %" if food.refuse_pct else ""
            # cups and spoons of the source are US ones: their name has to say so in any other book
            us = "us " if measure.measure.split(" ")[0].rstrip(",") in _US_UNITS else ""
            writer.writerow([ingredient, f"{us}{measure.measure}", grams, f"{food.source}{refuse}"])
    return out.getvalue().rstrip()
