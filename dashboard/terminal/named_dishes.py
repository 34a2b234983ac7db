"""The dishes that a question is about: those named, or all, half-products too where asked for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

import typer

from pricing.book.connect import Book

HalfProducts = Annotated[
    bool, typer.Option("--half-products", help="Dishes that only others take, too.")
]


def named_dishes(
    book: Book, dishes: Sequence[str] | None, *, half_products: bool
) -> Sequence[str] | None:
    """Return the dishes named; None: all that count, which half-products do not.

    A half-product counts when it is named, so that all are named where they are asked for.
    """
    if dishes or not half_products:
        return dishes
    from pricing.contents.choices import list_dishes

    return [each.dish for each in list_dishes(book)]
