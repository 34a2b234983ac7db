"""What is wrong with a file, in a word: for whoever decides by it or words the remedy itself.

Only such problems and remarks have a code. Each remedy that names an option of the terminal has
one, so that a page can name its own field instead.
"""

from __future__ import annotations

from enum import StrEnum


class Code(StrEnum):
    """The codes of problems and remarks."""

    UNUSUAL_PRICE = "unusual-price"  # far from what the book expects: accept_unusual takes it
    FACT_DIFFERS = "fact-differs"  # from the book's: replace changes it
    RECIPE_DIFFERS = "recipe-differs"  # from the book's version of that label: replace changes it
    VALUE_DIFFERS = "value-differs"  # from the book's for that release: replace changes it
    DISH_UNWEIGHED = "dish-unweighed"  # replace loads that dish again, with its batch weight
    MANY_SERIES = "many-series"  # a file with too many to take all: those wanted must be named
    SERIES_UNNAMED = "series-unnamed"  # the file does not say which it holds; `series` might be it
    NO_VALUE = "no-value"  # the office has none of `series` in the years asked for
    UNKNOWN_LAYOUT = "unknown-layout"  # no reader of office files knows the text
    ASKED = "asked"  # what a table does not say: answers, by the name of each question
    NO_LINE = "no-line"  # of a table can be read as its columns are taken: tell what they are
    SERIES_LEFT_OUT = "series-left-out"  # remark: so many beside the food ladder; name those wanted
