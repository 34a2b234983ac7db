"""What the page of the tray keeps of what it read, as `loaders` does for the other pages."""

from __future__ import annotations

from dashboard.views.book import State, book_of, kept, kept_of_book, today_of
from ingest.new_food.facts import FactsProposed
from ingest.tray.by_pack import ByPack, price_by_pack
from ingest.tray.listing import WaitingWords, list_tray
from ingest.tray.new_facts import new_facts


@kept_of_book
def tray_of(state: State) -> tuple[WaitingWords, ...]:
    """Return what waits for a decision, the surest proposals first."""
    return list_tray(book_of(state), today_of(state))


@kept
def by_pack_of(
    state: State, words: str, sender: str | None, ingredient: str, pack: str
) -> ByPack | None:
    """Return what words of a sender cost, were they this ingredient in that pack."""
    return price_by_pack(book_of(state), (words, sender), ingredient, pack, today=today_of(state))


@kept
def new_facts_of(state: State, each: WaitingWords, name: str) -> FactsProposed:
    """Return the facts proposed of an ingredient that a description would make."""
    return new_facts(book_of(state), each, name)
