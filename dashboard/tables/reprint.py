"""The tables of a reprint round on its page."""

from __future__ import annotations

import pandas as pd

from dashboard.words.evidence import age_words
from dashboard.words.figures import signed_money
from dashboard.words.markdown import dish_link, ingredient_link, plain, unbroken
from dashboard.words.reprint import last_words, why_words
from pricing.money import round_money, show_money
from pricing.reprint.records import DishToReprint, Reprint

MOST_SHOWN = 15  # prices on the page


def check_rows(found: Reprint) -> pd.DataFrame:
    """Return the prices worth checking, as a table of Markdown; those that are worth most."""
    return pd.DataFrame(
        [
            {
                "Ingredient": ingredient_link(each.ingredient),
                "Worth": unbroken(f"{each.worth:.1f} %"),
                "Figures": str(each.figures),
                "Last seen": plain(last_words(each)),
                "Pack": plain(each.pack or ""),
                "Age": "" if each.age_days is None else age_words(each.age_days),
                "Shop": plain(each.supplier or ""),
            }
            for each in found.check[:MOST_SHOWN]
        ]
    )


def figure_rows(found: Reprint) -> pd.DataFrame:
    """Return each figure anew, as a table of Markdown; a dish leads to why."""
    return pd.DataFrame([_figure_row(each, found) for each in found.dishes])


def _figure_row(each: DishToReprint, found: Reprint) -> dict[str, str]:
    money, now, printed = each.currency, each.recosted_now, each.printed
    difference = None
    if now is not None and printed is not None:
        difference = round_money(now, money) - round_money(printed, money)
    then = {}
    if each.costed_on is not None and each.printed_version is not None:
        then = {"then": each.costed_on.isoformat(), "then_version": each.printed_version}
    stands = " (stands)" if each.stands else ""
    return {
        "Dish": dish_link(each.dish, "why", **then),
        "Version": plain(each.version),
        "Printed": unbroken(show_money(printed, money)),
        "Costs now": unbroken(show_money(now, money)),
        "Difference": unbroken(signed_money(difference, money)) if difference else "—",
        "To print": unbroken(show_money(each.new_figure, money) + stands),
        "Why, and the sentence": plain(
            f"{why_words(each, found.on)}{f' “{each.sentence}”' if each.sentence else ''}"
        ),
    }
