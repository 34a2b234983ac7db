"""The page of official series: what is loaded, who leans on it, one series in full, files."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import streamlit as st

from dashboard.charts.index_series import series_chart
from dashboard.tables import official_series as table
from dashboard.tables.official_series import series_frame
from dashboard.tables.pictures import course_words
from dashboard.views.address import Kept, words
from dashboard.views.book import TheBook
from dashboard.views.load_series import load_series
from dashboard.views.loaders import series_of, series_uses_of, shown_series_of
from dashboard.views.picture import show_picture
from dashboard.views.rows_table import show_rows
from dashboard.views.sentences import sentences
from dashboard.words.figures import counted
from dashboard.words.markdown import plain
from dashboard.words.series import all_names, summary_words, use_sentences
from pricing.contents.series import SeriesFacts, SeriesShown
from pricing.prices.series_use import NO_USE

MOST_ROWS = 12  # drawn without a scroll bar of the table's own
ROW_PIXELS = 36
RECENT_YEARS = 20  # of the chart, unless more are asked for
MOST_REVISED = 60  # months in the table
_RUNGS = """
- A **rung** is one official series. A narrow one follows one food, such as butter. The next rung is
  a group, such as fats and oils. Higher up come food at home, food, and all items.
- An old price moves by the narrowest rung that has **every month it needs**.
- If a narrow series begins too late, or has a hole of more than three months, the next rung up does
  the work. The line of the dish names the rung it used.
- **The higher the rung, the rougher the figure.** All items knows nothing of butter.
- Offices publish some weeks late. After its last month a series is **held** there: the price moves
  no further, and the line says so.
- If every rung ends too early, the one that reaches furthest is used, held at its last month.
- A month the office left out takes the month before it, and is marked.
"""


def fields(book: TheBook) -> dict[str, Kept]:
    """Return the series that is looked at."""
    return {"series": words(), "find_series": words()}


def show(book: TheBook) -> None:
    """Draw what is loaded, and the chooser of a file."""
    with sentences():
        _loaded(book, series_of(book.state))
    st.subheader("Load a file of an office", anchor=False, divider="gray")
    with sentences():
        load_series(book)


def _loaded(book: TheBook, all_series: Sequence[SeriesFacts]) -> None:
    if not all_series:
        st.info("The book holds no official series yet. Load a file of your country's office.")
        return
    uses = series_uses_of(book.state)
    st.markdown(plain(summary_words(all_series, uses, book.on)))
    if not uses:
        st.info(
            "No ingredient names a series yet. Find one below, and put its id into the column "
            "`series` of your ingredients file: then its old prices can be moved. For another "
            "country, load a file of its office, or fetch it: "
            "`portiondrift index fetch uk-ons food`.",
            icon=":material/info:",
        )
    find, only = st.columns([3, 2], vertical_alignment="bottom")
    text = find.text_input("Find a series", type="search", live=True, key="find_series") or ""
    only_used = only.toggle(
        "Only those that ingredients lean on", value=bool(uses), key="only_used", disabled=not uses
    )
    some = table.chosen(all_series, uses, text=text, only_used=only_used and bool(uses))
    if some:
        _table(book, some)
    else:
        st.info("No series passes these filters. Clear one of them.", icon=":material/info:")
    known = {each.series: each for each in all_series}
    if st.session_state.get("series") not in known:
        st.session_state["series"] = (some or all_series)[0].series
    series = st.selectbox(
        "Series to look at", list(known),
        format_func=lambda each: f"{known[each].title or each} ({each})",
        key="series",
    )  # fmt: skip
    _one(book, shown_series_of(book.state, series), known)


def _table(book: TheBook, some: Sequence[SeriesFacts]) -> None:
    ids = [each.series for each in some]

    def look_at() -> None:
        for row, _ in st.session_state["series_rows"]["selection"]["cells"]:
            st.session_state["series"] = ids[row]

    month, number = st.column_config.DateColumn, st.column_config.NumberColumn
    st.dataframe(
        table.series_rows(some, series_uses_of(book.state), book.on),
        key="series_rows",
        hide_index=True,
        height="content" if len(some) <= MOST_ROWS else (MOST_ROWS + 1) * ROW_PIXELS,
        placeholder="—",
        column_config={
            table.TITLE: st.column_config.TextColumn(width=260),
            table.ID: st.column_config.TextColumn(width=120),
            table.LAST: month(format="MMM YYYY", width=90),
            table.AGE: number(width=84, help="From its last month to this one"),
            table.NAMED: number(width=76, help="Ingredients that name this series"),
            table.CLIMBING: number(
                width=82, help="Ingredients of narrower series, whose ladder leads here"
            ),
            table.HELD: number(
                width=60, help="Old prices that stand today at the last month of this series"
            ),
            table.REVISED: number(width=70, help="Months of which two releases differ"),
            table.FIRST: month(format="MMM YYYY", width=90),
        },
        on_select=look_at,
        selection_mode="single-cell",
        alt="Official series of the book",
    )
    st.caption(plain(f"{counted(len(some), 'series', 'series')}. Click one to look at it below."))


def _one(book: TheBook, found: SeriesShown, known: Mapping[str, SeriesFacts]) -> None:
    facts, uses = found.facts, series_uses_of(book.state)
    title = facts.title or facts.series
    st.subheader(title, anchor=False)
    for sentence in use_sentences(uses.get(facts.series, NO_USE), facts, book.on):
        st.markdown(plain(sentence))
    if everyone := all_names(uses.get(facts.series, NO_USE)):
        with st.expander("All of them"):
            st.markdown(plain(everyone))
    _chart(found, title)
    show_rows(
        table.fact_rows(found, book.on),
        alt=f"What {title} is",
    )  # fmt: skip
    with st.expander("Its ladder, and what a rung means", expanded=True):
        st.markdown("\n".join(table.ladder_lines(found, known, uses)))
        st.markdown(_RUNGS)
    rows = table.revised_rows(found)
    if rows.empty:
        st.caption("No month of it was revised: the book holds one value a month.")
        return
    st.subheader(f"{counted(len(rows), 'month')} revised", anchor=False)
    show_rows(
        rows.head(MOST_REVISED),
        alt=f"Revised months of {title}",
    )  # fmt: skip


def _chart(found: SeriesShown, title: str) -> None:
    if not found.months:
        return
    months = series_frame(found)
    first, last = (months["month"].iloc[at].year for at in (0, -1))
    if first < last:
        start, end = st.slider(
            "Years", first, last, (max(first, last - RECENT_YEARS), last),
            key=f"years of {found.facts.series}",
        )  # fmt: skip
        months = months[months["month"].dt.year.between(start, end)]
    if months.empty:
        st.info("No value in these years. Widen the years.", icon=":material/info:")
        return
    base = found.facts.base_label
    said = months.rename(columns={"shown": "day"})
    said["shown"] = [f"{value:g}" for value in said["value"]]
    show_picture(
        lambda dark: series_chart(months, title="", base=base, dark=dark),
        name=f"Index of {title}",
        finds=course_words(said, "value", "Index"),
        data=said,
        columns={"day": "Month", "shown": f"Index, {base or 'reference period not stated'}"},
        key="index",
    )
    st.caption(
        plain(
            "Only ratios between two months count; levels of two series are never compared. Point "
            "at the line for a month's value."
        )
    )
