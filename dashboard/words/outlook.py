"""What a portion may cost on a later day, in words; and how such words held in the past."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.words.figures import counted, figure, listed, percent
from pricing.days import day_words, month_words

if TYPE_CHECKING:
    from pricing.ahead.back_test import BackTest, Horizon
    from pricing.ahead.records import LeansOn, Outlook, Range

_SUCH = {0.5: "one of two", 0.8: "four of five"}  # of such forecasts
CAUTION = (
    "An outlook, no promise: it knows what official series did, and a price in one shop swings "
    "more than its series."
)
CHECK_MEANS = (
    "Covered: how many of the forecasts ended inside the range. Score: mean interval score "
    "(Gneiting and Raftery, 2007) of the logarithm of the change; it punishes wide ranges and "
    "misses, so the smaller the better. Plain rule: the mean of the past ten years' changes, and "
    "0.67 or 1.28 standard deviations to either side."
)
CHECK_COLUMNS = (
    "Ahead", "Range", "Covered", "Score", "Plain rule covered", "Plain rule score", "Forecasts",
)  # fmt: skip
LEVELS = {"item": "Each food alone", "basket": "Random baskets of 3 to 12 foods, taken together"}


def outlook_heading(found: Outlook) -> str:
    """Return what is looked at, for which day, and what it costs today."""
    now = figure(found.now, found.complete, found.currency)
    return (
        f"Outlook for {_of(found)}, to {day_words(found.on)} ({counted(found.months, 'month')} "
        f"ahead); {now} per portion today"
    )


def _of(found: Outlook) -> str:
    if found.dish is None:
        return f"the mean of {counted(found.dishes, 'dish', 'dishes')}"
    return f"{found.dish}, version {found.version}"


def range_sentence(found: Outlook, each: Range) -> str:
    """Return what share of such forecasts ended within which amounts."""
    low, high = (figure(each_end, True, found.currency) for each_end in (each.low, each.high))
    least = "" if found.complete else "at least "
    return f"In {_SUCH[each.share]} such forecasts the cost ended within {least}{low} to {high}."


def reach_sentence(found: Outlook) -> str | None:
    """Return how likely the target is reached, never as certain; None: none was asked for."""
    if found.reach is None:
        return None
    amount = figure(found.reach.amount, True, found.currency)
    most = "at most " if not found.complete else ""
    return (
        f"The chance that a portion costs {amount} or less then: {most}about "
        f"{percent(found.reach.chance)}."
    )


def learned_sentence(found: Outlook) -> str:
    """Return what the ranges were learned from."""
    held = listed([str(each.held) for each in found.ranges])
    return (
        f"Learned from {counted(found.forecasts, 'forecast')} of past months, made by the same "
        f"rule from what its foods had done together by then: these ranges would have held {held} "
        f"of them. The middle is the mean change since {month_words(found.history_from)}; official "
        f"values to {month_words(found.history_to)}."
    )


def leaning_sentences(found: Outlook) -> list[str]:
    """Return which ingredients lean on a wider series than their own, or on none."""
    wider = [words for each in found.series if (words := _wider_words(each)) is not None]
    none = [each.ingredient for each in found.series if each.series is None]
    if none:
        wider.append(
            f"{listed(none)}: no official series reaches the present, so taken to move as the rest"
        )
    return wider


def _wider_words(each: LeansOn) -> str | None:
    if each.series is None:
        return None
    if each.named is None:
        return f"{each.ingredient}: names no series, so leans on {each.title or each.series}"
    lent = lent_words(each)
    if lent is None:
        return None
    short = f"{each.ingredient}: its own series is short, has gaps or has ended"
    return f"{short}; there it leans on {lent}"


def lent_words(each: LeansOn) -> str | None:
    """Return the wider series for the changes that its own lacks, and how many; None: it has all.

    None, too, where it names no series of its own.
    """
    lent = [rung for rung in each.rungs if rung.series != each.named]
    if not lent or each.named is None:
        return None
    whole = sum(rung.changes for rung in each.rungs)
    return listed([f"{rung.title or rung.series} ({rung.changes} of {whole})" for rung in lent])


def series_words(each: LeansOn) -> str:
    """Return the series that moves an ingredient at present, and that it is not its own."""
    if each.series is None:
        return "none reaches the present, so taken to move as the rest"
    title = each.title or each.series
    if each.named is None:
        return f"{title} (it names none of its own)"
    return title if each.series == each.named else f"{title} (wider than its own)"


def missing_sentence(found: Outlook) -> str | None:
    """Return why the amounts are "at least"; None: they are whole."""
    if found.complete:
        return None
    what = "these dishes have lines" if found.dish is None else "these lines have"
    tail = " without a price" if found.dish is None else " no price"
    return f"At least, because {what}{tail}: {', '.join(found.missing)}."


def ranges_sentences(found: Outlook) -> list[str]:
    """Return the two ranges, the wider first, then the chance of a target, then what is missing."""
    told = [
        *(range_sentence(found, each) for each in reversed(found.ranges)),
        reach_sentence(found),
        missing_sentence(found),
    ]
    return [sentence for sentence in told if sentence is not None]


def outlook_sentences(found: Outlook) -> list[str]:
    """Return all there is to say, in order."""
    leaning = (f"{words}." for words in leaning_sentences(found))
    return [*ranges_sentences(found), learned_sentence(found), *leaning, CAUTION]


def outlook_line(found: Outlook) -> str:
    """Return the wider range and today's cost in one sentence.

    For a place where it is not the matter at hand.
    """
    widest = max(found.ranges, key=lambda each: each.share)
    low, high = (figure(each, True, found.currency) for each in (widest.low, widest.high))
    least = "" if found.complete else "at least "
    return (
        f"{counted(found.months, 'month').capitalize()} ahead, to {day_words(found.on)}: in "
        f"{_SUCH[widest.share]} such forecasts {_of(found)} ended within {least}{low} to {high} a "
        f"portion; it is {figure(found.now, found.complete, found.currency)} today. {CAUTION}"
    )


def check_heading(found: BackTest) -> str:
    """Return what the back-test is made of."""
    return (
        f"Forecasts from every month since {month_words(found.first_origin)}, each by what was "
        f"known then, held against official values to {month_words(found.last_month)}: "
        f"{found.item_count} foods, and {found.basket_count:,} random baskets of them."
    )


def check_cells(row: Horizon) -> list[str]:
    """Return the cells of CHECK_COLUMNS."""
    return [
        counted(row.months, "month"),
        percent(row.share),
        f"{100 * row.covered:.1f} %",
        f"{row.score:.3f}",
        f"{100 * row.plain_covered:.1f} %",
        f"{row.plain_score:.3f}",
        f"{row.forecasts:,}",
    ]
