"""The dishes of a report in words: a line each in one table, and a section each with its chart."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from dashboard.words.document import Chart, Line, Mark, Section, Table
from dashboard.words.evidence import evidence_share
from dashboard.words.figures import figure, listed, signed, signed_percent
from dashboard.words.printed import printed_words
from pricing.change.overview import DishThenAndNow
from pricing.change.shown import shown
from pricing.days import DAY_OF_MONTH, day_words, month_words
from pricing.money import show_money
from pricing.report.records import Report, ReportedDish


def dishes_table(found: Report) -> Table:
    """Return one line a dish: as first printed, then, as printed today, now, and the change."""
    rows = []
    for reported in found.dishes:
        each, money = reported.then_and_now, found.currency
        printed = each.printed
        change, by_price, by_recipe = changes_shown(each, money)
        rows.append(
            [
                each.dish,
                show_money(printed.cost_per_portion, printed.currency) if printed else "—",
                day_words(each.then_on),
                figure(each.cost_then, each.complete, money),
                figure(each.cost_moved, each.complete, money),
                figure(each.cost_now, each.complete, money),
                change,
                by_price,
                by_recipe,
                signed_percent(each.change / each.cost_then if each.cost_then > 0 else None),
            ]
        )
    headings = ["Dish", "Printed", "Day", "Then", "As printed, today", "Now", "Change", "Prices",
                "Recipe", "%"]  # fmt: skip
    return Table(headings=headings, rows=rows, right=(1, 3, 4, 5, 6, 7, 8, 9), says="Dishes")


def changes_shown(each: DishThenAndNow, money: str) -> tuple[str, str, str]:
    """Return the change, its part by prices and by recipe, which add up as they are shown."""
    told = shown(money, each.cost_then, each.cost_moved, each.cost_now)
    return (
        _signed(told.change, money),
        _signed(told.by_price, money),
        _signed(told.by_recipe, money),
    )


def _signed(amount: Decimal, money: str) -> str:
    return signed(amount, show_money(abs(amount), money)) if amount else "—"


def dish_sections(found: Report) -> Iterator[Section]:
    """Yield a section for each dish: what became of it in two sentences, and its chart."""
    for each in found.dishes:
        yield Section(
            title=each.then_and_now.dish,
            level=3,
            says=_said(each.then_and_now, found),
            chart=_chart(each, found.currency, found.on),
        )


def _said(each: DishThenAndNow, found: Report) -> list[str]:
    money, printed = found.currency, each.printed
    start = ""
    if printed:
        words = printed_words(printed.cost_per_portion, printed.as_printed, printed.currency)
        where = f" in {printed.published_where}" if printed.published_where else ""
        verb = "First printed" if printed.published_on <= found.on else "To be printed"
        start = f"{verb} at {words} on {day_words(printed.published_on)}{where}. "
    then = show_money(each.cost_then, money)
    said = (
        f"{start}On {day_words(each.then_on)}, version {each.then_version}, a portion cost {then}; "
        f"that recipe costs {show_money(each.cost_moved, money)} at the prices of "
        f"{day_words(found.on)}"
    )
    if each.now_version != each.then_version or each.recipe_effect:
        said += (
            f", and the recipe of now, version {each.now_version}, "
            f"{show_money(each.cost_now, money)}"
        )
    told = [f"{said}.", f"Of the cost now: {evidence_share(each.share_bridged, True)}."]
    if each.left_out:
        told.append(f"Without {listed(each.left_out)}, which cannot be compared.")
    return told


def _chart(each: ReportedDish, money: str, on: date) -> Chart | None:
    days = [date.fromisoformat(f"{point.month}-{DAY_OF_MONTH}") for point in each.points]
    if len(days) < 2:
        return None
    costs = [point.cost_per_portion if point.complete else None for point in each.points]
    known = [(day, cost) for day, cost in zip(days, costs, strict=True) if cost is not None]
    printed = each.then_and_now.printed
    marks = []
    says = f"Cost per portion, {month_words(days[0])} to {month_words(days[-1])}: "
    if known:
        low, high = (pick(known, key=lambda pair: pair[1]) for pick in (min, max))
        (first, start), (last, end) = known[0], known[-1]
        says += (
            f"{show_money(start, money)} in {month_words(first)}, {show_money(end, money)} in "
            f"{month_words(last)}; lowest {show_money(low[1], money)} in {month_words(low[0])}, "
            f"highest {show_money(high[1], money)} in {month_words(high[0])}."
        )
    else:
        says += "no month is complete, since a price is missing."
    if printed is not None and printed.currency == money:
        day = printed.published_on if printed.published_on <= on else printed.costed_on
        shown = show_money(printed.cost_per_portion, money)
        if days[0] <= day <= on:
            marks.append(Mark(on=day, value=printed.cost_per_portion, label=f"printed {shown}"))
            says += f" Printed {shown}, {day_words(printed.published_on)}."
    return Chart(
        title=f"Cost of a portion of {each.then_and_now.dish}",
        says=says,
        lines=[Line(name="cost per portion", points=list(zip(days, costs, strict=True)))],
        marks=marks,
        currency=money,
    )
