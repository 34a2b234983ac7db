"""The command that checks every published figure."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.terminal.options import Json
from dashboard.terminal.output import answer, read_date, stop, the_book
from dashboard.terminal.text_table import text_table, wrapped
from dashboard.words.figures import counted, plain_number, signed_rate
from dashboard.words.printed import correction
from pricing.days import day_words
from pricing.money import show_money

if TYPE_CHECKING:
    from pricing.printed.check import Claims


def claims(
    on: Annotated[str, typer.Option("--on", help="Date, YYYY-MM-DD; today unless stated.")] = "",
    tolerance: Annotated[
        float, typer.Option("--tolerance", help="In % of the published figure.")
    ] = 5.0,
    json: Json = False,
) -> None:
    """Check every published figure, for its own date and for today."""
    from pricing.printed.check import check_claims

    day = read_date(on) if on else None
    found = check_claims(the_book(), on=day, tolerance_pct=tolerance)
    answer(found, lambda: claims_text(found), as_json=json)
    if not found.complete:
        stop(1)


def claims_text(found: Claims) -> str:
    """Return every figure, those that mislead most first, then what to correct and what lacks."""
    if not found.claims:
        return (
            f"The book has no figure published on or before {day_words(found.on)}. Load them with "
            "`portiondrift load claims FILE`, or record one with `portiondrift publish`."
        )
    rows = [
        [
            claim.dish,
            claim.version,
            str(claim.published_on),
            show_money(claim.claimed, claim.currency),
            show_money(claim.recosted_then, claim.currency),
            show_money(claim.recosted_now, claim.currency),
            signed_rate(claim.drift_pct),
            show_money(claim.rebased_food, claim.currency),
            show_money(claim.rebased_all, claim.currency),
            claim.status,
        ]
        for claim in found.claims
    ]
    table = text_table(
        [
            "Dish", "Version", "Published", "Printed", "Costed then", "Costs now", "Off now",
            "By food", "By all items", "Status",
        ],
        rows,
        right=(3, 4, 5, 6, 7, 8),
    )  # fmt: skip
    return "\n".join([_head(found), "", table, *_wrong(found), *_lacking(found)])


def _head(found: Claims) -> str:
    many = {
        status: sum(claim.status == status for claim in found.claims)
        for status in ("was wrong", "drifted", "cannot price", "holds")
    }
    said = ", ".join(f"{number} {status}" for status, number in many.items() if number)
    return (
        f"{counted(len(found.claims), 'published figure')} on {day_words(found.on)}, tolerance "
        f"{plain_number(found.tolerance_pct)} %: {said}"
    )


def _wrong(found: Claims) -> list[str]:
    return [
        line
        for claim in found.claims
        if claim.status == "was wrong"
        for line in ("", wrapped(correction(claim)))
    ]


def _lacking(found: Claims) -> list[str]:
    lines = []
    for claim in found.claims:
        if claim.status == "cannot price":
            day = day_words(claim.published_on)
            lines += ["", f"{claim.dish}, printed on {day}, cannot be priced:"]
            lines += [
                f"  on {day_words(gap.on)}, {gap.ingredient or 'the recipe'}: {gap.reason}"
                for gap in claim.gaps
            ]
    return lines
