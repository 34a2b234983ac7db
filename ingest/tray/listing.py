"""Lists what waits for a decision: each description once, with a proposal, the surest first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from ingest.kinds.decided import DecidedWords
from ingest.kinds.kitchen import Kitchen
from ingest.kinds.unusual import market_of
from ingest.matching import known as matching
from ingest.matching.new_name import is_no_food, proposed_name
from ingest.matching.packs import is_bare
from ingest.tray.proposer import matched_ingredients, proposer
from pricing.answer import Answer
from pricing.book import tray
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings
from pricing.book.tray import WaitingPrice, WaitingRecipeLine
from pricing.errors import MeasureRefused
from pricing.measures.read import in_base, read_pack
from pricing.names import NOT_AN_INGREDIENT, name_key, waiting_words
from pricing.prices.evidence import market_prices

SURE = 0.75  # from this score on a proposal is offered as a decision to be looked over


@dataclass(frozen=True, kw_only=True)
class Proposed(Answer):
    """What a description may mean."""

    ingredient: str  # its name, or "not an ingredient"
    pack: str | None  # of one
    score: float  # from 0 to 1: the same words were decided before
    why: tuple[str, ...]
    others: tuple[str, ...]  # other ingredients it may be, the likeliest first
    unit_price: float | None = None  # the last price by this pack, per base unit, with its tax
    base: str | None = None  # g, ml or each
    expected: float | None = None  # what the book expects per base unit today


@dataclass(frozen=True, kw_only=True)
class WaitingWords(Answer):
    """A description that waits, with all of its lines."""

    words: str
    sender: str | None  # None: of a recipe, or nobody is named
    lines: int
    last_price: float | None  # of one pack, where it has one price; None of a recipe line
    currency: str | None
    last_on: date | None
    pack: str | None  # of one, where a column or a unit stated it
    dishes: tuple[str, ...]  # whose recipes wait for it
    files: tuple[str, ...]
    amounts: tuple[str, ...]  # of its recipe lines, as written: "200 g"
    known_as: str | None  # the ingredient it was decided to be, where only pack or amount lacks
    proposal: Proposed | None
    new_name: str | None = None  # proposed by its words where no proposal is sure


def list_tray(book: Book, today: date) -> tuple[WaitingWords, ...]:
    """Return what waits, the surest proposals first. Raises BookUnreadable."""
    with reading(book) as con:
        return waiting(con, today)


def waiting(con: Connection, today: date) -> tuple[WaitingWords, ...]:
    """Return what waits in an open book, as `list_tray`."""
    groups: dict[tuple[str, str], tuple[list[WaitingPrice], list[WaitingRecipeLine]]] = {}
    for price in tray.waiting_prices(con):
        groups.setdefault((price.sender_key, price.words_key), ([], []))[0].append(price)
    for line in tray.waiting_recipe_lines(con):
        words = name_key(waiting_words(line.ingredient) or "")
        groups.setdefault(("", words), ([], []))[1].append(line)
    if not groups:
        return ()
    proposals = _Proposals(con, today)
    listed = [_listed(*each, proposals) for each in groups.values()]
    asked = [proposals.asked(each, last) for each, last in listed]
    found = [
        proposals.filled(each, last, proposal)
        for (each, last), proposal in zip(listed, proposals.proposer.propose(asked), strict=True)
    ]
    return tuple(sorted(found, key=_surest))


def expected_on(
    con: Connection, ingredients: Iterable[int], day: date, market: str
) -> dict[int, float]:
    """Return what the book expects ingredients to cost on a day, per base unit.

    In the market, trade or shop; what was never seen there, in the other.
    """
    pairs, currency = [(each, day) for each in ingredients], read_settings(con).currency
    found: dict[int, float] = {}
    for each in sorted(("shop", "trade"), key=lambda one: one == market):  # the market asked last
        prices = market_prices(con, currency, each, pairs)
        found |= {ingredient: price for (ingredient, _), price in prices.items()}
    return found


def _surest(each: WaitingWords) -> tuple[float, int, str, str]:
    score = 0.0 if each.proposal is None else each.proposal.score
    return -score, -each.lines, each.sender or "", each.words


def _listed(
    prices: Sequence[WaitingPrice], lines: Sequence[WaitingRecipeLine], proposals: _Proposals
) -> tuple[WaitingWords, WaitingPrice | None]:
    """Return a description without its proposal, and its last price."""
    last = tray.last_seen(prices)
    words = last.words if last else waiting_words(lines[0].ingredient) or ""
    sender = last.sender if last else None
    decided = proposals.decided.find(words, sender)
    return WaitingWords(
        words=words,
        sender=sender,
        lines=len(prices) + len(lines),
        last_price=None if last is None else float(last.price / last.packs),
        currency=None if last is None else last.currency,
        last_on=None if last is None else last.observed_on,
        pack=None if last is None else last.pack,
        dishes=tuple(dict.fromkeys(each.dish for each in lines)),
        files=tuple(dict.fromkeys([each.file for each in prices] + [each.file for each in lines])),
        amounts=tuple(dict.fromkeys(f"{each.quantity} {each.unit}" for each in lines)),
        known_as=decided.ingredient.name if decided and decided.ingredient else None,
        proposal=None,
    ), last


class _Proposals:
    """What proposals rest on in an open book."""

    def __init__(self, con: Connection, today: date) -> None:
        settings = read_settings(con)
        self.currency, self.measures = settings.currency, settings.measures
        self.kitchen = Kitchen(con)
        self.decided = DecidedWords(con, self.kitchen)
        known = {each.ingredient_id: each for each in self.kitchen.ingredients.values()}
        self.names = {key: each.name for key, each in known.items()}
        self._expected = {
            market: expected_on(con, known, today, market) for market in ("shop", "trade")
        }
        expected = self._expected["trade" if settings.market == "trade" else "shop"]
        self.ingredients = matched_ingredients(self.kitchen, expected)
        self.proposer = proposer(con, self.ingredients, self.measures)

    def asked(self, each: WaitingWords, last: WaitingPrice | None) -> matching.Asked:
        """Return the question for a description."""
        return matching.Asked(
            words=each.known_as or each.words,
            sender=each.sender,
            price=None if last is None else last.paid_each,
            currency_is_books=each.currency in (None, self.currency),
            pack=None if is_bare(each.pack) else each.pack,
        )

    def filled(
        self, each: WaitingWords, last: WaitingPrice | None, proposal: matching.Proposal
    ) -> WaitingWords:
        """Return the description with its proposal, if there is any, else a name for a new one."""
        if proposal.score < SURE and each.known_as is None:
            no_food = is_no_food(each.words)
            name = NOT_AN_INGREDIENT if no_food else proposed_name(each.words)
            each = replace(each, new_name=name)
        if proposal.score == 0:
            return each
        ingredient = self.ingredients.get(proposal.ingredient_id or 0)
        made = Proposed(
            ingredient=NOT_AN_INGREDIENT if ingredient is None else ingredient.name,
            pack=proposal.pack,
            score=proposal.score,
            why=proposal.why,
            others=tuple(self.names[key] for key, _ in proposal.others if key in self.names),
        )
        if ingredient is not None:
            if made.pack is None and is_bare(each.pack) and ingredient.facts.base == "each":
                made = replace(made, pack=f"{each.pack} each")
            made = self._with_price(made, ingredient, last)
        return replace(each, proposal=made)

    def _with_price(
        self, made: Proposed, ingredient: matching.KnownIngredient, last: WaitingPrice | None
    ) -> Proposed:
        size = self._size(made.pack, ingredient)
        expected = ingredient.expected
        if last is not None:  # a supplier's price beside what suppliers asked
            expected = self._expected[market_of(last.price_kind)].get(ingredient.ingredient_id)
        return replace(
            made,
            unit_price=float(last.paid_each) / size if last is not None and size else None,
            base=ingredient.facts.base,
            expected=expected,
        )

    def _size(self, pack: str | None, ingredient: matching.KnownIngredient) -> float | None:
        if pack is None:
            return None
        try:
            own = list(ingredient.facts.grams_by_measure)
            return in_base(read_pack(pack, self.measures, own), ingredient.facts)
        except MeasureRefused:
            return None
