"""Draws a chart and writes it to a file: SVG, PNG, or a page that needs no network."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from pricing.errors import InputRefused

if TYPE_CHECKING:
    import altair as alt

    from pricing.contents.series import SeriesShown
    from pricing.dishes.drift import Drift

FORMATS: dict[str, tuple[Literal["svg", "png", "html"], dict[str, Any]]] = {
    ".svg": ("svg", {}),
    ".png": ("png", {"scale_factor": 2.0}),
    ".html": ("html", {"inline": True}),  # so that the page needs no network
}
_WIDTH = 760


def refuse_format(path: Path) -> None:
    """Raise InputRefused unless the name of the file ends in .svg, .png or .html."""
    if path.suffix.lower() not in FORMATS:
        raise InputRefused(
            f"Found the chart file '{path.name}'; expected a name that ends in .svg, .png or "
            ".html. Correct the ending."
        )
    if not path.parent.is_dir():
        raise InputRefused(
            f"Found no folder {path.parent} for the chart file; expected one that is there. "
            "Make the folder, or name another."
        )


def save_drift_chart(found: Drift, path: Path) -> None:
    """Draw the dishes of `found` and write the chart to `path`, replacing a file of that name.

    Raises InputRefused when the format is unknown or the file cannot be written.
    """
    refuse_format(path)
    # here, so that a wrong ending is refused before the drawing libraries are read
    from dashboard.charts.drift_of_dish import drift_chart
    from dashboard.charts.drift_of_dishes import dishes_chart
    from dashboard.tables.dish import drift_frame, printed_frame, rebased_frame, version_changes

    points = drift_frame(found)
    if len(found.dishes) == 1:
        nothing = printed_frame((), found.currency, date.max), rebased_frame((), found.currency)
        one = drift_chart(points, *nothing, version_changes(points), currency=found.currency)
        write_chart(one.properties(width=_WIDTH, title=found.dishes[0].dish), path)
        return
    several = dishes_chart(points, currency=found.currency)
    many = "facet" in several.to_dict()  # small charts, which have a width of their own
    write_chart(several if many else several.properties(width=_WIDTH), path)


def write_chart(chart: alt.TopLevelMixin, path: Path) -> None:
    """Write a chart to `path`, replacing a file of that name. Raises InputRefused."""
    refuse_format(path)
    kind, more = FORMATS[path.suffix.lower()]
    try:
        chart.properties(background="white").save(str(path), format=kind, **more)
    except OSError as error:
        raise InputRefused(
            f"Cannot write the chart {path}: {error.strerror or error}. "
            "Choose a folder that you may write to."
        ) from error


def save_series_chart(found: SeriesShown, path: Path) -> None:
    """Draw a series and write the chart to `path`. Raises InputRefused."""
    from dashboard.charts.index_series import series_chart
    from dashboard.tables.official_series import series_frame

    title = found.facts.title or found.facts.series
    chart = series_chart(series_frame(found), title=title, base=found.facts.base_label)
    write_chart(chart.properties(width=_WIDTH), path)
