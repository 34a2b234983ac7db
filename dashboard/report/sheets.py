"""The sheets of a report's workbook: what each holds, and which cells are worked out."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from dashboard.report.cells import MONEY, NUMBER, WORDS
from dashboard.words.series import office_words

if TYPE_CHECKING:
    from dashboard.report.cells import Book
    from dashboard.words.document import Document
    from pricing.report.records import Report

Place = dict[str, tuple[int, int]]  # dish → its first and last row of the sheet Lines


_WIDE, _LETTERS = 110, 95  # of the column of sentences: its width, and what surely fits a line


def words(book: Book, document: Document) -> None:
    """What the report says in sentences."""
    sheet = book.sheet("Report", [document.title], [_WIDE])
    sheet.add(document.under)
    for section in document.sections:
        if section.level == 2 and (section.says or section.listed):
            sheet.add(None)
            sheet.add((section.title, "head"))
            for said in (*section.says, *section.listed):
                # not every program makes room for the lines of a cell when it opens a file
                sheet.tall(len(textwrap.wrap(said, _LETTERS)))
                sheet.add((said, WORDS))


def lines_place(found: Report) -> Place:
    """Return where each dish's lines stand."""
    place, row = {}, 2
    for each in found.dishes:
        count = len(each.then_and_now.parts)
        place[each.then_and_now.dish] = (row, row + count - 1)
        row += count
    return place


def dishes(book: Book, found: Report, place: Place) -> None:
    """Each dish then and now; the costs are sums of its lines."""
    headings = ["Dish", "Printed", "Currency", "Published", "Then on", "Version then",
                "Version now", "Then", "As printed, today", "Now", "Change", "By prices",
                "By recipe", "Change, %", "Left out"]  # fmt: skip
    sheet = book.sheet("Dishes", headings, [34, 9, 9, 11, 11, 12, 12, 9, 12, 9, 9, 9, 9, 9, 30])
    for reported in found.dishes:
        each, printed = reported.then_and_now, reported.then_and_now.printed
        row = sheet.row + 1
        first, last = place[each.dish]
        share = 100 * each.change / each.cost_then if each.cost_then > 0 else None
        costs = [
            (f"=SUM(Lines!{column}{first}:{column}{last})", MONEY, value)
            for column, value in (("H", each.cost_then), ("I", each.cost_moved),
                                  ("J", each.cost_now))
        ]  # fmt: skip
        sheet.add(
            each.dish,
            (printed.cost_per_portion, MONEY) if printed else None,
            printed.currency if printed else None,
            printed.published_on if printed else None,
            each.then_on,
            each.then_version,
            each.now_version,
            *costs,
            (f"=J{row}-H{row}", MONEY, each.change),
            (f"=I{row}-H{row}", MONEY, each.price_effect),
            (f"=J{row}-I{row}", MONEY, each.recipe_effect),
            (f"=100*K{row}/H{row}", NUMBER, share) if share is not None else None,
            ", ".join(each.left_out),
        )
    last, number = sheet.row, len(found.dishes)
    means = [
        (f"=AVERAGE({column}2:{column}{last})", MONEY,
         sum(each.then_and_now[key] for each in found.dishes) / number)
        for column, key in (("H", "cost_then"), ("I", "cost_moved"), ("J", "cost_now"),
                            ("K", "change"), ("L", "price_effect"), ("M", "recipe_effect"))
    ]  # fmt: skip
    sheet.add("Mean", *[None] * 6, *means)


def lines(book: Book, found: Report) -> None:
    """Each ingredient of each dish, per portion: amount × price on either side."""
    headings = ["Dish", "Ingredient", "Unit", "Amount then", "Price then", "Amount now",
                "Price now", "Then", "As printed, today", "Now", "By prices", "By recipe",
                "Left out"]  # fmt: skip
    sheet = book.sheet("Lines", headings, [34, 26, 6, 12, 12, 12, 12, 10, 12, 10, 10, 10, 9])
    for reported in found.dishes:
        for part in reported.then_and_now.parts:
            row = sheet.row + 1
            start = [
                reported.then_and_now.dish, part.ingredient, part.base, part.quantity_then,
                part.unit_price_then, part.quantity_now, part.unit_price_now,
            ]  # fmt: skip
            if part.left_out:
                sheet.add(*start, *[None] * 5, "left out")
                continue
            before, now = part.quantity_then or 0.0, part.quantity_now or 0.0
            then_price, price = part.unit_price_then or 0.0, part.unit_price_now or 0.0
            sheet.add(
                *start,
                (f"=D{row}*E{row}", MONEY, before * then_price),
                (f"=D{row}*G{row}", MONEY, before * price),
                (f"=F{row}*G{row}", MONEY, now * price),
                (f"=I{row}-H{row}", MONEY, part.price_effect),
                (f"=J{row}-I{row}", MONEY, part.recipe_effect),
            )


def index(book: Book, found: Report) -> None:
    """The kitchen's index beside the official ones, and its rate over twelve months."""
    sheet = book.sheet("Index", ["Month", "Kitchen", "Food", "All items", "Kitchen, 12 months, %"],
                       [12, 10, 10, 10, 14])  # fmt: skip
    for at, each in enumerate(found.inflation.months):
        row = sheet.row + 1
        rate = None
        if at >= 12 and each.rate_12_pct is not None:
            rate = (f"=100*B{row}/B{row - 12}-100", NUMBER, each.rate_12_pct)
        levels = (each.index, each.official_food, each.official_all)
        sheet.add(each.month, *((level, NUMBER) for level in levels), rate)


def drivers(book: Book, found: Report) -> None:
    """What drove the mean cost of a portion; prices and recipe add up to the change."""
    headings = ["Ingredient", "By prices", "By recipe", "Change", "Its price, ratio",
                "Official, ratio", "Series"]  # fmt: skip
    sheet = book.sheet("Drivers", headings, [30, 11, 11, 11, 11, 11, 40])
    driven = found.drivers
    for each in driven.ingredients:
        row = sheet.row + 1
        sheet.add(
            each.ingredient, each.price_effect, each.recipe_effect,
            (f"=B{row}+C{row}", MONEY, each.contribution), each.price_relative,
            each.official_relative, each.series,
        )  # fmt: skip
    last = sheet.row
    if driven.ingredients:
        whole = (("B", driven.price_effect), ("C", driven.recipe_effect), ("D", driven.change))
        sheet.add("All", *((f"=SUM({c}2:{c}{last})", MONEY, value) for c, value in whole))


def printed(book: Book, found: Report) -> None:
    """The printed figures in force, and how far off they are."""
    headings = ["Dish", "Where", "Published", "Costed on", "Currency", "Printed", "Cost then",
                "Costs now", "Off then, %", "Off now, %", "Then", "Now"]  # fmt: skip
    sheet = book.sheet("Printed", headings, [34, 30, 11, 11, 9, 9, 9, 9, 9, 9, 12, 12])
    for each in found.figures:
        row = sheet.row + 1
        off = [
            (f"=100*{column}{row}/F{row}-100", NUMBER, value) if value is not None else None
            for column, value in (("G", each.off_then_pct), ("H", each.off_now_pct))
        ]
        sheet.add(
            each.dish, each.where, each.published_on, each.costed_on, each.currency,
            (each.printed, MONEY), (each.known_then, MONEY), (each.recosted_now, MONEY), *off,
            each.then, each.now,
        )  # fmt: skip


def prices(book: Book, found: Report) -> None:
    """Every price used, as it was logged."""
    headings = ["Ingredient", "Day", "Price", "Currency", "Tax, %", "Paid", "Pack", "Unit price",
                "Unit", "Kind", "Supplier", "Product", "Region", "Source", "Note", "File",
                "Line", "Load"]  # fmt: skip
    sheet = book.sheet("Prices", headings, [26, 11, 9, 9, 7, 9, 14, 12, 6, 9, 22, 22, 14, 18, 18,
                                            22, 7, 7])  # fmt: skip
    for each in found.prices:
        row, tax = sheet.row + 1, float(each.tax_pct or 0)
        sheet.add(
            each.ingredient, each.observed_on, each.price, each.currency, each.tax_pct,
            (f"=C{row}*(1+E{row}/100)", MONEY, float(each.price) * (1 + tax / 100)), each.pack,
            each.unit_price, each.base, each.kind, each.supplier, each.product, each.region,
            each.source, each.note, each.file, each.line, each.load,
        )  # fmt: skip


def series(book: Book, found: Report) -> None:
    """The official series, and which months of them."""
    headings = ["Series", "Title", "Office", "Base", "From", "To", "Months used",
                "Latest release"]  # fmt: skip
    sheet = book.sheet("Series", headings, [18, 48, 34, 14, 9, 9, 9, 12])
    for each in found.series:
        sheet.add(
            each.series, each.title, office_words(each.series), each.base_label,
            each.first_month, each.last_month, each.months_used,
            each.released_on,
        )  # fmt: skip


def values(book: Book, found: Report) -> None:
    """Every value of a series that was used."""
    headings = ["Series", "Month", "Value", "Of the month", "Released"]
    sheet = book.sheet("Index values", headings, [18, 9, 12, 12, 12])
    for each in found.index_values:
        sheet.add(
            each.series, each.month, each.value, each.value_month,
            each.released_on,
        )  # fmt: skip
