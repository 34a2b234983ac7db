"""The command that tells what a reprint needs: prices to check, new figures, corrections."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Dishes, Json
from dashboard.terminal.output import CHOSEN, answer, read_date, remark, stop, the_book, write_new
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.dish import LOCAL_LAW
from dashboard.words.evidence import age_words
from dashboard.words.figures import signed_money
from dashboard.words.house_rules import rules_sentence
from dashboard.words.reprint import (
    CHECK_MEANS,
    correction_words,
    last_words,
    reprint_answer,
    reprint_head,
    why_words,
)
from pricing.errors import InputRefused
from pricing.money import round_money, show_money

if TYPE_CHECKING:
    from pricing.book.read import Settings
    from pricing.reprint.records import Reprint

MOST_SHOWN = 12  # prices to check in the terminal


def reprint(
    dishes: Dishes = None,
    group: Annotated[str | None, typer.Option("--group", help="The dishes of a group.")] = None,
    by: Annotated[
        str, typer.Option("--by", help="When it is to be printed, YYYY-MM-DD; may lie ahead.")
    ] = "",
    on: Annotated[str, typer.Option("--on", help="Prices of a date; today unless stated.")] = "",
    write: Annotated[
        Path | None,
        typer.Option(
            "--write", help="The prices to check: FILE.csv to fill in and load, FILE.md to print."
        ),
    ] = None,
    json: Json = False,
) -> None:
    """Tell what a reprint needs: prices worth checking, each figure anew and why, corrections."""
    from pricing.contents.settings import book_settings
    from pricing.reprint.round import reprint_round

    book = the_book()
    if write is not None and write.suffix not in (".csv", ".md"):
        raise InputRefused(
            f"Found the file {write}; expected one that ends in .csv (to fill in and load) or .md "
            "(to print). Name it so."
        )
    found = reprint_round(
        book, dishes, group=group, by=read_date(by) if by else None,
        on=read_date(on) if on else None,
    )  # fmt: skip
    if write is not None:
        from dashboard.words.price_list import price_file, price_list

        write_new(write, price_file(found) if write.suffix == ".csv" else price_list(found))
        remark(f"The prices to check are in {write}.")
    most = MOST_SHOWN if CHOSEN.table is None else len(found.check)
    answer(
        reprint_answer(found), lambda: reprint_text(found, book_settings(book), most), as_json=json
    )
    if any(each.recosted_now is None for each in found.dishes):
        stop(1)


def reprint_text(found: Reprint, settings: Settings, most: int = MOST_SHOWN) -> str:
    """Return the round in order: prices to check, figures, why and what to print, corrections."""
    if not found.dishes:
        return (
            "No dish has a printed figure in force. Name dishes to be printed for the first time, "
            "or load figures with `portiondrift load printed FILE`."
        )
    parts = [f"{reprint_head(found)}.", *filter(None, [rules_sentence(settings)]), ""]
    parts += [*_to_check(found, most), "Figures to print, per portion", "", _figures(found), ""]
    for each in found.dishes:
        parts.append(wrapped(f"{each.dish}: {why_words(each, found.on)}"))
        if each.sentence and not each.stands:
            parts.append(wrapped(f"    {each.sentence}"))
    if found.corrections:
        parts += ["", "To correct: wrong when they were costed"]
        parts += [wrapped(f"  {correction_words(each, found.on)}") for each in found.corrections]
    return "\n".join([*parts, "", LOCAL_LAW])


def _to_check(found: Reprint, most: int) -> list[str]:
    least = 0.05 if most < len(found.check) else 0.0  # what is 0.0 % as shown is worth no walk
    shown = [each for each in found.check if each.worth >= least][:most]
    if not shown:
        return []
    rows = [
        [
            each.ingredient,
            f"{each.worth:.1f} %",
            str(each.figures),
            last_words(each),
            each.pack or "",
            "" if each.age_days is None else age_words(each.age_days),
            each.supplier or "",
        ]
        for each in shown
    ]
    headings = ["Prices worth checking", "Worth", "Figures", "Last seen", "Pack", "Age", "Shop"]
    more = len(found.check) - len(rows)
    told = [f"… and {more:,} more; --write FILE.csv or FILE.md has them."] if more else []
    return [text_table(headings, rows, right=(1, 2)), *told, wrapped(CHECK_MEANS), ""]


def _figures(found: Reprint) -> str:
    rows = []
    for each in found.dishes:
        money, now = each.currency, each.recosted_now
        more = ""
        if now is not None and each.printed is not None:
            difference = round_money(now, money) - round_money(each.printed, money)
            more = signed_money(difference, money) if difference else "—"
        rows.append(
            [
                each.dish,
                each.version,
                show_money(each.printed, money),
                show_money(now, money),
                more,
                show_money(each.new_figure, money),
                "stands" if each.stands else "",
            ]
        )
    headings = ["Dish", "Version", "Printed", "Costs now", "Difference", "To print", ""]
    return text_table(headings, rows, right=(2, 3, 4, 5))
