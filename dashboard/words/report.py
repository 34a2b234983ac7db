"""The inflation report in words: its sections, in the order in which they are read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.words.dish import LOCAL_LAW
from dashboard.words.document import Document, Section, Table
from dashboard.words.figures import (
    counted,
    half_products_words,
    signed_rate,
)
from dashboard.words.report_dishes import dish_sections, dishes_table
from dashboard.words.report_evidence import evidence_sections
from dashboard.words.report_index import headline, what_drove_it
from dashboard.words.reprint import correction_words
from pricing.days import day_words, month_words
from pricing.money import show_money
from pricing.report.records import Report

if TYPE_CHECKING:
    pass


def report_document(found: Report) -> Document:
    """Return the report, section by section."""
    index = found.inflation
    months = f"{month_words(index.from_month)} to {month_words(index.to_month)}"
    return Document(
        title="Inflation report of the kitchen",
        under=f"{counted(len(found.dishes), 'dish', 'dishes')}, {months}, at prices of "
        f"{day_words(found.on)}, in {found.currency}",
        sections=[
            headline(found, months),
            what_drove_it(found, months),
            Section(
                title="Each dish, then and now",
                says=[DISHES_MEAN],
                tables=[dishes_table(found)],
                breaks=True,
            ),
            *dish_sections(found),
            *_figures(found),
            _method(found),
            Section(title="Cautions", listed=_cautions(found)),
            *evidence_sections(found),
            Section(title="What this was made from", says=_made_from(found)),
        ],
    )


DISHES_MEAN = (
    "Cost per portion. Then: the recipe of then at the prices of then, on the day the first "
    "printed figure was costed for, else the day the dish began. As printed, today: the same "
    "recipe at the prices of now. Now: the recipe of now at the prices of now. Prices + recipe = "
    "change."
)


def _figures(found: Report) -> list[Section]:
    """Return the printed figures in force, and those to correct."""
    rows = [
        [
            each.dish,
            each.where or "—",
            day_words(each.published_on),
            show_money(each.printed, each.currency),
            show_money(each.known_then, each.currency),
            show_money(each.recosted_now, each.currency),
            signed_rate(each.off_now_pct),
            each.now,
        ]
        for each in found.figures
    ]
    headings = ["Dish", "Where", "Published", "Printed", "Cost then", "Costs now", "Off now", ""]
    says = (
        "The recipe as printed, per portion. Cost then: by what was known on the day it was costed "
        "for. A figure "
        f"holds within {found.tolerance_pct:g} % of what was printed."
    )
    if not found.pantry_counted:
        says += " Lines of the store cupboard are not counted, by the house's rules."
    printed = Section(
        title="Printed figures in force",
        says=[says] if rows else ["No dish of this report has a printed figure in force."],
        tables=[Table(headings=headings, rows=rows, right=(3, 4, 5, 6), says="Printed figures")]
        if rows
        else [],
    )
    wrong = [correction_words(each, found.on) for each in found.corrections]  # type: ignore[arg-type]
    return [
        printed,
        Section(
            title="Corrections",
            says=["Figures that were wrong when they were costed:"]
            if wrong
            else ["No printed figure in force was wrong when it was costed."],
            listed=wrong,
        ),
    ]


def _method(found: Report) -> Section:
    index = found.inflation
    return Section(
        title="Method",
        says=[
            "A recipe line is turned into what must be bought (as purchased), in grams, "
            "millilitres or pieces, and multiplied by the price of that unit; the sum over the "
            "lines, divided by the portions, is the cost per portion.",
            f"A price counts on a day as it was seen, up to {found.fresh_days} days after it was "
            "seen; the price of several shops is their mean, and the older a price the less it "
            "counts. An older one is moved by the official series of that food, the narrowest that "
            "has the months, and between two sightings bent so that it meets the next one. What no "
            "series serves is held as it was. Only ratios within one series are used.",
            "Then and now: first the old recipe is taken at the prices of now (prices), then the "
            "recipe is changed at the prices of now (recipe). The two parts add up to the change. "
            "What lacks a price is left out of both sides and named.",
            f"The kitchen's index keeps the recipes in force in {month_words(index.from_month)} "
            "and divides what a portion of every dish costs on the 15th of each month by what it "
            "cost in the first one: a fixed basket (Laspeyres). The drivers take the version in "
            "force on each of the two days.",
            "Amounts are rounded once, when they are shown; parts of a sum are shown as they round "
            "and may differ from it in the last digit.",
        ],
    )


def _cautions(found: Report) -> list[str]:
    said = [
        LOCAL_LAW,
        "This report says nothing of allergens: check the labels of what you buy.",
        "It costs ingredients only: no energy, work, rent or tax on what is sold.",
    ]
    if any(not each.then_and_now.complete for each in found.dishes):
        said.append("Where an ingredient is named as left out, the figures of that dish lack it.")
    halves = found.inflation.half_products
    said += [half_products_words(halves)] if halves else []
    if found.drafts:
        said.append(f"Left out, as they begin later: {', '.join(found.drafts)}.")
    return said


def _made_from(found: Report) -> list[str]:
    return [
        f"Made at prices of {day_words(found.on)} from the book whose content has the SHA-256 "
        f"{found.book_sha256}. The same book, day and command give this report again, to the byte."
    ]
