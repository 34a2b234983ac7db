"""Command that offers published weights of household measures."""

from __future__ import annotations

from typing import Annotated

import typer

from dashboard.commands.app import app
from dashboard.commands.options import Json
from dashboard.terminal import answer, stop


@app.command()
def weights(
    ingredient: str,
    most: Annotated[int, typer.Option("--most", min=1, help="Foods to show.")] = 3,
    json: Json = False,
) -> None:
    """Offer published weights (USDA) of an ingredient's household measures; nothing is stored."""
    from dashboard.weights_words import weights_json, weights_text
    from pricing.measures.foods import suggest_measures

    found = suggest_measures(ingredient, most)
    answer(weights_json(found), lambda: weights_text(ingredient, found), as_json=json)
    if not found:
        stop(1)
