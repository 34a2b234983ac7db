"""The tables, the correction list and the evidence of the page of printed figures."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

import pandas as pd

from dashboard.words.figures import signed_money, signed_rate
from dashboard.words.markdown import dish_link, ingredient_link, plain, unbroken
from dashboard.words.printed import (
    correction,
    evidence_side,
    out_words,
    printed_words,
    verdict_words,
)
from pricing.days import day_words
from pricing.money import round_money, show_money
from pricing.printed.records import CheckedFigure, CheckedFigures
from pricing.printed.said_and_known import SaidAndKnown


def figure_rows(
    figures: Sequence[CheckedFigure], on: date, *, replaced: bool = False
) -> pd.DataFrame:
    """Return figures as a table of Markdown, each with a way to then and now.

    `replaced` adds when a later figure took its place.
    """
    rows = []
    for figure in figures:
        money = figure.currency
        row = {
            "Dish": dish_link(
                figure.dish, "why",
                then=figure.costed_on.isoformat(), then_version=figure.version,
            ),
            "Version": plain(figure.version),
            "Published": _days(figure, on),
            "Printed": plain(printed_words(figure.printed, figure.as_printed, money)),
            "Cost then": unbroken(show_money(figure.known_then, money)),
            "Then": unbroken(verdict_words(figure.then)),
            "Costs now": unbroken(show_money(figure.recosted_now, money)),
            "Off now": unbroken(signed_rate(figure.off_now_pct)),
            "Now": unbroken(verdict_words(figure.now)),
            "By food": unbroken(show_money(figure.rebased_food, money)),
            "By all items": unbroken(show_money(figure.rebased_all, money)),
        }  # fmt: skip
        if replaced and figure.superseded_by is not None:
            row["Replaced on"] = _day(figure.superseded_by)
        rows.append(row)
    return pd.DataFrame(rows)


def _days(figure: CheckedFigure, on: date) -> str:
    """Return the day of publication, and the day it was costed for where that is another."""
    day = f"{_day(figure.published_on)}{out_words(figure.published_on, on)}"
    if figure.costed_on != figure.published_on:
        day += f"; costed for {_day(figure.costed_on)}"
    return day


def _day(day: date) -> str:
    return day.isoformat().replace("-", "\u2011")  # it stays on one line


def correction_frame(found: CheckedFigures) -> pd.DataFrame:
    """Return the figures to correct, those that mislead most first; money in `currency`."""
    columns = [
        "dish", "version", "published_on", "costed_on", "where", "then", "now", "printed",
        "as_printed", "known_then", "recosted_now", "currency", "off_then_pct", "off_now_pct",
    ]  # fmt: skip
    rows = [[figure[column] for column in columns] for figure in to_correct(found)]
    return pd.DataFrame(rows, columns=columns)


def to_correct(found: CheckedFigures) -> list[CheckedFigure]:
    """Return the figures in force that differed on their own day, or are stale."""
    return [each for each in found.in_force if each.then == "differs" or each.now == "stale"]


def correction_list(found: CheckedFigures) -> str:
    """Return the list of corrections to print, in Markdown."""
    title = f"# Printed figures to correct, {day_words(found.on)}"
    parts = [title, f"More than {found.tolerance_pct:g} % of the printed figure off."]
    wrong = [each for each in to_correct(found) if each.then == "differs"]
    stale = [each for each in to_correct(found) if each.then != "differs"]
    for heading, figures in (("Wrong when printed", wrong), ("Stale now", stale)):
        lines = [f"- {plain(correction(each, found.on))}" for each in figures]
        if lines:
            parts.append("\n".join([f"## {heading}", "", *lines]))
    return "\n\n".join(parts) + "\n"


def said_rows(found: SaidAndKnown) -> pd.DataFrame:
    """Return what changed behind a figure since it was recorded, as a table of Markdown."""
    return pd.DataFrame(
        [
            {
                "What changed": ingredient_link(line.ingredient),
                "What we said": plain(evidence_side(line.said, line.base, found.currency)),
                "What we know now": plain(evidence_side(line.known, line.base, found.currency)),
                "Per portion": unbroken(signed_money(line.change, found.currency)),
            }
            for line in found.lines
        ]
    )


def kept_rows(found: SaidAndKnown) -> pd.DataFrame:
    """Return the prices that were kept when the figure was recorded, as a table."""
    columns = {
        "ingredient": "Ingredient", "observed_on": "Seen on", "price": "Price", "pack": "Pack",
        "supplier": "Supplier", "product": "Product", "kind": "Kind", "source": "Source",
    }  # fmt: skip
    kept = pd.DataFrame(found.evidence["prices"], columns=[*columns, "currency"])
    kept["price"] = [
        _as_paid(price, money) for price, money in zip(kept["price"], kept["currency"], strict=True)
    ]
    return kept[list(columns)].rename(columns=columns)


def _as_paid(price: str, currency: str) -> str:
    """Return a kept price with its currency; one that rounding would change to the digit."""
    exact = Decimal(price)
    if round_money(exact, currency) == exact:
        return show_money(exact, currency)
    return f"{currency} {price}"
