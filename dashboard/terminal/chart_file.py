"""Draws a chart and writes it to a file: SVG, PNG, PDF, or a page that needs no network."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, cast

from dashboard.report.file import refuse_file, write_whole
from dashboard.words import caption as words
from dashboard.words.caption import Caption, source_words
from dashboard.words.states import AT_LEAST
from pricing.clock import today

if TYPE_CHECKING:
    import altair as alt

    from dashboard.charts.picture_file import Kind
    from pricing.book.connect import Book
    from pricing.change.drivers import Drivers
    from pricing.change.records import Comparison
    from pricing.contents.series import SeriesShown
    from pricing.dishes.drift import Drift
    from pricing.inflation.records import Inflation
    from pricing.season.season import Season

ENDINGS = dict.fromkeys((".svg", ".png", ".pdf", ".html"))


def refuse_format(path: Path) -> None:
    """Raise InputRefused unless the name ends in one of ENDINGS, in a folder that is there."""
    refuse_file(path, ENDINGS, force=True)


def write_chart(chart: alt.TopLevelMixin, path: Path, caption: Caption) -> None:
    """Write a chart to `path`, replacing a file of that name, or nothing. Raises InputRefused."""
    from dashboard.charts.picture_file import picture_file

    kind = cast("Kind", refuse_file(path, ENDINGS, force=True)[1:])
    write_whole(path, picture_file(chart, kind, caption))


def save_drift_chart(book: Book, found: Drift, path: Path) -> None:
    """Draw the dishes of `found`, with the printed figures of one dish. Raises InputRefused."""
    from dashboard.charts.drift_of_dish import drift_chart
    from dashboard.charts.drift_of_dishes import dishes_chart
    from dashboard.tables.dish import drift_frame, printed_frame, rebased_frame, version_changes
    from dashboard.tables.pictures import course_words
    from pricing.contents.printed import list_printed
    from pricing.contents.settings import book_settings

    points, settings = drift_frame(found), book_settings(book)
    source = source_words(today(), (settings.food_series, settings.all_items_series))
    if len(found.dishes) > 1:
        caption = Caption(
            title=f"Cost per portion of {len(found.dishes)} dishes", source=source,
            finds=f"On the 15th of each month, {points['month'].iloc[0]} to "
            f"{points['month'].iloc[-1]}, {found.currency} per portion.",
            reads="Hollow points: at least so much, since a price is missing."
            if (points["state"] == AT_LEAST).any() else "",
        )  # fmt: skip
        write_chart(dishes_chart(points, currency=found.currency), path, caption)
        return
    (dish,) = found.dishes
    figures = [each for each in list_printed(book) if each.dish == dish.dish]
    printed = printed_frame(figures, found.currency, today())
    if not printed.empty:
        months = printed["on"].dt.strftime("%Y-%m")
        printed = printed[months.between(dish.points[0].month, dish.points[-1].month)]
    chart = drift_chart(
        points, printed, rebased_frame((), found.currency), version_changes(points),
        currency=found.currency,
    )  # fmt: skip
    finds = course_words(points, "cost", "Cost per portion")
    write_chart(
        chart, path,
        Caption(title=f"What {dish.dish} cost over the years", finds=finds,
                reads=words.DRIFT_READS, source=source),
    )  # fmt: skip


def save_series_chart(found: SeriesShown, path: Path) -> None:
    """Draw a series. Raises InputRefused."""
    from dashboard.charts.index_series import series_chart
    from dashboard.tables.official_series import series_frame
    from dashboard.tables.pictures import course_words

    months = series_frame(found)
    said = months.rename(columns={"shown": "day"})
    said["shown"] = [f"{value:g}" for value in said["value"]]
    title = found.facts.title or found.facts.series
    write_chart(
        series_chart(months, title="", base=found.facts.base_label), path,
        Caption(title=f"Index of {title}", finds=course_words(said, "value", "Index"),
                source=source_words(today(), (found.facts.series,))),
    )  # fmt: skip


def save_inflation_chart(found: Inflation, path: Path) -> None:
    """Draw the kitchen's index beside the official ones. Raises InputRefused."""
    from dashboard.charts.inflation import inflation_chart
    from dashboard.tables.inflation import level_frame
    from dashboard.tables.pictures import levels_words
    from pricing.days import month_words

    base = month_words(found.from_month)
    write_chart(
        inflation_chart(level_frame(found), base=base), path,
        Caption(title="The kitchen's own index beside official food prices and all items",
                finds=levels_words(found), reads=words.INFLATION_READS,
                source=source_words(today(), (found.food_series, found.all_items_series))),
    )  # fmt: skip


def save_change_chart(found: Comparison, path: Path) -> None:
    """Draw the waterfall from then to now. Raises InputRefused."""
    from dashboard.charts.waterfall import waterfall_chart
    from dashboard.tables.then_and_now import waterfall_steps

    steps = waterfall_steps(found)
    write_chart(
        waterfall_chart(steps, currency=found.currency), path,
        Caption(title=f"What changed the cost of {found.dish}",
                finds="; ".join(steps["said"].iloc[[0, -1]]) + ".", reads=words.WATERFALL_READS,
                source=source_words(today(), (each.series for each in found.rebased))),
    )  # fmt: skip


def save_drivers_chart(found: Drivers, path: Path) -> None:
    """Draw what each ingredient added to the mean cost. Raises InputRefused."""
    from dashboard.charts.drivers import drivers_chart
    from dashboard.tables.drivers import driver_parts
    from dashboard.tables.pictures import largest_words
    from pricing.days import day_words

    parts = driver_parts(found)
    finds = f"From {day_words(found.then)} to {day_words(found.now)}. {largest_words(parts)}"
    write_chart(
        drivers_chart(parts, currency=found.currency), path,
        Caption(title="What each ingredient added to the mean cost per portion", finds=finds,
                reads=words.DRIVERS_READS,
                source=source_words(today(), (each.series for each in found.ingredients))),
    )  # fmt: skip


def save_season_chart(book: Book, found: Season, path: Path) -> None:
    """Draw the pattern of the year. Raises InputRefused."""
    from dashboard.charts.season import season_chart
    from dashboard.tables.season import month_rows
    from dashboard.words.season import cheap_months, rests_on, season_sentence
    from pricing.contents.settings import book_settings

    filled = f"{words.SEASON_READS} " if cheap_months(found) else ""
    series = () if found.source == "own" else (found.series or book_settings(book).food_series,)
    write_chart(
        season_chart(month_rows(found)), path,
        Caption(title=f"Season of {found.name}", finds=season_sentence(found),
                reads=f"{filled}{rests_on(found)}",
                source=source_words(today(), series)),
    )  # fmt: skip
